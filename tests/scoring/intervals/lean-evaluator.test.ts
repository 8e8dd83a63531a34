import { describe, expect, it } from "vitest";
import { LeanEvaluator } from "../../../src/scoring/intervals/lean-evaluator.ts";
import {
  IndexRule,
  leanIndex,
  leanRating,
  leanScore,
  ScoringRule,
} from "../../../src/scoring/intervals/lean-index.ts";
import type {
  LeanIndex,
  LeanMetric,
  LeanModel,
  LeanScoring,
} from "../../../src/scoring/intervals/lean-model.ts";

// Five entries: two genera of one family (entry 2), the family, and two more. All numbers are worked out by hand.

const weighted = (...pairs: readonly (readonly [number, number])[]) => ({
  entries: Int32Array.from(pairs, ([entry]) => entry),
  weights: Float64Array.from(pairs, ([, weight]) => weight),
});

const AS_IT_IS: LeanScoring = { less: 0, decimals: -1, percent: 0, reference: Number.NaN, table: undefined };
/** Below 2: nothing; 2: piece 5 with 20; above: piece 7, ten times the value. */
const TABLE = {
  points: Float64Array.of(2),
  from: Float64Array.of(Number.NaN, 20, 0),
  rise: Float64Array.of(0, 0, 10),
  pieces: Int32Array.of(-1, 5, 7),
};

const SUM: LeanIndex = {
  method: "sum",
  metric: 0,
  weights: Float64Array.of(1, 3),
  leaveOut: false,
  scale: 0.5,
  decimals: -1,
  classes: {
    points: Float64Array.of(10),
    from: new Float64Array(3),
    rise: new Float64Array(3),
    pieces: Int32Array.of(0, 1, 1),
  },
};

const model = (metrics: readonly LeanMetric[], change: Partial<LeanModel> = {}): LeanModel => ({
  entries: 5,
  entryOf: Int32Array.of(0, 1, 2, 3, 4),
  kinds: Int32Array.of(1, 1, 1, 1, 1),
  found: new Uint8Array(5),
  alwaysDistinct: new Uint8Array(5),
  parents: [{ entry: 2, finer: Int32Array.of(0, 1) }],
  metrics,
  scoring: metrics.map(() => AS_IT_IS),
  index: { ...SUM, weights: new Float64Array(metrics.length).fill(1) },
  rareTaxa: metrics.map(() => undefined),
  ...change,
});

/** Value of one metric. */
function measured(
  metric: LeanMetric,
  counts: readonly number[],
  change: Partial<LeanModel> = {},
  find = 0,
): number | undefined {
  const evaluator = new LeanEvaluator(model([metric], change));
  evaluator.evaluate(Int32Array.from(counts), Float64Array.of(find));
  return evaluator.values[0];
}

const ALL = Int32Array.of(0, 1, 2, 3, 4);
const TAXA: LeanMetric = { kind: "taxa", entries: ALL, groups: undefined };

