import { describe, expect, it } from "vitest";
import type { PlainScore } from "../../helpers/sets.ts";
import { scorePlain, shippedSet } from "../../helpers/sets.ts";

/** A metric that falls with stress is 100 x value / standard; one that rises 100 x (top - value) / (top - standard). */
interface Formula {
  readonly standard: number;
  /** The value at which a metric that rises scores 0; undefined for one that falls. */
  readonly top?: number;
}

function published({ standard, top }: Formula, value: number): number {
  const raw = top === undefined ? (100 * value) / standard : (100 * (top - value)) / (top - standard);
  return Math.min(100, Math.max(0, raw));
}

// All standards from memory (the reports were not open): Gerritsen, Burton and Barbour 2000 for West Virginia,
// Burton and Gerritsen 2003 for Virginia (ceilings 69.2 and 6.8 are 100 - 30.8 and 10 - 3.2), Chalfant 2012 for
// Pennsylvania. Written out here from the notes on the formulas, not from the sets' tables.
const INDICES: readonly (readonly [
  set: string,
  stratum: string,
  formulas: Readonly<Record<string, Formula>>,
])[] = [
  [
    "west-virginia-family-2000",
    "all",
    {
      total_families: { standard: 21 },
      ept_families: { standard: 13 },
      percent_ept: { standard: 91.9 },
      percent_chironomidae: { standard: 0.98, top: 100 },
      percent_two_dominant: { standard: 36, top: 100 },
      family_biotic_index: { standard: 2.9, top: 10 },
    },
  ],
  [
    "virginia-family-2003",
    "all",
    {
      total_families: { standard: 22 },
      ept_families: { standard: 11 },
      percent_ephemeroptera: { standard: 61.3 },
      percent_pt_without_hydropsychidae: { standard: 35.6 },
      percent_scrapers: { standard: 51.6 },
      percent_chironomidae: { standard: 0, top: 100 },
      percent_two_dominant: { standard: 30.8, top: 100 },
      family_biotic_index: { standard: 3.2, top: 10 },
    },
  ],
  [
    "pennsylvania-freestone-2012",
    "small",
    {
      total_taxa: { standard: 33 },
      sensitive_ept_taxa: { standard: 19 },
      becks_index_3: { standard: 38 },
      hilsenhoff_index: { standard: 1.89, top: 10 },
      shannon_diversity: { standard: 2.86 },
      percent_sensitive: { standard: 84.5 },
    },
  ],
  [
    "pennsylvania-freestone-2012",
    "larger",
    {
      total_taxa: { standard: 31 },
      sensitive_ept_taxa: { standard: 16 },
      becks_index_3: { standard: 22 },
      hilsenhoff_index: { standard: 3.05, top: 10 },
      shannon_diversity: { standard: 2.86 },
      percent_sensitive: { standard: 66.7 },
    },
  ],
];

