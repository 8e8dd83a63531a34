import { describe, expect, it } from "vitest";
import type { LeanMetric, LeanModel, LeanScoring } from "../../../src/scoring/intervals/lean-model.ts";
import { resamplingPlan } from "../../../src/scoring/intervals/plan.ts";
import type { ResamplingOutcome } from "../../../src/scoring/intervals/resample.ts";
import type { ResamplingTask } from "../../../src/scoring/intervals/task.ts";
import { runTask } from "../../../src/scoring/intervals/task.ts";
import type { SamplingDesign } from "../../../src/scoring/intervals/variance-design.ts";

// What comes out of a few small samples from a fixed seed, as it came out of this program once. They say that
// nothing changes unnoticed, not that it is right: that is said by hand-worked tests and the coverage study.

const COUNTS = [12, 7, 5, 3, 2, 2, 1, 1];
const PILES = COUNTS.length;
const COUNTED = 33;
const ALL = Int32Array.from(COUNTS, (_, pile) => pile);

const AS_IT_IS: LeanScoring = { less: 0, decimals: -1, percent: 0, reference: Number.NaN, table: undefined };
/** Below 6: piece 1, from 6 on: piece 2; ten points for each taxon. */
const BY_PIECES: LeanScoring = {
  ...AS_IT_IS,
  table: {
    points: Float64Array.of(6),
    from: Float64Array.of(0, 0, 0),
    rise: Float64Array.of(10, 10, 10),
    pieces: Int32Array.of(1, 2, 2),
  },
};

const METRICS: readonly LeanMetric[] = [
  { kind: "taxa", entries: ALL, groups: undefined },
  {
    kind: "animals",
    above: { entries: Int32Array.of(0), weights: Float64Array.of(1) },
    below: undefined,
    aboveTimes: 100,
    belowTimes: 1,
    most: Number.POSITIVE_INFINITY,
    whenNoneBelow: "missing",
  },
  // Points of taxa, two for each.
  {
    kind: "taxa-sum",
    members: { entries: ALL, weights: new Float64Array(PILES).fill(2) },
    scale: 1,
    each: "taxon",
    result: "sum",
    times: 1,
  },
  // Missing wherever the last pile was not drawn.
  {
    kind: "animals",
    above: { entries: Int32Array.of(1), weights: Float64Array.of(1) },
    below: { entries: Int32Array.of(7), weights: Float64Array.of(1) },
    aboveTimes: 1,
    belowTimes: 1,
    most: Number.POSITIVE_INFINITY,
    whenNoneBelow: "missing",
  },
];

const MODEL: LeanModel = {
  entries: PILES,
  entryOf: ALL,
  kinds: new Int32Array(PILES).fill(1),
  found: new Uint8Array(PILES),
  alwaysDistinct: new Uint8Array(PILES),
  parents: [],
  metrics: METRICS,
  scoring: [BY_PIECES, AS_IT_IS, AS_IT_IS, AS_IT_IS],
  index: {
    method: "sum",
    metric: 0,
    weights: new Float64Array(4).fill(1),
    leaveOut: true,
    scale: 1,
    decimals: -1,
    classes: {
      points: Float64Array.of(105, 125, 140),
      from: new Float64Array(7),
      rise: new Float64Array(7),
      pieces: Int32Array.of(0, 1, 1, 2, 2, 3, 3),
    },
  },
  rareTaxa: [{ once: 2, twice: 2, each: 1 }, undefined, { once: 2, twice: 2, each: 2 }, undefined],
};

const DESIGN: SamplingDesign = {
  kind: "animals",
  jar: 110,
  counted: COUNTED,
  drawn: COUNTED,
  grids: 0,
  onTray: undefined,
  isWhole: false,
  isDrawnEndless: false,
};

const GRIDS = [
  [5, 1, 0, 1, 2, 0, 0, 0],
  [4, 0, 3, 0, 0, 1, 0, 1],
  [1, 6, 1, 1, 0, 1, 0, 0],
  [2, 0, 1, 1, 0, 0, 1, 0],
].map((grid) => Int32Array.from(grid));

