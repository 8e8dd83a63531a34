import { describe, expect, it } from "vitest";
import { fraction, toNumber } from "../../src/model/exact.ts";
import { exactValue, missingValue, realValue, valueAsNumber } from "../../src/model/metric-value.ts";
import type { MetricScoring } from "../../src/scoring/score-metrics.ts";
import { comparedValue, roundMetric, scoreMetric } from "../../src/scoring/score-metrics.ts";
import { decimal, segment } from "../helpers/segments.ts";

const steps = [segment("[0,3.75]", "5"), segment("(3.75,10]", "1")];
const result = (scoring: MetricScoring) => {
  const outcome = scoreMetric(scoring);
  return outcome.kind === "scored" ? toNumber(outcome.score) : outcome.why;
};

describe("scoring one metric", () => {
  it("puts a mean that equals its limit at the limit", () => {
    // 750 / 200 = 3.75 exactly; 751 / 200 = 3.755 is above it
    expect(result({ value: exactValue(fraction(750, 200)), segments: steps, clip: false })).toBe(5);
    expect(result({ value: exactValue(fraction(751, 200)), segments: steps, clip: false })).toBe(1);
  });

  it("takes a real number as it is printed", () => {
    expect(
      result({ value: realValue(2.8600000000000003), segments: [segment("[0,2.86]", "3")], clip: false }),
    ).toBe(3);
  });

  it("rounds before it scores where the set says so", () => {
    expect(valueAsNumber(roundMetric(exactValue(fraction(751, 200)), 2))).toBe(3.76);
    expect(valueAsNumber(roundMetric(exactValue(fraction(751, 200)), undefined))).toBe(3.755);
    expect(roundMetric(missingValue("no animals"), 2)).toEqual({ kind: "missing", why: "no animals" });
  });

  it("scores the percentage of the reference, either way round", () => {
    const segments = [
      segment("(80,", "6", "6", { basis: "percent-of-reference" }),
      segment("[0,80]", "0", "0", { basis: "percent-of-reference" }),
    ];
    const value = exactValue(fraction(21));
    const referenceValue = exactValue(fraction(25));
    // 21 of 25 is 84 percent; 25 of 21 is 119.05 percent
    expect(result({ value, referenceValue, segments, clip: false })).toBe(6);
    expect(result({ value: exactValue(fraction(20)), referenceValue, segments, clip: false })).toBe(0);
    expect(result({ value, referenceValue, percentOf: "reference-of-value", segments, clip: false })).toBe(6);
    // 19 of 25 is 76 percent, 25 of 19 is 131.6 percent
    const lower = exactValue(fraction(19));
    expect(result({ value: lower, referenceValue, segments, clip: false })).toBe(0);
    expect(
      result({ value: lower, referenceValue, percentOf: "value-of-reference", segments, clip: false }),
    ).toBe(0);
    expect(
      result({ value: lower, referenceValue, percentOf: "reference-of-value", segments, clip: false }),
    ).toBe(6);
    expect(result({ value, referenceValue: missingValue("x"), segments, clip: false })).toBe("no-reference");
    expect(result({ value, segments, clip: false })).toBe("no-reference");
    expect(result({ value, referenceValue: exactValue(fraction(0)), segments, clip: false })).toBe(
      "no-reference",
    );
  });

  it("says what the limits are compared with: the value, or the percentage that is scored", () => {
    const percent = [segment("[0,", "0", "0", { basis: "percent-of-reference" })];
    const value = exactValue(fraction(20));
    const referenceValue = exactValue(fraction(25));
    const compared = (scoring: Parameters<typeof comparedValue>[0]) => {
      const found = comparedValue(scoring);
      return found === undefined ? undefined : toNumber(found);
    };
    expect(compared({ value, segments: steps, referenceValue })).toBe(20);
    expect(compared({ value, segments: [], referenceValue })).toBe(20);
    expect(compared({ value, segments: percent, referenceValue })).toBe(80);
    expect(compared({ value, segments: percent, referenceValue, percentOf: "reference-of-value" })).toBe(125);
    expect(compared({ value, segments: percent })).toBe(undefined);
    expect(compared({ value: missingValue("no animals"), segments: steps })).toBe(undefined);
  });

  it("says why a metric has no score", () => {
    expect(result({ value: missingValue("x"), segments: steps, clip: true })).toBe("missing");
    const moving = [
      segment("[0,", "0", "10", {
        covariate: "drainage_area_km2",
        upper: { at: decimal("10"), included: true, slope: decimal("1") },
      }),
    ];
    const value = exactValue(fraction(6));
    expect(result({ value, segments: moving, clip: true })).toBe("no-covariate");
    expect(result({ value, segments: moving, clip: true, covariate: () => decimal("2") })).toBe(5);
  });

  it("asks for the covariate that the segments name", () => {
    const asked: string[] = [];
    const segments = [segment("[0,10]", "1", "1", { covariate: "log10:drainage_area_km2" })];
    const covariate = (column: string) => {
      asked.push(column);
      return undefined;
    };
    const value = exactValue(fraction(6));
    const unscored = (why: string) => ({ kind: "unscored", why });
    expect(scoreMetric({ value, segments, clip: true, covariate })).toEqual(unscored("no-covariate"));
    expect(asked).toEqual(["log10:drainage_area_km2"]);
    expect(scoreMetric({ value: missingValue("x"), segments, clip: true })).toEqual(unscored("missing"));
    expect(scoreMetric({ value, segments: [], clip: true })).toEqual(unscored("beyond"));
    const basis = { basis: "percent-of-reference" } as const;
    expect(scoreMetric({ value, segments: [segment("[0,1]", "1", "1", basis)], clip: true })).toEqual(
      unscored("no-reference"),
    );
  });
});