describe("numbers of taxa in plain numbers", () => {
  it("leave a family out whose genera were met", () => {
    expect(measured(TAXA, [3, 0, 2, 1, 0])).toBe(2);
    expect(measured(TAXA, [0, 0, 2, 1, 0])).toBe(2);
    expect(measured(TAXA, [3, 1, 2, 0, 0])).toBe(2);
    expect(measured(TAXA, [3, 1, 0, 0, 0])).toBe(2);
  });

  it("count a family that is distinct in any case, and one that stands for more than its genera", () => {
    expect(measured(TAXA, [3, 0, 2, 1, 0], { alwaysDistinct: Uint8Array.of(0, 0, 1, 0, 0) })).toBe(3);
    expect(measured(TAXA, [3, 0, 2, 1, 0], { kinds: Int32Array.of(1, 1, 3, 1, 1) })).toBe(4);
  });

  it("count entries that stand for more taxa than a word holds, and several groups of entries at once", () => {
    const kinds = Int32Array.of(2 ** 31 - 1, 1, 1, 1, 1);
    expect(measured(TAXA, [1, 0, 0, 1, 1], { kinds, parents: [] })).toBe(2 ** 31 + 1);
    const evaluator = new LeanEvaluator(
      model([TAXA, { ...TAXA, entries: Int32Array.of(3) }, { ...TAXA, entries: Int32Array.of(0, 1, 4) }]),
    );
    evaluator.evaluate(Int32Array.of(1, 2, 0, 0, 3), Float64Array.of(0, 0, 0.5));
    expect([...evaluator.values]).toEqual([3, 0, 3.5]);
  });

  it("count what the search for large and rare animals found", () => {
    expect(measured(TAXA, [0, 0, 0, 1, 0], { found: Uint8Array.of(0, 0, 0, 0, 1) })).toBe(2);
  });

  it("add up the piles of an entry, and what was not met so far", () => {
    const entryOf = Int32Array.of(3, 3, 4);
    const animals: LeanMetric = { ...SHARE, above: weighted([3, 1]) };
    expect(measured(TAXA, [1, 2, 1], { entryOf }, 2)).toBe(4);
    expect(measured(animals, [1, 2, 1], { entryOf })).toBe(75);
    // As many piles as entries, but others.
    expect(measured(animals, [1, 2, 3, 2, 2], { entryOf: Int32Array.of(4, 3, 3, 3, 3) })).toBe(90);
  });

  it("count groups once", () => {
    const groups = Int32Array.of(0, 0, 0, 1, 1);
    expect(measured({ ...TAXA, groups }, [1, 1, 0, 1, 0])).toBe(2);
    expect(measured({ ...TAXA, groups }, [1, 1, 0, 0, 0], {}, 1)).toBe(2);
    expect(measured({ ...TAXA, groups }, [0, 0, 0, 0, 0])).toBe(0);
  });

  it("are divided by those of others", () => {
    const quotient: LeanMetric = {
      kind: "taxa-quotient",
      above: Int32Array.of(0, 3),
      below: undefined,
      times: 100,
      whenNoneBelow: "missing",
    };
    expect(measured(quotient, [1, 1, 0, 1, 1])).toBe(50);
    expect(measured({ ...quotient, below: Int32Array.of(0, 1, 3, 4, 2) }, [1, 1, 0, 0, 0])).toBe(50);
    expect(measured({ ...quotient, below: Int32Array.of(4) }, [1, 1, 0, 1, 0])).toBe(Number.NaN);
    const below = Int32Array.of(4);
    expect(measured({ ...quotient, below, whenNoneBelow: "zero" }, [1, 1, 0, 1, 0])).toBe(0);
    expect(measured({ ...quotient, below, whenNoneBelow: "above-alone" }, [1, 1, 0, 1, 0])).toBe(200);
  });

  it("bring points for each taxon, each row or by being there", () => {
    const points: LeanMetric = {
      kind: "taxa-sum",
      members: weighted([0, 40], [3, 60]),
      scale: 10,
      each: "taxon",
      result: "sum",
      times: 1,
    };
    const kinds = Int32Array.of(2, 1, 1, 3, 1);
    expect(measured(points, [1, 0, 0, 1, 0], { kinds })).toBe(26);
    expect(measured({ ...points, each: "row" }, [1, 0, 0, 1, 0], { kinds })).toBe(10);
    expect(measured({ ...points, each: "presence" }, [1, 0, 0, 1, 0], { kinds })).toBe(10);
    expect(measured(points, [1, 0, 0, 0, 0], { kinds }, 3)).toBe(11);
    expect(measured({ ...points, result: "number" }, [1, 0, 0, 1, 4])).toBe(2);
    expect(measured({ ...points, result: "average", times: 2 }, [1, 0, 0, 1, 4])).toBe(10);
    expect(measured({ ...points, result: "average" }, [0, 0, 0, 0, 4])).toBe(Number.NaN);
  });
});

const SHARE: Extract<LeanMetric, { kind: "animals" }> = {
  kind: "animals",
  above: weighted([0, 1], [3, 2]),
  below: undefined,
  aboveTimes: 100,
  belowTimes: 1,
  most: Number.POSITIVE_INFINITY,
  whenNoneBelow: "missing",
};