const ON_GRIDS: SamplingDesign = { ...DESIGN, kind: "grids", jar: 247, grids: 4, onTray: 30 };

const TASK: ResamplingTask = {
  plan: resamplingPlan({ resamples: 120 }),
  ways: { form: "normal", unseen: "together" },
  design: DESIGN,
  counts: COUNTS,
  grids: undefined,
  seed: "1",
  sampleId: "A",
  observed: {
    index: 141.36,
    rating: 3,
    values: Float64Array.of(8, 36.36, 16, 7),
    pieces: Int32Array.of(2, -1, -1, -1),
  },
  scale: [0, 200],
  field: undefined,
};

const plain = (value: number | undefined) =>
  value === undefined ? "-" : String(Number(value.toPrecision(7)));

/** Index, variance, support; ratings with their shares; the same of each metric. */
function told({ index, indexVariance, support, ratings, metrics }: ResamplingOutcome): readonly string[] {
  return [
    [index?.low, index?.high, indexVariance, support].map(plain).join(" "),
    ratings.map(([rating, share]) => `${rating}:${plain(share)}`).join(" "),
    ...metrics.map((one) =>
      [one.bounds?.low, one.bounds?.high, one.variance, one.support].map(plain).join(" "),
    ),
  ];
}

type Case = readonly [name: string, change: Partial<ResamplingTask>, outcome: readonly string[]];

