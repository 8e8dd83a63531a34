import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { SetDefinitionInput } from "../../src/model/reference-set.ts";
import { chooseRatings } from "../../src/reference/choose-ratings.ts";
import type { ReferenceSet } from "../../src/reference/set.ts";
import { row, scorePlain, usableSet } from "../helpers/sets.ts";

// Every shape a scoring rule can have, made as a set's files and taken down the road that shipped sets take. All
// sets here are made up unless a source stands beside them.

const oneMetric = { metrics: [{ id: "taxa_richness" }] } satisfies Partial<SetDefinitionInput>;
const scoreOf = (set: ReferenceSet, value: string, log?: Record<string, string>) =>
  scorePlain(set, { taxa_richness: value }, log === undefined ? {} : { log }).scores.taxa_richness;

describe("shapes of a scoring rule", () => {
  it("steps", async () => {
    const set = await usableSet({
      set: oneMetric,
      thresholds: [
        row("taxa_richness", "[0,14)", 1),
        row("taxa_richness", "[14,28]", 3),
        row("taxa_richness", "(28,)", 5),
      ],
    });
    expect(["0", "13.9", "14", "28", "28.1", "99"].map((value) => scoreOf(set, value))).toEqual([
      1, 1, 3, 3, 5, 5,
    ]);
  });

  it("a line with clipping, and without", async () => {
    // Floor 6 and ceiling 30 of a 0 to 100 metric; form recalled from Blocksom 2003, Environ. Manage. 31: 670-682.
    const thresholds = [row("taxa_richness", "[6,30]", 0, 100)];
    const clipped = await usableSet({ set: oneMetric, thresholds });
    expect(["2", "6", "18", "30", "45"].map((value) => scoreOf(clipped, value))).toEqual([
      0, 0, 50, 100, 100,
    ]);
    const open = await usableSet({
      set: { ...oneMetric, index: { method: "sum", clip_scores: false } },
      thresholds,
    });
    expect(["2", "6", "18", "30", "45"].map((value) => scoreOf(open, value))).toEqual([
      undefined,
      0,
      50,
      100,
      undefined,
    ]);
    expect(scorePlain(open, { taxa_richness: "45" }).findings.map((one) => one.message)).toEqual([
      "taxa_richness 45 of S lies beyond the thresholds",
    ]);
  });

  it("a curve of several lines", async () => {
    // Straight lines between class borders 10, 18 and 26 on a scale from 0 to 10: New York's richness, from memory.
    const set = await usableSet({
      set: oneMetric,
      thresholds: [
        row("taxa_richness", "[0,10]", 0, 2.5),
        row("taxa_richness", "(10,18]", 2.5, 5),
        row("taxa_richness", "(18,26]", 5, 7.5),
        row("taxa_richness", "(26,35]", 7.5, 10),
      ],
    });
    expect(["0", "5", "10", "14", "18", "22", "26", "35", "50"].map((value) => scoreOf(set, value))).toEqual([
      0, 1.25, 2.5, 3.75, 5, 6.25, 7.5, 10, 10,
    ]);
  });

  // Percent Chironomidae, predators and Elmidae of the Texas statewide index, scored best in a middle range: from
  // memory. Printed to two decimals, so the value is rounded to two before it is scored.
  it.each([
    ["percent_chironomidae", [0.79, 4.1, 9.48, 16.19]],
    ["percent_predators", [4.73, 15.2, 25.67, 36.14]],
    ["percent_elmidae", [0.88, 10.04, 20.08, 30.12]],
  ] as const)("middle is best: %s", async (metric, [a, b, c, d]) => {
    const next = (value: number) => Number((value + 0.01).toFixed(2));
    const set = await usableSet({
      set: {
        metrics: [{ id: metric, round_to: 2 }],
        attributes: { feeding_group: { scheme: "feeding-group" } },
      },
      thresholds: [
        row(metric, `[0,${Number((a - 0.01).toFixed(2))}]`, 1),
        row(metric, `[${a},${b}]`, 4),
        row(metric, `[${next(b)},${c}]`, 3),
        row(metric, `[${next(c)},${d}]`, 2),
        row(metric, `[${next(d)},100]`, 1),
      ],
    });
    const score = (value: number) => scorePlain(set, { [metric]: value.toFixed(6) }).scores[metric];
    expect([0, a - 0.01, a - 0.0051].map(score)).toEqual([1, 1, 1]);
    expect([a - 0.005, a, b, b + 0.0049].map(score)).toEqual([4, 4, 4, 4]);
    expect([b + 0.005, b + 0.01, c].map(score)).toEqual([3, 3, 3]);
    expect([c + 0.01, d].map(score)).toEqual([2, 2]);
    expect([d + 0.01, 100].map(score)).toEqual([1, 1]);
  });

  it("a percentage of the reference, either way round", async () => {
    const thresholds = [row("taxa_richness", "[0,100]", 0, 10, { basis: "percent-of-reference" })];
    const site = await usableSet({ set: oneMetric, thresholds });
    const turned = await usableSet({
      set: { metrics: [{ id: "taxa_richness", percent_of: "reference-of-value" }] },
      thresholds,
    });
    const score = (set: ReferenceSet) =>
      scorePlain(set, { taxa_richness: "30" }, { reference: { taxa_richness: "24" } }).scores.taxa_richness;
    // 30 / 24 is 125 percent, clipped to 100; 24 / 30 is 80 percent.
    expect([score(site), score(turned)]).toEqual([10, 8]);
    const zero = scorePlain(site, { taxa_richness: "30" }, { reference: { taxa_richness: "0" } });
    expect([zero.index, zero.findings.map((one) => one.code)]).toEqual([undefined, ["no-score"]]);
  });

  it("a metric without segments counts as it is", async () => {
    const set = await usableSet({
      set: {
        metrics: [{ id: "average_score_per_taxon", round_to: 1 }],
        attributes: { tolerance: { scheme: "bmwp-1983" } },
      },
    });
    expect(scorePlain(set, { average_score_per_taxon: "5.25" }).index).toBe(5.3);
  });
});

