import { describe, expect, it } from "vitest";
import { findMetric } from "../../src/metrics/registry.ts";
import { attributesOf, communityOf, EMPTY, ready, type SheetEntry } from "../helpers/metrics/build.ts";

const ATTRIBUTES = attributesOf({
  tolerance: { Acentrella: "4", Baetis: "6.5", Physa: "8", Sweltsa: "1", Simulium: "5" },
});

const SHEET: SheetEntry[] = [
  ["Acentrella", 1],
  ["Baetidae", 1, 0],
  ["Baetis", 2],
  ["Chironomus", 2],
  ["Corydalus", 0],
  ["Epeorus", 1],
  ["Physa", 3],
  ["Simulium", 2],
  ["Sweltsa", 1],
];

function rare(metric: string, settings = {}, sheet: readonly SheetEntry[] = SHEET) {
  const entry = findMetric(metric);
  if (entry === undefined) throw new Error(`no metric ${metric}`);
  return ready(entry, settings, ATTRIBUTES).rareTaxa?.(communityOf(sheet));
}

describe("the taxa met once and twice of those that a metric counts", () => {
  it("are those of its filter, without parents that add no taxon", () => {
    expect(rare("taxa_richness")).toEqual({ once: 3, twice: 3, each: 1 });
    expect(rare("ept_richness")).toEqual({ once: 3, twice: 1, each: 1 });
    expect(rare("taxa_richness", { within: "Mollusca" })).toEqual({ once: 0, twice: 0, each: 1 });
    expect(rare("taxa_richness", {}, [])).toEqual({ once: 0, twice: 0, each: 1 });
  });

  it("are groups where taxa are put together: the animals of a group are counted as one", () => {
    // Acentrella 1 and Baetis 2 are three animals of Baetidae; Epeorus and Sweltsa stand alone in their families.
    expect(rare("taxa_richness", { grouped_at: "family" })).toEqual({ once: 2, twice: 2, each: 1 });
    // Ephemeroptera 1 + 2 + 1, Diptera 2 + 2, Plecoptera 1.
    expect(rare("taxa_richness", { grouped_at: "order" })).toMatchObject({ once: 1, twice: 0 });
  });

  it("bring the mean of their scores, whatever commoner taxa bring", () => {
    // Met once with a score: Acentrella 4 and Sweltsa 1; twice: Baetis and Simulium.
    expect(rare("sum_of_scores")).toEqual({ once: 2, twice: 2, each: 2.5 });
    expect(rare("number_of_scoring_taxa")).toEqual({ once: 2, twice: 2, each: 1 });
    expect(rare("sum_of_scores", { within: "Plecoptera" })).toEqual({ once: 1, twice: 0, each: 1 });
  });

  it("bring what all taxa bring on average where none was met once, and nothing where none scores", () => {
    expect(
      rare("sum_of_scores", {}, [
        ["Baetidae", 1, 0],
        ["Baetis", 2],
        ["Physa", 3],
      ]),
    ).toEqual({ once: 0, twice: 1, each: 7.25 });
    expect(rare("sum_of_scores", {}, [["Chironomus", 1]])).toEqual({ once: 0, twice: 0, each: 0 });
    expect(rare("sum_of_scores", {}, [])).toEqual({ once: 0, twice: 0, each: 0 });
  });

  it("bring points by their class", () => {
    const classes = [
      { points: 3, within: "Plecoptera" },
      { points: 1, within: "Ephemeroptera" },
    ];
    expect(rare("taxa_points", { classes })).toEqual({ once: 3, twice: 1, each: 5 / 3 });
    expect(rare("taxa_points", { classes }, [["Physa", 1]])).toEqual({ once: 0, twice: 0, each: 0 });
  });

  it("are not asked of shares and averages, which do not grow with the number of taxa", () => {
    for (const metric of [
      "percent_ept",
      "tolerance_index",
      "average_score_per_taxon",
      "shannon_diversity_e",
    ]) {
      const entry = findMetric(metric);
      if (entry === undefined) throw new Error(`no metric ${metric}`);
      expect(ready(entry, {}, ATTRIBUTES).rareTaxa?.(EMPTY), metric).toBe(undefined);
    }
  });
});
