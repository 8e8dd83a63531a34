import { describe, expect, it } from "vitest";
import { resamplingPlan } from "../../../src/scoring/intervals/plan.ts";
import type { ResamplingJob } from "../../../src/scoring/intervals/resampling-job.ts";
import { boundsOf, clippedBounds, finite, within } from "../../../src/scoring/intervals/spread.ts";

const JOB = {
  plan: resamplingPlan({ resamples: 10, confidence: 0.9 }),
  ways: { form: "normal", unseen: "together" },
} as unknown as ResamplingJob;

/** A number around 50 whose resamples have a variance, with endless degrees of freedom. */
const around50 = (total: number, stretch = 1) => ({
  known: Float64Array.of(50 - Math.sqrt(total), 50 + Math.sqrt(total)),
  centre: 50,
  total,
  ofDraws: 0,
  stretch: { stretch, degrees: (ofUnits: number) => ofUnits, unitDegrees: () => 0 },
});
const ENDLESS = Number.POSITIVE_INFINITY;
/** 95 percent point of the standard normal distribution, and of Student's t with 4 degrees of freedom (any table). */
const NORMAL_95 = 1.6448536;
const T4_95 = 2.1318468;

describe("the interval of one number", () => {
  it("is the normal one of its variance where that is known, wider by t where it is not", () => {
    const normal = boundsOf(JOB, around50(4), ENDLESS, 0);
    expect(normal.variance).toBe(4);
    expect(normal.bounds?.low).toBeCloseTo(50 - 2 * NORMAL_95, 4);
    expect(normal.bounds?.high).toBeCloseTo(50 + 2 * NORMAL_95, 4);
    expect(boundsOf(JOB, around50(4), 4, 0).bounds?.high).toBeCloseTo(50 + 2 * T4_95, 4);
  });

  it("holds the stretch of the variance, and the field beside it", () => {
    // 4 stretched three times in width is 36; with 28 of the field 64, whose root is 8.
    const { bounds, variance } = boundsOf(JOB, around50(4, 3), ENDLESS, 28);
    expect(variance).toBe(36);
    expect(bounds?.high).toBeCloseTo(50 + 8 * NORMAL_95, 3);
  });

  it("is that of the field alone where nothing else varies", () => {
    const { bounds, variance } = boundsOf(JOB, around50(0), ENDLESS, 9);
    expect(variance).toBe(0);
    expect(bounds?.low).toBeCloseTo(50 - 3 * NORMAL_95, 4);
    expect(bounds?.high).toBeCloseTo(50 + 3 * NORMAL_95, 4);
  });
});

describe("ends of a scale", () => {
  it("are where an interval that reaches beyond ends", () => {
    expect(clippedBounds({ low: -3, high: 104 }, [0, 100])).toEqual({ low: 0, high: 100 });
    expect(clippedBounds({ low: 3, high: 99 }, [0, 100])).toEqual({ low: 3, high: 99 });
    expect(clippedBounds(undefined, [0, 100])).toBe(undefined);
    expect([-1, 50, 101].map((value) => within([0, 100], value))).toEqual([0, 50, 100]);
  });
});

describe("values of a number that was missing now and then", () => {
  it("are those that it had; none is copied where it never was", () => {
    expect([...finite(Float64Array.of(1, Number.NaN, 3))]).toEqual([1, 3]);
    const all = Float64Array.of(1, 2);
    expect(finite(all)).toBe(all);
  });
});