describe("covariates", () => {
  it("move a ceiling, with the logarithm of drainage area", async () => {
    // Ceiling 10 + 5 x log10(area): 15 at 10 km2, 20 at 100 km2.
    const set = await usableSet({
      set: oneMetric,
      thresholds: [
        row("taxa_richness", "[0,10]", 0, 100, { covariate: "log10:drainage_area_km2", slopes: ",5" }),
      ],
    });
    expect(scoreOf(set, "15", { drainage_area_km2: "10" })).toBe(100);
    expect(scoreOf(set, "15", { drainage_area_km2: "100" })).toBe(75);
    expect(scoreOf(set, "25", { drainage_area_km2: "100" })).toBe(100);
    expect(scoreOf(set, "5", { drainage_area_km2: "1" })).toBe(50);
  });

  it("leave a metric unscored, and the index blank, when the log does not give them", async () => {
    const set = await usableSet({
      set: oneMetric,
      thresholds: [
        row("taxa_richness", "[0,10]", 0, 100, { covariate: "log10:drainage_area_km2", slopes: ",5" }),
      ],
    });
    for (const log of [{}, { drainage_area_km2: "0" }, { drainage_area_km2: "large" }]) {
      const found = scorePlain(set, { taxa_richness: "15" }, { log });
      expect([found.index, found.findings.map((one) => one.message)]).toEqual([
        undefined,
        ["taxa_richness 15 of S needs log10:drainage_area_km2 in the sample log"],
      ]);
    }
  });

  it("adjust the observed value, which is printed as it was", async () => {
    // 2 taxa for each 100 m above 300 m are put down to the altitude: 20 taxa at 500 m count as 24.
    const set = await usableSet({
      set: { metrics: [{ id: "taxa_richness", adjust: { covariate: "altitude_m", slope: -0.02, at: 300 } }] },
      thresholds: [row("taxa_richness", "[0,24)", 1), row("taxa_richness", "[24,)", 5)],
    });
    expect(scoreOf(set, "20", { altitude_m: "500" })).toBe(5);
    expect(scoreOf(set, "19.999", { altitude_m: "500" })).toBe(1);
    expect(scoreOf(set, "24", { altitude_m: "300" })).toBe(5);
    expect(scoreOf(set, "24", { altitude_m: "299" })).toBe(1);
    expect(scoreOf(set, "24", {})).toBe(undefined);
  });

  it("adjust first and round then", async () => {
    const set = await usableSet({
      set: {
        metrics: [
          { id: "taxa_richness", round_to: 0, adjust: { covariate: "altitude_m", slope: 0.01, at: 0 } },
        ],
      },
      thresholds: [row("taxa_richness", "[0,24)", 1), row("taxa_richness", "[24,)", 5)],
    });
    // 23.9 - 0.4 = 23.5 is rounded to 24; rounded before, 24 - 0.4 = 23.6 would be 24 as well, but 23.4 - (-0.1) not.
    expect(scoreOf(set, "23.9", { altitude_m: "40" })).toBe(5);
    expect(scoreOf(set, "23.9", { altitude_m: "41" })).toBe(1);
    expect(scoreOf(set, "23.4", { altitude_m: "-10" })).toBe(5);
  });
});

