import { describe, expect, it } from "vitest";
import type { TaxonFilter } from "../../src/metrics/filter.ts";
import { findMetric } from "../../src/metrics/registry.ts";
import type { CompiledAttribute } from "../../src/model/attribute-lookup.ts";
import { valueAsNumber } from "../../src/model/metric-value.ts";
import { attributeOf, attributesOf, communityOf, ready } from "../helpers/metrics/build.ts";

const ATTRIBUTES = attributesOf({
  tolerance: {
    Ephemeroptera: "3.6",
    Baetidae: "4.5",
    "Baetis tricaudatus": "2.10",
    Physa: "8",
    Sweltsa: "0",
  },
  feeding_group: { Baetis: "collector-gatherer", Physa: "scraper", Sweltsa: "predator" },
  feeding_group_secondary: { Baetis: "scraper" },
  habit: { Baetis: "swimmer", Sweltsa: "clinger" },
  habit_secondary: { Baetis: "sprawler" },
  origin: { "Corbicula fluminea": "invasive" },
});

const SHEET = communityOf([
  ["Acentrella", 1],
  ["Baetidae", 2],
  ["Baetis", 4],
  ["Baetis tricaudatus", 8],
  ["Chironomidae", 16],
  ["Corbicula fluminea", 32],
  ["Epeorus", 64],
  ["Physa", 128],
  ["Sweltsa", 256],
]);

/** The counts are powers of two, so the number of animals tells which rows passed. */
function passing(filter: TaxonFilter, attributes = ATTRIBUTES): string[] {
  const entry = findMetric("individuals");
  if (entry === undefined) throw new Error("no metric");
  const sum = valueAsNumber(ready(entry, filter, attributes).evaluate(SHEET, {})) ?? Number.NaN;
  const rows = [
    "Acentrella",
    "Baetidae",
    "Baetis",
    "B. tricaudatus",
    "Chironomidae",
    "Corbicula",
    "Epeorus",
    "Physa",
    "Sweltsa",
  ];
  return rows.filter((_row, i) => (sum & (1 << i)) !== 0);
}

describe("a filter", () => {
  it.each<[string, TaxonFilter, string[]]>([
    ["taxa and what lies below", { within: ["Baetis"] }, ["Baetis", "B. tricaudatus"]],
    [
      "the union of several taxa",
      { within: ["Baetis", "Mollusca"] },
      ["Baetis", "B. tricaudatus", "Corbicula", "Physa"],
    ],
    ["all but some taxa", { within: ["Ephemeroptera"], except: ["Baetidae"] }, ["Epeorus"]],
    [
      "a value up to a limit, itself included",
      { tolerance_at_most: 3.6 },
      ["B. tricaudatus", "Epeorus", "Sweltsa"],
    ],
    ["a value below a limit", { tolerance_below: 3.6 }, ["B. tricaudatus", "Sweltsa"]],
    ["a value from a limit", { tolerance_at_least: 4.5 }, ["Acentrella", "Baetidae", "Baetis", "Physa"]],
    ["a value above a limit", { tolerance_above: 4.5 }, ["Physa"]],
    ["a band of values", { tolerance_above: 2.1, tolerance_below: 4.5 }, ["Epeorus"]],
    ["a value of zero, which is a value", { tolerance_at_most: 0 }, ["Sweltsa"]],
    ["a feeding group", { feeding_group: ["scraper"] }, ["Physa"]],
    [
      "a feeding group, the second one too",
      { feeding_group: ["scraper"], with_secondary: true },
      ["Baetis", "B. tricaudatus", "Physa"],
    ],
    [
      "a second group, within one of several filters",
      { any_of: [{ within: ["Sialis"] }, { feeding_group: ["scraper"], with_secondary: true }] },
      ["Baetis", "B. tricaudatus", "Physa"],
    ],
    [
      "a second group for all of several filters",
      { with_secondary: true, any_of: [{ within: ["Sialis"] }, { feeding_group: ["scraper"] }] },
      ["Baetis", "B. tricaudatus", "Physa"],
    ],
    [
      "a first group only in one of several filters",
      { any_of: [{ within: ["Sialis"] }, { feeding_group: ["scraper"] }] },
      ["Physa"],
    ],
    ["a second habit", { habit: ["sprawler"], with_secondary: true }, ["Baetis", "B. tricaudatus"]],
    ["one of several groups", { feeding_group: ["scraper", "predator"] }, ["Physa", "Sweltsa"]],
    ["a habit", { habit: ["swimmer"] }, ["Baetis", "B. tricaudatus"]],
    ["an origin", { origin: ["invasive"] }, ["Corbicula"]],
    ["having a value", { has_value: ["habit"] }, ["Baetis", "B. tricaudatus", "Sweltsa"]],
    [
      "being identified to genus or finer",
      { identified_to: "genus" },
      ["Acentrella", "Baetis", "B. tricaudatus", "Corbicula", "Epeorus", "Physa", "Sweltsa"],
    ],
    [
      "passing one of several filters",
      { any_of: [{ within: ["Mollusca"] }, { habit: ["clinger"] }] },
      ["Corbicula", "Physa", "Sweltsa"],
    ],
    [
      "both, a filter and one of several",
      { within: ["Mollusca"], any_of: [{ feeding_group: ["scraper"] }, { habit: ["clinger"] }] },
      ["Physa"],
    ],
    [
      "nothing at all",
      {},
      [
        "Acentrella",
        "Baetidae",
        "Baetis",
        "B. tricaudatus",
        "Chironomidae",
        "Corbicula",
        "Epeorus",
        "Physa",
        "Sweltsa",
      ],
    ],
  ])("asks for %s", (_what, filter, expected) => {
    expect(passing(filter)).toEqual(expected);
  });

  it("compares limits exactly: 2.1 is the 2.10 of the table, whatever floating point makes of it", () => {
    expect(passing({ tolerance_at_most: 2.1 })).toContain("B. tricaudatus");
    expect(passing({ tolerance_below: 2.1 })).not.toContain("B. tricaudatus");
    // 0.1 + 0.2 is not 0.3 in floating point, and its decimal text says so.
    const tenths = attributesOf({ tolerance: { Physa: "0.3" } });
    expect(passing({ tolerance_at_least: 0.3 }, tenths)).toEqual(["Physa"]);
  });
});