describe.each(INDICES)("%s (%s)", (id, stratum, formulas) => {
  it("has exactly these metrics", async () => {
    const set = await shippedSet(id);
    expect(set.definition.metrics.map((use) => use.id)).toEqual(Object.keys(formulas));
  });

  it.each(Object.entries(formulas))(
    "scores %s along its line, clipped at both ends",
    async (metric, formula) => {
      const set = await shippedSet(id);
      const end = formula.top ?? formula.standard * 2;
      for (let step = 0; step <= 40; step++) {
        const value = (end * step) / 40;
        const found = scorePlain(set, { [metric]: value.toFixed(9) }, { stratum }).scores[metric];
        expect(found, String(value)).toBeCloseTo(published(formula, Number(value.toFixed(9))), 6);
      }
    },
  );

  it.each(Object.entries(formulas))(
    "scores %s 100 at its standard and less just on the bad side",
    async (metric, formula) => {
      const set = await shippedSet(id);
      const at = (value: number) =>
        scorePlain(set, { [metric]: value.toFixed(6) }, { stratum }).scores[metric] ?? -1;
      expect(at(formula.standard)).toBe(100);
      const bad = formula.top === undefined ? formula.standard - 0.001 : formula.standard + 0.001;
      expect(at(bad)).toBeLessThan(100);
      expect(at(bad)).toBeGreaterThan(99.8);
    },
  );

  it("is the mean of the clipped scores, and blank when one metric is missing", async () => {
    const set = await shippedSet(id);
    const values = Object.fromEntries(
      Object.entries(formulas).map(([metric, { standard, top }], at) => [
        metric,
        // Every third value lies beyond its standard, so that a mean of unclipped scores would differ.
        (top === undefined
          ? standard * (at % 3 === 0 ? 1.5 : 0.4)
          : standard + (top - standard) * 0.3
        ).toFixed(4),
      ]),
    );
    const scores = Object.entries(formulas).map(([metric, formula]) =>
      published(formula, Number(values[metric])),
    );
    const mean = scores.reduce((sum, score) => sum + score, 0) / scores.length;
    const { index }: PlainScore = scorePlain(set, values, { stratum });
    const decimals = set.definition.index.round_to ?? 0;
    expect(index).toBeCloseTo(Number(mean.toFixed(decimals)), 9);
    const [first = ""] = Object.keys(formulas);
    const { [first]: _, ...without } = values;
    expect(scorePlain(set, without, { stratum }).index).toBe(undefined);
  });
});

/** Metric values at which every metric of a set scores the same. */
function allAt(formulas: Readonly<Record<string, Formula>>, score: number): Record<string, string> {
  return Object.fromEntries(
    Object.entries(formulas).map(([metric, { standard, top }]) => [
      metric,
      (top === undefined ? (standard * score) / 100 : top - ((top - standard) * score) / 100).toFixed(12),
    ]),
  );
}

const formulasOf = (id: string) => INDICES.find(([name]) => name === id)?.[2] ?? {};

describe("rating classes of the state indices", () => {
  // West Virginia, from memory: > 78 very good, > 68 good, > 45 fair, > 22 poor, else very poor.
  it.each([
    [78.01, "very good"],
    [77.99, "good"],
    [68.01, "good"],
    [67.99, "fair"],
    [45.01, "fair"],
    [44.99, "poor"],
    [22.01, "poor"],
    [21.99, "very poor"],
    [0, "very poor"],
    [100, "very good"],
  ])("rates %f in West Virginia as %s", async (score, rating) => {
    const id = "west-virginia-family-2000";
    expect(scorePlain(await shippedSet(id), allAt(formulasOf(id), score)).rating).toBe(rating);
  });

  it("leaves exactly 68 in the lower class, since good is above 68", async () => {
    // 68 exactly: 21 families x 0.68 = 14.28 and so on do not come out even, so take 100s and zeros: of six
    // scores 4 at 100 and one at 8 give 408 / 6 = 68.
    const set = await shippedSet("west-virginia-family-2000");
    const found = scorePlain(set, {
      total_families: "21",
      ept_families: "13",
      percent_ept: "91.9",
      percent_chironomidae: "0.98",
      percent_two_dominant: "100",
      family_biotic_index: "9.432",
    });
    // 100 x (10 - 9.432) / 7.1 = 8
    expect([found.index, found.rating]).toEqual([68, "fair"]);
  });

  // Virginia, from memory: 60 is the impairment threshold.
  it.each([
    [60.01, "not impaired"],
    [59.99, "impaired"],
  ])("rates %f in Virginia as %s", async (score, rating) => {
    const id = "virginia-family-2003";
    expect(scorePlain(await shippedSet(id), allAt(formulasOf(id), score)).rating).toBe(rating);
  });

  it("gives no rating in Pennsylvania, whose benchmarks are not held", async () => {
    const id = "pennsylvania-freestone-2012";
    const found = scorePlain(await shippedSet(id), allAt(formulasOf(id), 50), { stratum: "small" });
    expect([found.index, found.rating]).toEqual([50, ""]);
  });
});
