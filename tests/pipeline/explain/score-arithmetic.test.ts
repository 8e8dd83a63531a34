import { describe, expect, it } from "vitest";
import { exactOf } from "../../../src/model/exact.ts";
import { exactValue } from "../../../src/model/metric-value.ts";
import type { Segment } from "../../../src/model/segment.ts";
import { scoreArithmetic } from "../../../src/pipeline/explain/score-arithmetic.ts";
import type { MetricStep } from "../../../src/pipeline/score-values.ts";
import { scoreMetric } from "../../../src/scoring/score-metrics.ts";

function line(from: number, to: number, low: number, high: number, more: Partial<Segment> = {}): Segment {
  return {
    lower: { at: exactOf(low), included: true },
    upper: { at: exactOf(high), included: true },
    scoreAtLower: exactOf(from),
    scoreAtUpper: exactOf(to),
    basis: "value",
    note: "",
    line: 2,
    ...more,
  };
}

function step(
  value: number,
  segment: Segment,
  reference?: number,
  percentOf?: "value-of-reference" | "reference-of-value",
): MetricStep {
  const scored = exactValue(exactOf(value));
  const referenceValue = reference === undefined ? undefined : exactValue(exactOf(reference));
  const segments = [segment];
  const outcome = scoreMetric({
    value: scored,
    segments,
    clip: true,
    referenceValue,
    percentOf,
    covariate: () => exactOf(2),
  });
  return { raw: scored, scored, reference: referenceValue, segments, outcome };
}

const none = () => undefined;

describe("the way along a straight segment", () => {
  it("is written for scores that rise and fall", () => {
    expect(scoreArithmetic(step(25, line(0, 10, 8, 34)), undefined, none)).toBe(
      "0 + 10 x (25 - 8) / (34 - 8)",
    );
    expect(scoreArithmetic(step(20, line(10, 0, 15, 60)), undefined, none)).toBe(
      "10 - 10 x (20 - 15) / (60 - 15)",
    );
  });

  it("goes by the percentage of the reference where the limits do", () => {
    const segment = line(0, 6, 20, 80, { basis: "percent-of-reference" });
    expect(scoreArithmetic(step(10, segment, 20), undefined, none)).toBe(
      "100 x 10 / 20 = 50 percent of the reference; 0 + 6 x (50 - 20) / (80 - 20)",
    );
    expect(scoreArithmetic(step(40, segment, 20, "reference-of-value"), "reference-of-value", none)).toBe(
      "100 x 20 / 40 = 50 percent of the reference; 0 + 6 x (50 - 20) / (80 - 20)",
    );
  });

  it("takes limits where the covariate has moved them", () => {
    const slope = exactOf(3);
    const segment = line(0, 10, 4, 24, {
      covariate: "drainage_area_km2",
      lower: { at: exactOf(4), included: true, slope },
      upper: { at: exactOf(24), included: true, slope },
    });
    // 4 + 3 x 2 = 10 and 24 + 3 x 2 = 30
    expect(scoreArithmetic(step(15, segment), undefined, () => exactOf(2))).toBe(
      "0 + 10 x (15 - 10) / (30 - 10)",
    );
  });

  it("is empty for steps and for values beyond the ends", () => {
    expect(scoreArithmetic(step(10, line(5, 5, 8, 34)), undefined, none)).toBeUndefined();
    expect(scoreArithmetic(step(40, line(0, 10, 8, 34)), undefined, none)).toBeUndefined();
  });
});