describe("a filter of a metric of scores by class of abundance", () => {
  it.each<[string, Record<string, unknown>, number]>([
    // Sweltsa has 256 animals and the score 0, Physa 128 and 8, both in the class from 100 on.
    ["sqmci", { within: ["Plecoptera", "Mollusca"] }, 4],
    ["sqmci", { within: "Mollusca" }, 8],
    [
      "sum_of_abundance_class_scores",
      { within: "Mollusca", class_starts: [1], scores: { Physa: [3], Sweltsa: [5] } },
      3,
    ],
  ])("is kept by %s with %j", (metric, settings, expected) => {
    const entry = findMetric(metric);
    if (entry === undefined) throw new Error("no metric");
    expect(valueAsNumber(ready(entry, settings, ATTRIBUTES).evaluate(SHEET, {}))).toBe(expected);
  });
});

describe("the sides of a tolerance limit", () => {
  const value = (
    metric: string,
    settings: Record<string, unknown>,
    direction: CompiledAttribute["scheme"]["direction"],
  ) => {
    const entry = findMetric(metric);
    if (entry === undefined) throw new Error("no metric");
    const scores = { Physa: "2", Sweltsa: "10", Epeorus: "6" };
    const attributes = new Map([
      ["tolerance" as const, attributeOf("tolerance", scores, undefined, direction)],
    ]);
    return valueAsNumber(ready(entry, settings, attributes).evaluate(SHEET, {}));
  };

  it("follow the direction of the scheme", () => {
    expect(value("intolerant_richness", { limit: 6 }, "higher-is-tolerant")).toBe(2);
    expect(value("intolerant_richness", { limit: 6, limit_included: false }, "higher-is-tolerant")).toBe(1);
    expect(value("tolerant_richness", { limit: 10 }, "higher-is-tolerant")).toBe(1);
    expect(value("intolerant_richness", { limit: 10 }, "higher-is-sensitive")).toBe(1);
    expect(value("intolerant_richness", { limit: 6, limit_included: false }, "higher-is-sensitive")).toBe(1);
    expect(value("tolerant_richness", { limit: 6 }, "higher-is-sensitive")).toBe(2);
    expect(value("tolerant_richness", { limit: 6, limit_included: false }, "higher-is-sensitive")).toBe(1);
  });

  it("are those of a tolerance list where no direction is told", () => {
    expect(value("intolerant_richness", { limit: 2 }, "")).toBe(1);
  });
});
