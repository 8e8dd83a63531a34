import { describe, expect, it } from "vitest";
import type { PublishedRow } from "../../helpers/published-table.ts";
import { probesOf } from "../../helpers/published-table.ts";
import { scorePlain, shippedSet } from "../../helpers/sets.ts";

// Scoring tables of the Puget Sound lowland index, all intervals seen: SalmonWeb, University of Washington,
// http://www.cbr.washington.edu/salmonweb/bibi/ibi_genus_scoring.html (1999) and ibi_speciesfamily_scoring.html,
// after Karr and Chu 1999. "[" and "]" are included, "(" and ")" are not, as printed.
const GENUS: Record<string, readonly PublishedRow[]> = {
  total_taxa: [
    ["[0,14)", 1],
    ["[14,28]", 3],
    ["(28,)", 5],
  ],
  ephemeroptera_taxa: [
    ["[0,3.5)", 1],
    ["[3.5,7]", 3],
    ["(7,)", 5],
  ],
  plecoptera_taxa: [
    ["[0,2.7)", 1],
    ["[2.7,5.3]", 3],
    ["(5.3,)", 5],
  ],
  trichoptera_taxa: [
    ["[0,2.7)", 1],
    ["[2.7,5.3]", 3],
    ["(5.3,)", 5],
  ],
  long_lived_taxa: [
    ["[0,4)", 1],
    ["[4,8]", 3],
    ["(8,)", 5],
  ],
  intolerant_taxa: [
    ["[0,2)", 1],
    ["[2,4]", 3],
    ["(4,)", 5],
  ],
  percent_tolerant: [
    ["(44,)", 1],
    ["[27,44]", 3],
    ["[0,27)", 5],
  ],
  percent_predators: [
    ["[0,4.5)", 1],
    ["[4.5,9]", 3],
    ["(9,)", 5],
  ],
  clinger_taxa: [
    ["[0,8)", 1],
    ["[8,16]", 3],
    ["(16,)", 5],
  ],
  percent_dominant_three: [
    ["(75,)", 1],
    ["[55,75)", 3],
    ["[0,55)", 5],
  ],
};
const SPECIES: Record<string, readonly PublishedRow[]> = {
  total_taxa: [
    ["[0,15)", 1],
    ["[15,28]", 3],
    ["(28,)", 5],
  ],
  ephemeroptera_taxa: [
    ["[0,4]", 1],
    ["(4,8]", 3],
    ["(8,)", 5],
  ],
  plecoptera_taxa: [
    ["[0,3]", 1],
    ["(3,7]", 3],
    ["(7,)", 5],
  ],
  trichoptera_taxa: [
    ["[0,5)", 1],
    ["[5,10)", 3],
    ["(10,)", 5],
  ],
  long_lived_taxa: [
    ["[0,2]", 1],
    ["(2,4]", 3],
    ["(4,)", 5],
  ],
  intolerant_taxa: [
    ["[0,2]", 1],
    ["(2,3]", 3],
    ["(3,)", 5],
  ],
  percent_tolerant: [
    ["(50,)", 1],
    ["(19,50)", 3],
    ["[0,19]", 5],
  ],
  percent_predators: [
    ["[0,10)", 1],
    ["[10,20)", 3],
    ["(20,)", 5],
  ],
  clinger_taxa: [
    ["[0,8]", 1],
    ["(8,18]", 3],
    ["(18,)", 5],
  ],
  percent_dominant_three: [
    ["(80,)", 1],
    ["[60,80)", 3],
    ["[0,60)", 5],
  ],
};
const SETS = [
  ["puget-lowland-genus-1999", GENUS, [["percent_dominant_three", "75.000000"]]],
  [
    "puget-lowland-species-family",
    SPECIES,
    [
      ["trichoptera_taxa", "10.000000"],
      ["percent_tolerant", "50.000000"],
      ["percent_predators", "20.000000"],
      ["percent_dominant_three", "80.000000"],
    ],
  ],
] as const;