const CASES: readonly Case[] = [
  [
    "animals of a jar with an end",
    {},
    [
      "112.2675 170.4525 221.9054 0.4583333",
      "3:0.4583333 2:0.35 1:0.1916667",
      "5.708545 10.29146 1.293158 1",
      "25.17533 47.54467 46.23727 -",
      "11.41709 20.58291 5.172634 -",
      "2.7136 11.2864 6.790957 -",
    ],
  ],
  [
    "animals of an endless jar",
    { design: { ...DESIGN, jar: undefined } },
    [
      "111.8833 170.8367 248.6253 0.4666667",
      "3:0.4666667 2:0.2916667 1:0.2333333 0:0.008333333",
      "5.678776 10.32122 1.326976 0.9833333",
      "22.27848 50.44152 73.29002 -",
      "11.35755 20.64245 5.307904 -",
      "2.02316 11.97684 9.154883 -",
    ],
  ],
  [
    "a draw from more animals",
    { design: { ...DESIGN, drawn: 20 } },
    [
      "99.64756 143.1324 155.6421 0.1166667",
      "1:0.4 2:0.3166667 0:0.1666667 3:0.1166667",
      "5.167529 8.592471 0.8250694 0.8833333",
      "24.35582 48.24418 52.73009 -",
      "10.33506 17.18494 3.300278 -",
      "1.627039 6.404707 2.109199 -",
    ],
  ],
  [
    "a draw from a whole jar",
    { design: { ...DESIGN, drawn: 20, jar: COUNTED, isWhole: true } },
    [
      "121.2167 121.2167 0 0.03333333",
      "1:0.5583333 2:0.3166667 0:0.09166667 3:0.03333333",
      "6.841667 6.841667 0 0.9583333",
      "36.66667 36.66667 0 -",
      "13.68333 13.68333 0 -",
      "4.027397 4.027397 0 -",
    ],
  ],
  [
    "another draw",
    { design: { ...DESIGN, drawn: 20 }, plan: resamplingPlan({ resamples: 120, interval: "another-draw" }) },
    [
      "84.18201 158.598 455.809 0.1166667",
      "1:0.4 2:0.3166667 0:0.1666667 3:0.1166667",
      "3.949437 9.810563 2.416275 0.8833333",
      "15.85983 56.74017 154.4238 -",
      "7.898874 19.62113 9.665099 -",
      "-0.07215571 8.103902 6.17694 -",
    ],
  ],
  [
    "everything sorted and counted",
    { design: { ...DESIGN, jar: COUNTED, isWhole: true } },
    ["141.36 141.36 0 1", "3:1", "8 8 0 1", "36.36 36.36 0 -", "16 16 0 -", "7 7 0 -"],
  ],
  [
    "whole grids",
    { design: ON_GRIDS, grids: GRIDS },
    [
      "104.2018 178.5182 339.3968 0.2916667",
      "2:0.35 1:0.325 3:0.2916667 0:0.03333333",
      "6.218507 9.781493 0.8841851 1",
      "10.80058 61.91942 117.9571 -",
      "12.43701 19.56299 3.53674 -",
      "-3.7257 17.7257 20.77176 -",
    ],
  ],
  [
    "whole grids of an endless tray",
    { design: { ...ON_GRIDS, onTray: undefined }, grids: GRIDS },
    [
      "102.0752 180.6448 385.2444 0.4083333",
      "3:0.4083333 2:0.375 1:0.2166667",
      "6.010625 9.989375 1.102574 0.9916667",
      "8.997483 63.72252 135.1867 -",
      "12.02125 19.97875 4.410298 -",
      "-4.315572 18.31557 23.11932 -",
    ],
  ],
  [
    "a draw from whole grids",
    { design: { ...ON_GRIDS, drawn: 18 }, grids: GRIDS },
    [
      "81.43488 152.5385 228.2154 0.09166667",
      "1:0.5666667 2:0.1833333 0:0.1583333 3:0.09166667",
      "5.096874 8.183126 0.4299566 0.9",
      "8.98365 61.34968 123.7831 -",
      "10.19375 16.36625 1.719826 -",
      "-2.316332 9.825104 6.654297 -",
    ],
  ],
  [
    "another draw from whole grids",
    {
      design: { ...ON_GRIDS, drawn: 18 },
      grids: GRIDS,
      plan: resamplingPlan({ resamples: 120, interval: "another-draw" }),
    },
    [
      "68.09695 165.8764 579.6125 0.09166667",
      "1:0.5666667 2:0.1833333 0:0.1583333 3:0.09166667",
      "4.330303 8.949697 1.658297 0.9",
      "-0.8295605 71.16289 309.9524 -",
      "8.660606 17.89939 6.633188 -",
      "-4.638972 12.14774 14.89005 -",
    ],
  ],
  [
    "no taxa but those that were met",
    { ways: { form: "normal", unseen: "none" } },
    [
      "122.4284 160.2916 132.4712 0.125",
      "1:0.45 2:0.3916667 3:0.125 0:0.03333333",
      "6.780689 9.219311 0.5495083 0.9833333",
      "23.81569 48.90431 58.16195 -",
      "13.56138 18.43862 2.198033 -",
      "3.157567 10.84243 5.457053 -",
    ],
  ],
  [
    "finds of each number of taxa by itself",
    { ways: { form: "basic", unseen: "apart" } },
    [
      "116.7728 167.949 171.0807 0.45",
      "3:0.45 2:0.425 1:0.125",
      "5.7193 10.61094 0.9788675 1",
      "23.74955 48.10253 46.23727 -",
      "11.68628 21.59339 4.774189 -",
      "3.055615 11.29427 6.790957 -",
    ],
  ],
  [
    "a field part",
    { field: { index: 60, metrics: [4, 9, 16, 0] } },
    [
      "109.3645 173.3555 205.9078 0.4833333",
      "3:0.4833333 2:0.325 1:0.1666667 0:0.025",
      "3.387474 12.61253 1.239703 0.9916667",
      "24.13515 48.58485 46.23727 -",
      "6.774948 25.22505 4.958813 -",
      "2.7136 11.2864 6.790957 -",
    ],
  ],
  [
    "a field part of a whole jar",
    { design: { ...DESIGN, jar: 34, isWhole: true }, field: { index: 0, metrics: [4, 9, 16, 0] } },
    [
      "134.0153 148.7047 15.16627 0.2833333",
      "2:0.6916667 3:0.2833333 1:0.025",
      "3.940386 12.05961 0.0588075 1",
      "30.41175 42.30825 4.077458 -",
      "7.880773 24.11923 0.23523 -",
      "5.488106 8.511894 0.8448666 -",
    ],
  ],
  [
    "a narrow scale",
    { scale: [139, 145], field: { index: 60, metrics: [0, 0, 0, 0] } },
    [
      "139 145 205.9078 0.4833333",
      "2:0.5166667 3:0.4833333",
      "5.756406 10.24359 1.239703 0.9916667",
      "25.17533 47.54467 46.23727 -",
      "11.51281 20.48719 4.958813 -",
      "2.7136 11.2864 6.790957 -",
    ],
  ],
  [
    "a score that was not given",
    {
      observed: {
        index: Number.NaN,
        rating: -1,
        values: Float64Array.of(8, Number.NaN, 16, 7),
        pieces: Int32Array.of(-1, -1, -1, -1),
      },
    },
    [
      "- - 221.9054 -",
      "3:0.4583333 2:0.35 1:0.1916667",
      "5.708545 10.29146 1.293158 -",
      "- - 46.23727 -",
      "11.41709 20.58291 5.172634 -",
      "2.7136 11.2864 6.790957 -",
    ],
  ],
];