describe("numbers of animals in plain numbers", () => {
  it("are divided by all or by some, each with its weight and at most so many of it", () => {
    expect(measured(SHARE, [4, 2, 0, 3, 1])).toBe(100);
    expect(measured({ ...SHARE, belowTimes: 4 }, [4, 2, 0, 3, 1])).toBe(25);
    expect(measured({ ...SHARE, most: 2, below: weighted([1, 1], [3, 1]) }, [4, 1, 0, 3, 1])).toBe(200);
    expect(measured(SHARE, [0, 0, 0, 0, 0])).toBe(Number.NaN);
  });

  it("are those of the most frequent taxa or groups", () => {
    const dominants: LeanMetric = {
      kind: "dominants",
      entries: ALL,
      groups: undefined,
      taxaTogether: 2,
      times: 100,
    };
    expect(measured(dominants, [1, 5, 0, 3, 1])).toBe(80);
    expect(measured({ ...dominants, taxaTogether: 1 }, [1, 5, 0, 3, 1])).toBe(50);
    expect(
      measured({ ...dominants, entries: Int32Array.of(0, 3, 4), taxaTogether: 1 }, [1, 5, 0, 3, 2]),
    ).toBe(50);
    const groups = Int32Array.of(0, 1, 1, 0, 2);
    expect(measured({ ...dominants, groups, taxaTogether: 1 }, [4, 5, 0, 3, 2])).toBe(50);
    expect(measured(dominants, [0, 0, 0, 0, 0])).toBe(Number.NaN);
    expect(measured({ ...dominants, taxaTogether: 1 }, [0, 0, 0, 0, 0])).toBe(Number.NaN);
    // Two as numerous as each other, and more asked for than there are.
    expect(measured(dominants, [0, 5, 0, 5, 0])).toBe(100);
    expect(measured({ ...dominants, taxaTogether: 7 }, [1, 5, 0, 3, 1])).toBe(100);
  });

  it("leave the animals of a draw as they are", () => {
    const dominants = { kind: "dominants", entries: ALL, groups: undefined, times: 100 } as const;
    const shannon = { kind: "shannon", entries: ALL, groups: undefined, base: 2 } as const;
    const evaluator = new LeanEvaluator(
      model([{ ...dominants, taxaTogether: 1 }, { ...dominants, taxaTogether: 2 }, shannon, SHARE]),
    );
    const counts = Int32Array.of(4, 2, 0, 2, 0);
    evaluator.evaluate(counts, new Float64Array(4));
    expect([...counts]).toEqual([4, 2, 0, 2, 0]);
    expect([...evaluator.values]).toEqual([50, 75, 1.5, 100]);
  });

  it("have the entropy of their shares", () => {
    const shannon: LeanMetric = { kind: "shannon", entries: ALL, groups: undefined, base: 2 };
    expect(measured(shannon, [2, 2, 0, 2, 2])).toBeCloseTo(2, 12);
    expect(measured({ ...shannon, base: Math.E }, [2, 2, 0, 2, 2])).toBeCloseTo(Math.log(4), 12);
    expect(measured({ ...shannon, groups: Int32Array.of(0, 0, 0, 1, 1) }, [2, 2, 0, 2, 2])).toBeCloseTo(
      1,
      12,
    );
    // 4096 and more are beyond the table of logarithms.
    expect(measured(shannon, [5000, 5000, 0, 0, 0])).toBeCloseTo(1, 12);
    expect(measured(shannon, [4096, 4096, 0, 0, 0])).toBeCloseTo(1, 12);
    // And so is a sum of 4096, of counts within the table.
    expect(measured(shannon, [2048, 2048, 0, 0, 0])).toBeCloseTo(1, 12);
    expect(measured(shannon, [7, 0, 0, 0, 0])).toBe(0);
    expect(measured(shannon, [0, 0, 0, 0, 0])).toBe(Number.NaN);
  });

  it("have the entropy of the entries asked for alone", () => {
    const some: LeanMetric = { kind: "shannon", entries: Int32Array.of(0, 3, 4), groups: undefined, base: 2 };
    expect(measured(some, [2, 50, 9, 2, 0])).toBeCloseTo(1, 12);
    expect(measured(some, [0, 50, 9, 3, 0])).toBe(0);
    expect(measured(some, [0, 50, 9, 0, 0])).toBe(Number.NaN);
  });

  it("are worked out elsewhere for other metrics", () => {
    const metrics: readonly LeanMetric[] = [{ kind: "other", metric: 6 }];
    const evaluator = new LeanEvaluator(
      model(metrics),
      (metric, counts, richness) => 100 * metric + 10 * (counts[0] ?? 0) + (richness[3] ?? 0),
    );
    evaluator.evaluate(Int32Array.of(4, 0, 0, 1, 0), Float64Array.of(0));
    expect(evaluator.values[0]).toBe(641);
  });

  it("are not left out silently where nothing works them out", () => {
    expect(() => measured({ kind: "other", metric: 6 }, [1, 1, 1, 1, 1])).toThrow(
      "nothing works metric 6 out",
    );
  });
});

