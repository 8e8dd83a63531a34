import { describe, expect, it } from "vitest";
import { normalQuantile } from "../../../src/model/normal-quantile.ts";
import type { IntervalForm } from "../../../src/scoring/intervals/interval.ts";
import {
  INTERVAL_FORMS,
  intervalOf,
  quantileOf,
  varianceOf,
} from "../../../src/scoring/intervals/interval.ts";

describe("quantiles", () => {
  it("of numbers put the k-th of B at k / (B + 1)", () => {
    const sorted = Array.from({ length: 19 }, (_, at) => at + 1);
    expect(quantileOf(sorted, 0.05)).toBeCloseTo(1, 12);
    expect(quantileOf(sorted, 0.5)).toBeCloseTo(10, 12);
    expect(quantileOf(sorted, 0.95)).toBeCloseTo(19, 12);
    expect(quantileOf(sorted, 0.075)).toBeCloseTo(1.5, 12);
    expect(quantileOf(sorted, 0.001)).toBe(1);
    expect(quantileOf(sorted, 0.999)).toBe(19);
  });
});

describe("variance", () => {
  it("has n - 1 below, and is exactly nothing where all are equal", () => {
    expect(varianceOf([2, 4, 4, 4, 5, 5, 7, 9])).toBeCloseTo(32 / 7, 12);
    expect(varianceOf([0.1, 0.1, 0.1])).toBe(0);
    expect(varianceOf([1, 4])).toBeCloseTo(4.5, 12);
    expect(varianceOf([5])).toBe(0);
    expect(varianceOf([])).toBe(0);
  });
});

describe("intervals", () => {
  const skewed = Float64Array.from([0, 0, 1, 1, 2, 10]);
  const of = (form: IntervalForm, centre = 5, stretch = 1) =>
    intervalOf({ values: skewed, variance: varianceOf(skewed), centre, stretch }, 0.5, form);

  it("turn the tails round (basic), leave them (centred), or have none (normal)", () => {
    const mean = 14 / 6;
    expect(of("basic")).toEqual({ low: 5 - (4 - mean), high: 5 - (0 - mean) });
    expect(of("centred")).toEqual({ low: 5 + (0 - mean), high: 5 + (4 - mean) });
    expect(of("percentile")).toEqual({ low: 0, high: 4 });
    const normal = of("normal");
    expect((normal?.low ?? 0) + (normal?.high ?? 0)).toBeCloseTo(10, 12);
    expect((normal?.high ?? 0) - 5).toBeCloseTo(normalQuantile(0.75) * Math.sqrt(varianceOf(skewed)), 12);
  });

  it("have no width where nothing varies or nothing is stretched", () => {
    for (const form of Object.keys(INTERVAL_FORMS) as IntervalForm[]) {
      expect(of(form, 5, 0)).toEqual({ low: 5, high: 5 });
      const same = { values: Float64Array.from([3, 3]), variance: 0, centre: 3.25, stretch: 1 };
      expect(intervalOf(same, 0.9, form)).toEqual({ low: 3.25, high: 3.25 });
    }
  });

  it("are not given without values or a centre", () => {
    const none = { values: new Float64Array(0), variance: 0, centre: 1, stretch: 1 };
    expect(intervalOf(none, 0.9, "normal")).toBe(undefined);
    expect(of("normal", Number.NaN)).toBe(undefined);
  });
});