const TWO = {
  metrics: [{ id: "taxa_richness" }, { id: "ept_richness" }],
} satisfies Partial<SetDefinitionInput>;
const TWO_LINES = [row("taxa_richness", "[0,10]", 0, 10), row("ept_richness", "[0,10]", 0, 10)];

describe("aggregation", () => {
  it.each([
    [{ method: "sum" }, 12],
    [{ method: "mean" }, 6],
    [{ method: "scaled-sum", best_sum: 20, scale_to: 100 }, 60],
  ] as const)("%j of 4 and 8 is %i", async (index, expected) => {
    const set = await usableSet({ set: { ...TWO, index }, thresholds: TWO_LINES });
    expect(scorePlain(set, { taxa_richness: "4", ept_richness: "8" }).index).toBe(expected);
  });

  it("weighs", async () => {
    const set = await usableSet({
      set: {
        metrics: [{ id: "taxa_richness", weight: 3 }, { id: "ept_richness" }],
        index: { method: "weighted-mean" },
      },
      thresholds: TWO_LINES,
    });
    // (3 x 4 + 8) / 4 = 5
    expect(scorePlain(set, { taxa_richness: "4", ept_richness: "8" }).index).toBe(5);
  });

  it("clips each metric before it averages, never after", async () => {
    const set = await usableSet({ set: { ...TWO, index: { method: "mean" } }, thresholds: TWO_LINES });
    // 20 clipped to 10, and 2: mean 6. Averaged first it would be 11, clipped to 10.
    expect(scorePlain(set, { taxa_richness: "20", ept_richness: "2" }).index).toBe(6);
  });

  it("blanks the index when a metric is missing, or leaves it out where the set says so; it is never 0", async () => {
    const blank = await usableSet({ set: { ...TWO, index: { method: "mean" } }, thresholds: TWO_LINES });
    expect(scorePlain(blank, { taxa_richness: "4" }).index).toBe(undefined);
    const out = await usableSet({
      set: { ...TWO, index: { method: "mean", missing_metric: "leave-out" } },
      thresholds: TWO_LINES,
    });
    expect(scorePlain(out, { taxa_richness: "4" }).index).toBe(4);
    const scaled = await usableSet({
      set: {
        ...TWO,
        index: { method: "scaled-sum", best_sum: 20, scale_to: 100, missing_metric: "leave-out" },
      },
      thresholds: TWO_LINES,
    });
    // 4 of the 10 points that are left: 40, not 20.
    expect(scorePlain(scaled, { taxa_richness: "4" }).index).toBe(40);
    expect(scorePlain(out, {}).index).toBe(undefined);
  });
});

describe("gaps of a published rule", () => {
  const gapped = (tie: "below" | "above" | "middle") =>
    usableSet({
      set: { metrics: [{ id: "taxa_richness", as_published: "gap", tie_rule: tie }] },
      thresholds: [
        row("taxa_richness", "[0,10)", 1),
        row("taxa_richness", "[10,20)", 3),
        row("taxa_richness", "(20,)", 5),
      ],
    });

  it.each([
    ["below", 3],
    ["above", 5],
    ["middle", 3],
  ] as const)("a value in it takes the score %s", async (tie, score) => {
    const set = await gapped(tie);
    const found = scorePlain(set, { taxa_richness: "20" });
    expect(found.scores.taxa_richness).toBe(score);
    expect(found.findings.map(({ code, severity }) => [code, severity])).toEqual([["tie-rule", "note"]]);
    expect(scorePlain(set, { taxa_richness: "19.99" }).findings).toEqual([]);
  });

  it("a value in a gap that no rule was stated for has no score", async () => {
    const set = await usableSet({
      set: oneMetric,
      thresholds: [row("taxa_richness", "[0,10)", 1), row("taxa_richness", "(10,)", 5)],
    });
    const found = scorePlain(set, { taxa_richness: "10" });
    expect([found.index, found.findings.map((one) => one.message)]).toEqual([
      undefined,
      ["taxa_richness 10 of S lies in a gap of the thresholds"],
    ]);
  });
});