describe("scores in plain numbers", () => {
  const scored = (rule: Partial<LeanScoring>, value: number) => {
    const pieces = Int32Array.of(9);
    const score = leanScore(new ScoringRule({ ...AS_IT_IS, table: TABLE, ...rule }), value, 0, pieces);
    return [score, pieces[0]];
  };

  it("come from the piece that a value falls into", () => {
    expect(scored({}, 2)).toEqual([20, 5]);
    expect(scored({}, 3)).toEqual([30, 7]);
    expect(scored({}, 1)).toEqual([Number.NaN, -1]);
    expect(scored({}, Number.NaN)).toEqual([Number.NaN, -1]);
  });

  it("are the value itself without thresholds, rounded where the set says so", () => {
    expect(scored({ table: undefined }, 1.25)).toEqual([1.25, -1]);
    expect(scored({ table: undefined, decimals: 0 }, 1.5)).toEqual([2, -1]);
    expect(scored({ table: undefined, decimals: 1 }, 1.25)).toEqual([1.3, -1]);
  });

  it("are of the value less another, rounded, and in percent of a reference or the other way round", () => {
    expect(scored({ less: 1 }, 4)).toEqual([30, 7]);
    expect(scored({ less: Number.NaN }, 4)).toEqual([Number.NaN, -1]);
    expect(scored({ decimals: 0 }, 3.4)).toEqual([30, 7]);
    expect(scored({ decimals: 0, less: 1 }, 1.2)).toEqual([Number.NaN, -1]);
    expect(scored({ percent: 1, reference: 50 }, 2)).toEqual([40, 7]);
    expect(scored({ percent: -1, reference: 2 }, 50)).toEqual([40, 7]);
    expect(scored({ percent: 1, reference: 0 }, 2)).toEqual([Number.NaN, -1]);
    expect(scored({ percent: -1, reference: 2 }, 0)).toEqual([Number.NaN, -1]);
    expect(scored({ percent: 1 }, 2)).toEqual([Number.NaN, -1]);
  });

  it("become an index by each method", () => {
    const scores = Float64Array.of(4, 8);
    const by = (change: Partial<LeanIndex>, of = scores) =>
      leanIndex(new IndexRule({ ...SUM, ...change }), of);
    expect(by({})).toBe(12);
    expect(by({ method: "mean" })).toBe(6);
    expect(by({ method: "weighted-mean" })).toBe(7);
    expect(by({ method: "scaled-sum" })).toBe(6);
    expect(by({ method: "metric", metric: 1 })).toBe(8);
    const gap = Float64Array.of(Number.NaN, 8);
    expect(by({}, gap)).toBe(Number.NaN);
    expect(by({ leaveOut: true }, gap)).toBe(8);
    expect(by({ leaveOut: true, method: "mean" }, gap)).toBe(8);
    expect(by({ leaveOut: true, method: "weighted-mean" }, gap)).toBe(8);
    expect(by({ leaveOut: true, method: "scaled-sum" }, gap)).toBe(8);
    expect(by({ leaveOut: true }, Float64Array.of(Number.NaN, Number.NaN))).toBe(Number.NaN);
  });

  it("are rated by the index as it is or rounded", () => {
    expect([9.6, 10, 11, Number.NaN].map((index) => leanRating(new IndexRule(SUM), index))).toEqual([
      0, 1, 1, -1,
    ]);
    expect(leanRating(new IndexRule({ ...SUM, decimals: 0 }), 9.6)).toBe(1);
    expect(leanRating(new IndexRule({ ...SUM, decimals: 1 }), 9.6)).toBe(0);
  });

  it("are put together for a resample", () => {
    const evaluator = new LeanEvaluator(
      model([TAXA, SHARE], { scoring: [{ ...AS_IT_IS, table: TABLE }, AS_IT_IS] }),
    );
    expect([evaluator.metrics, evaluator.rating, evaluator.index]).toEqual([2, -1, Number.NaN]);
    evaluator.evaluate(Int32Array.of(1, 1, 0, 1, 1), Float64Array.of(0, 0));
    expect([...evaluator.values]).toEqual([4, 75]);
    expect([...evaluator.pieces]).toEqual([7, -1]);
    expect([evaluator.index, evaluator.rating, evaluator.ratingOf(3)]).toEqual([115, 1, 0]);
  });
});