describe("outcomes that do not change", () => {
  it.each(CASES)("%s", (_, change, outcome) => {
    expect(told(runTask({ ...TASK, ...change }, MODEL))).toEqual(outcome);
  });

  it("have the field part alone, in the normal shape, where resamples do not vary, by hand", () => {
    // One taxon and nothing else: every draw has one taxon and 100 percent of it.
    const counts = [33, 0, 0, 0, 0, 0, 0, 0];
    const values = Float64Array.of(1, 100, 2, Number.NaN);
    const observed = { index: 112, rating: 1, values, pieces: Int32Array.of(1, -1, -1, -1) };
    const field = { index: 4, metrics: [1, 25, 0, 0] };
    const { index, metrics } = runTask({ ...TASK, counts, observed, field }, MODEL);
    // The normal quantile of 0.95 is 1.644854.
    expect(index?.low).toBeCloseTo(112 - 2 * 1.644854, 5);
    expect(index?.high).toBeCloseTo(112 + 2 * 1.644854, 5);
    expect(metrics[0]?.bounds?.low).toBeCloseTo(1 - 1.644854, 5);
    expect(metrics[1]?.bounds?.high).toBeCloseTo(100 + 5 * 1.644854, 5);
    expect(metrics[2]?.bounds).toEqual({ low: 2, high: 2 });
    expect(metrics[3]?.bounds).toBe(undefined);
  });

  it("have no bounds for what is missing where nothing varies", () => {
    const design = { ...DESIGN, jar: COUNTED, isWhole: true };
    const values = Float64Array.of(8, Number.NaN, 16, 7);
    const observed = { index: Number.NaN, rating: -1, values, pieces: Int32Array.of(0, -1, -1, -1) };
    const { index, support, metrics } = runTask({ ...TASK, design, observed }, MODEL);
    expect([index, support]).toEqual([undefined, undefined]);
    expect(metrics.map((one) => one.bounds?.low)).toEqual([8, undefined, 16, 7]);
    expect(metrics.map((one) => one.support)).toEqual([1, undefined, undefined, undefined]);
  });

  it("are the same for the same seed and sample, and others for others", () => {
    const first = told(runTask(TASK, MODEL));
    expect(told(runTask(TASK, MODEL))).toEqual(first);
    expect(told(runTask({ ...TASK, seed: "2" }, MODEL))).not.toEqual(first);
    expect(told(runTask({ ...TASK, sampleId: "B" }, MODEL))).not.toEqual(first);
  });
});
