import { describe, expect, it } from "vitest";
import { setDefinitionSchema } from "../../src/model/reference-set.ts";
import { effectivePolicy, lineage, readText, rowsOf, schemes, sources } from "./tables.ts";

const set = setDefinitionSchema.parse(JSON.parse(readText("sets/hilsenhoff-family-1988/set.json")));

/** The classes that hold a value, by the limits as they are written. */
function classesOf(value: number): string[] {
  return set.ratings.classes
    .filter(({ lower, lower_included, upper, upper_included }) => {
      const above = lower === undefined || value > lower || (lower_included === true && value === lower);
      const below = upper === undefined || value < upper || (upper_included === true && value === upper);
      return above && below;
    })
    .map((rating) => rating.rating);
}

describe("the set hilsenhoff-family-1988", () => {
  it("says that it rests on memory and leans on known sources and the family list", () => {
    const known = new Set(sources.map((source) => source.source_id));
    expect(set.id).toBe("hilsenhoff-family-1988");
    expect(set.verification).toBe("memory");
    expect(set.sources.filter((id) => !known.has(id))).toEqual([]);
    expect(set.attributes.tolerance).toEqual({ scheme: "hilsenhoff-1988-family" });
    expect(schemes.some((scheme) => scheme.scheme === "hilsenhoff-1988-family")).toBe(true);
    expect(set.level.rank).toBe("family");
  });

  it("flags fewer than 100 arthropods and draws nothing", () => {
    // Hilsenhoff 1988: samples of 100 or more arthropods (read in pages that quote the paper).
    expect(set.count_rule).toEqual({ target: null, draw_above: "target", least: 100, below_least: "flag" });
  });

  it("is the mean tolerance, to two decimals, with high values bad", () => {
    expect(set.index.method).toBe("metric");
    expect(set.index.metric).toBe("family_biotic_index");
    expect(set.metrics.map((metric) => [metric.id, metric.metric])).toEqual([
      ["family_biotic_index", "tolerance_index"],
    ]);
    expect([set.index.round_to, set.index.higher_is, set.ratings.on]).toEqual([2, "worse", "rounded"]);
  });

  // Hilsenhoff 1988, table of water quality classes: limits to 7.25 read in pages that quote it, 7.26 and 10.00
  // from memory. Each class at its printed ends.
  it.each([
    ["excellent", 0, 3.75],
    ["very good", 3.76, 4.25],
    ["good", 4.26, 5.0],
    ["fair", 5.01, 5.75],
    ["fairly poor", 5.76, 6.5],
    ["poor", 6.51, 7.25],
    ["very poor", 7.26, 10.0],
  ])("rates %s from %f to %f", (rating, lowest, highest) => {
    expect(classesOf(lowest)).toEqual([rating]);
    expect(classesOf(highest)).toEqual([rating]);
  });

  it("gives every value of two decimals from 0 to 10 exactly one class", () => {
    const faults = Array.from({ length: 1001 }, (_, hundredths) => hundredths / 100).filter(
      (value) => classesOf(value).length !== 1,
    );
    expect(faults).toEqual([]);
    expect(classesOf(10.01)).toEqual([]);
  });

  it("leaves out every phylum of animals that count but are no arthropods, and no family of the list", () => {
    const excluded = set.count_policy.map((row) => row.taxon);
    expect(set.count_policy.every((row) => row.policy === "exclude")).toBe(true);
    expect(excluded.every((taxon) => effectivePolicy(taxon).policy === "count")).toBe(true);
    expect(
      rowsOf("hilsenhoff-1988-family").filter((row) => !lineage(row.taxon).includes("Arthropoda")),
    ).toEqual([]);
    const phyla = ["Cnidaria", "Platyhelminthes", "Nemertea", "Nematomorpha", "Annelida", "Mollusca"];
    expect(excluded).toEqual(phyla);
  });
});