describe("rating classes", () => {
  const classes = [
    { rating: "good", lower: 2, lower_included: true },
    { rating: "poor", upper: 2, upper_included: false },
  ];
  const raw = {
    metrics: [{ id: "taxa_richness" }],
    index: { method: "metric", metric: "taxa_richness", round_to: 0 },
  } satisfies Partial<SetDefinitionInput>;

  it("class the rounded or the unrounded index, and print it rounded", async () => {
    const rounded = await usableSet({ set: { ...raw, ratings: { on: "rounded", classes } } });
    const unrounded = await usableSet({ set: { ...raw, ratings: { on: "unrounded", classes } } });
    const rate = (set: ReferenceSet, value: string) => {
      const { index, rating } = scorePlain(set, { taxa_richness: value });
      return [index, rating];
    };
    // Half away from zero, decided exactly: 1.5 is 2, 1.4999999 is 1.
    expect([rate(rounded, "1.5"), rate(rounded, "1.4999999")]).toEqual([
      [2, "good"],
      [1, "poor"],
    ]);
    expect([rate(unrounded, "1.5"), rate(unrounded, "2")]).toEqual([
      [2, "poor"],
      [2, "good"],
    ]);
  });

  it("may differ by stratum", async () => {
    const set = await usableSet({
      set: {
        ...raw,
        strata: [
          { id: "hills", title: "Hills" },
          { id: "plain", title: "Plain" },
        ],
        ratings: {
          on: "rounded",
          classes: [
            { rating: "good", stratum: "hills", lower: 20, lower_included: true },
            { rating: "poor", stratum: "hills", upper: 20, upper_included: false },
            ...classes,
          ],
        },
      },
    });
    const rate = (stratum: string) => scorePlain(set, { taxa_richness: "12" }, { stratum }).rating;
    expect([rate("hills"), rate("plain")]).toEqual(["poor", "good"]);
  });

  it("name both neighbours in a deliberate gap, and nothing in one that is not", async () => {
    const gap = [
      { rating: "good", lower: 3, lower_included: true },
      { rating: "poor", upper: 2, upper_included: true },
    ];
    const stated = await usableSet({
      set: { ...raw, ratings: { on: "unrounded", gaps: "between", classes: gap } },
    });
    const plain = await usableSet({ set: { ...raw, ratings: { on: "unrounded", classes: gap } } });
    const rate = (set: ReferenceSet) => scorePlain(set, { taxa_richness: "2.5" }).rating;
    expect([rate(stated), rate(plain)]).toEqual(["between poor and good", ""]);
  });

  it("come in several tables, of which one may class another metric", async () => {
    const set = await usableSet({
      set: {
        metrics: [{ id: "taxa_richness" }, { id: "ept_richness" }],
        index: { method: "metric", metric: "taxa_richness", round_to: 0 },
        ratings: { on: "rounded", classes },
        other_ratings: [
          {
            id: "by-ept",
            title: "by EPT taxa",
            metric: "ept_richness",
            round_to: 1,
            higher_is: "better",
            on: "rounded",
            classes: [{ rating: "rich", lower: 5, lower_included: true }],
          },
        ],
      },
    });
    const values = { taxa_richness: "1", ept_richness: "7.25" };
    const usual = scorePlain(set, values);
    const chosen = scorePlain(chooseRatings(set, "by-ept"), values);
    expect([usual.index, usual.rating, chosen.index, chosen.rating]).toEqual([1, "poor", 7.3, "rich"]);
    expect(chooseRatings(set, "default")).toBe(set);
    expect(() => chooseRatings(set, "by-eqt")).toThrow('has no class table "by-eqt"; did you mean "by-ept"?');
  });
});

describe("an index in percent of the reference sample's own", () => {
  it("is 100 for the reference itself, whatever its values", async () => {
    const set = await usableSet({
      set: { ...TWO, index: { method: "sum", percent_of_reference: true } },
      thresholds: [
        row("taxa_richness", "[0,100]", 0, 10, { basis: "percent-of-reference" }),
        row("ept_richness", "[0,10]", 1, 10),
      ],
    });
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 0, max: 20 }), (taxa, ept) => {
        const values = { taxa_richness: String(taxa), ept_richness: String(ept) };
        expect(scorePlain(set, values, { reference: values }).index).toBe(100);
      }),
    );
  });
});