describe.each(SETS)("%s", (id, tables, gaps) => {
  it("has exactly these metrics", async () => {
    const set = await shippedSet(id);
    expect(set.definition.metrics.map((use) => use.id)).toEqual(Object.keys(tables));
    expect([...set.segments.keys()]).toEqual(Object.keys(tables));
  });

  it.each(Object.entries(tables))(
    "scores %s just below, at and just above each limit",
    async (metric, table) => {
      const set = await shippedSet(id);
      const found = probesOf(table).map(({ value }) => [
        value,
        scorePlain(set, { [metric]: value }).scores[metric],
      ]);
      // A value that no printed interval holds takes the middle score, 3, by the set's own stated rule.
      const expected = probesOf(table).map(({ value, expected: score }) => [value, score ?? 3]);
      expect(found).toEqual(expected);
    },
  );

  it("meets the gaps of the published table and no others, and says so with the score", async () => {
    const set = await shippedSet(id);
    const inGap = Object.entries(tables).flatMap(([metric, table]) =>
      probesOf(table).flatMap(({ value, expected: score }) => (score === undefined ? [[metric, value]] : [])),
    );
    expect(inGap).toEqual(gaps);
    for (const [metric, value] of gaps) {
      const { findings } = scorePlain(set, { [metric]: value });
      const ties = findings.filter((one) => one.code === "tie-rule");
      expect(ties.map(({ severity, message }) => [severity, message])).toEqual([
        [
          "note",
          `${metric} ${Number(value)} of S belongs to no class as published; it takes the score nearest to the middle of the scores: 3`,
        ],
      ]);
    }
  });

  it("adds ten scores up, from 10 to 50, and gives no index when one is missing", async () => {
    const set = await shippedSet(id);
    const best = Object.fromEntries(
      Object.keys(tables).map((metric) => [metric, /tolerant$|dominant/.test(metric) ? "0" : "100"]),
    );
    const worst = Object.fromEntries(
      Object.keys(tables).map((metric) => [metric, /percent_tolerant|dominant/.test(metric) ? "100" : "0"]),
    );
    expect(scorePlain(set, { ...best, intolerant_taxa: "100" }).index).toBe(50);
    expect(scorePlain(set, worst).index).toBe(10);
    const { total_taxa: _, ...without } = best;
    const missing = scorePlain(set, without);
    expect([missing.index, missing.rating]).toEqual([undefined, ""]);
  });

  // Narrative classes: from memory (Karr and Chu 1999, not opened).
  it.each([
    [50, "excellent"],
    [46, "excellent"],
    [44, "good"],
    [38, "good"],
    [36, "fair"],
    [28, "fair"],
    [26, "poor"],
    [18, "poor"],
    [16, "very poor"],
    [10, "very poor"],
  ])("rates %i as %s", async (sum, rating) => {
    const set = await shippedSet(id);
    // `fives` metrics at their best, the others at their worst, one in the middle where the sum asks for it.
    const metrics = Object.keys(tables);
    const fives = Math.floor((sum - 10) / 4);
    const middle = (sum - 10) % 4 === 2;
    const values = metrics.map((metric, at) => {
      const wanted = at < fives ? 5 : at === fives && middle ? 3 : 1;
      const table: readonly PublishedRow[] = tables[metric as keyof typeof tables] ?? [];
      const found = probesOf(table).find((probe) => probe.expected === wanted);
      return [metric, found?.value ?? ""] as const;
    });
    const { index, rating: found } = scorePlain(set, Object.fromEntries(values));
    expect([index, found]).toEqual([sum, rating]);
  });

  it("refuses counts without the method's own lists and says which they are", async () => {
    const set = await shippedSet(id);
    expect([...set.attributesNotHeld.keys()]).toEqual(["tolerance", "feeding_group", "habit", "life_cycle"]);
  });
});
