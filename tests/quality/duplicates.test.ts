import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Exact } from "../../src/model/exact.ts";
import { exactOf, fraction } from "../../src/model/exact.ts";
import { detectableDifference } from "../../src/quality/detectable-difference.ts";
import { duplicateSummary } from "../../src/quality/duplicates.ts";
import { ratingAgreement } from "../../src/quality/rating-agreement.ts";
import { relativePercentDifference } from "../../src/quality/relative-difference.ts";
import { groupSpread, withinSitePrecision } from "../../src/quality/within-site.ts";

const exact = (values: readonly number[]): Exact[] => values.map(exactOf);

describe("relativePercentDifference", () => {
  it("is worked by hand: 6 of a mean of 40", () => {
    expect(relativePercentDifference(exact([43, 37]))).toEqual({ num: 15, den: 1 });
    expect(relativePercentDifference(exact([37, 43]))).toEqual({ num: 15, den: 1 });
    expect(relativePercentDifference(exact([0, 5]))).toEqual({ num: 200, den: 1 });
    expect(relativePercentDifference(exact([5, 5]))).toEqual({ num: 0, den: 1 });
  });

  it("takes the smallest and the largest of a larger group", () => {
    expect(relativePercentDifference(exact([40, 43, 37]))).toEqual({ num: 15, den: 1 });
  });

  it("is not computable for zeros, for single values and beside values below zero", () => {
    expect(relativePercentDifference(exact([0, 0]))).toBeUndefined();
    expect(relativePercentDifference(exact([4]))).toBeUndefined();
    expect(relativePercentDifference([])).toBeUndefined();
    expect(relativePercentDifference(exact([-1, 3]))).toBeUndefined();
  });
});

describe("withinSitePrecision", () => {
  it("is worked by hand: two pairs and a group of three", () => {
    // Deviations: 10, 14 from 12: 4 + 4 = 8; 20, 21 from 20.5: 0.25 + 0.25 = 0.5; 3, 6, 9 from 6: 9 + 9 = 18.
    // Sum 26.5, degrees of freedom 1 + 1 + 2 = 4, mean square 6.625; mean 83 / 7.
    const found = withinSitePrecision([exact([10, 14]), exact([20, 21]), exact([3, 6, 9])]);
    expect(found).toMatchObject({
      groups: 3,
      samples: 7,
      degreesOfFreedom: 4,
      mean: { num: 83, den: 7 },
      meanSquare: { num: 53, den: 8 },
    });
    expect(found?.standardDeviation).toBeCloseTo(2.5739, 4);
    expect(found?.coefficientOfVariation).toBeCloseTo(21.708, 3);
  });

  it("leaves out groups with one value, and has no answer without a pair", () => {
    const withSingle = withinSitePrecision([exact([10, 14]), exact([99])]);
    expect(withSingle).toEqual(withinSitePrecision([exact([10, 14])]));
    expect(withinSitePrecision([exact([99]), []])).toBeUndefined();
    expect(withinSitePrecision([])).toBeUndefined();
  });

  it("has no CV where the mean is not above zero", () => {
    expect(withinSitePrecision([exact([0, 0])])).toMatchObject({
      standardDeviation: 0,
      coefficientOfVariation: undefined,
    });
    expect(groupSpread(exact([-2, 0]))?.coefficientOfVariation).toBeUndefined();
    expect(groupSpread(exact([3]))).toBeUndefined();
  });

  it("does not lose small differences of large values", () => {
    expect(withinSitePrecision([exact([1e9 + 0.25, 1e9 + 0.75])])?.meanSquare).toEqual({ num: 1, den: 8 });
  });

  const groups = fc.array(
    fc.array(
      fc.integer({ min: -5000, max: 5000 }).map((value) => fraction(value, 100)),
      { minLength: 1, maxLength: 4 },
    ),
    { minLength: 1, maxLength: 6 },
  );

  it("depends on no order, and on no shift of a whole group", () => {
    fc.assert(
      fc.property(groups, (values) => {
        const found = withinSitePrecision(values);
        const turned = withinSitePrecision([...values].reverse().map((group) => [...group].reverse()));
        expect(turned).toEqual(found);
        const shifted = withinSitePrecision(
          values.map((group, at) => group.map(({ num, den }) => ({ num: Number(num) + 100 * at, den }))),
        );
        expect(shifted?.standardDeviation).toBe(found?.standardDeviation);
      }),
    );
  });
});

describe("detectableDifference", () => {
  it("is worked by hand for pairs of four samples and s = 2", () => {
    // t 0.95 with 4 degrees of freedom is 2.1318, t 0.80 is 0.9410 (printed tables); s / sqrt(4) = 1.
    const found = detectableDifference(2, 4, 4);
    expect(found.halfWidth).toBeCloseTo(2.1318, 4);
    expect(found.halfWidthNormal).toBe(1.645);
    expect(found.fromLimit).toBe(found.halfWidth);
    expect(found.fromLimitPower80).toBeCloseTo(3.0728, 4);
    expect(found.fromLimitPower80Normal).toBeCloseTo(2.487, 10);
    expect(found.betweenTwo).toBeCloseTo(3.0149, 4);
    expect(found.betweenTwoNormal).toBeCloseTo(2.32638, 5);
  });

  it("shrinks with the square root of the samples", () => {
    // s = 6, n = 9: standard error 2.
    const found = detectableDifference(6, 4, 9);
    expect(found.fromLimit).toBeCloseTo(2 * 2.1318, 3);
    expect(found.fromLimitPower80).toBeCloseTo(2 * 3.0728, 3);
    expect(found.fromLimitPower80Normal).toBeCloseTo(2 * 2.487, 10);
  });

  it("gives the spread of one group", () => {
    expect(groupSpread(exact([3, 6, 9]))).toEqual({
      mean: { num: 6, den: 1 },
      standardDeviation: 3,
      coefficientOfVariation: 50,
    });
  });

  it("needs a larger difference between two samples, by the square root of two", () => {
    const found = detectableDifference(3.3, 9, 1);
    expect(found.betweenTwo / found.fromLimit).toBeCloseTo(Math.SQRT2, 12);
    expect(found.betweenTwoNormal / found.halfWidthNormal).toBeCloseTo(Math.SQRT2, 12);
  });
});

describe("ratingAgreement", () => {
  it("counts every pair of a group and leaves out samples without a rating", () => {
    const found = ratingAgreement([
      ["good", "good"],
      ["good", "fair"],
      ["good", "fair", "fair"],
      ["good", ""],
    ]);
    // Pairs 1 + 1 + 3 = 5, of which 1 + 2 differ.
    expect(found).toEqual({
      pairs: 5,
      differing: 3,
      percentDiffering: { num: 60, den: 1 },
      withoutRating: 1,
    });
    expect(ratingAgreement([["", "good"]])).toMatchObject({ pairs: 0, withoutRating: 1 });
    expect(ratingAgreement([["", ""]])).toEqual({
      pairs: 0,
      differing: 0,
      percentDiffering: undefined,
      withoutRating: 1,
    });
  });
});

describe("duplicateSummary", () => {
  const values = new Map([
    ["A", 43],
    ["A-D", 37],
    ["B", 0],
    ["B-D", 0],
    ["C", 50],
    ["D", 40],
    ["D-D", 50],
  ]);
  const groups = ["A", "B", "C", "D"].map((primary) => ({ primary, sampleIds: [primary, `${primary}-D`] }));
  const limit = { side: "at-most", at: fraction(15) } as const;
  const summarise = () =>
    duplicateSummary(
      "index",
      groups,
      (id) => {
        const value = values.get(id);
        return value === undefined ? undefined : exactOf(value);
      },
      limit,
    );

  it("judges each pair: 15 percent passes, 22.2 fails, zeros and single values have no figure", () => {
    const summary = summarise();
    expect(
      summary.figures.map(({ primary, judgement, whyNot }) => [primary, judgement.outcome, whyNot]),
    ).toEqual([
      ["A", "pass", undefined],
      ["B", "not-computable", "all-zero"],
      ["C", "not-computable", "too-few-values"],
      ["D", "fail", undefined],
    ]);
    expect(summary.failed).toBe(1);
    expect(summary.figures[2]).toMatchObject({ sampleIds: ["C"], withoutValue: ["C-D"] });
    // (15 + 200 / 9) / 2
    expect(summary.meanRelativeDifference).toEqual({ num: 335, den: 18 });
  });

  it("pools what has two values: squares 18 + 0 + 50 over 3 degrees of freedom", () => {
    const summary = summarise();
    expect(summary.precision).toMatchObject({
      groups: 3,
      degreesOfFreedom: 3,
      meanSquare: { num: 68, den: 3 },
    });
    expect(summary.detectable.map(({ samples }) => samples)).toEqual([1, 2, 3]);
    // t 0.95 with 3 degrees of freedom is 2.353 in printed tables; sqrt(68 / 3) = 4.7610.
    expect(summary.detectable[0]?.halfWidth).toBeCloseTo(2.35336 * 4.76095, 3);
  });

  it("says that values below zero have no relative difference", () => {
    const below = duplicateSummary("x", groups.slice(0, 1), () => exactOf(-1), undefined);
    expect(below.figures[0]).toMatchObject({ whyNot: "below-zero", relativeDifference: undefined });
    const one = duplicateSummary("x", groups.slice(0, 1), (id) => exactOf(id === "A" ? -1 : 3), undefined);
    expect(one.figures[0]?.whyNot).toBe("below-zero");
    const zero = duplicateSummary("x", groups.slice(0, 1), () => exactOf(0), undefined);
    expect(zero.figures[0]?.whyNot).toBe("all-zero");
    const single = duplicateSummary(
      "x",
      groups.slice(0, 1),
      (id) => (id === "A" ? exactOf(-1) : undefined),
      undefined,
    );
    expect(single.figures[0]?.whyNot).toBe("too-few-values");
    expect(single.figures[0]?.values).toHaveLength(1);
  });

  it("has no precision without groups", () => {
    const none = duplicateSummary("x", [], () => undefined, limit);
    expect(none).toMatchObject({ precision: undefined, detectable: [], failed: 0, figures: [] });
  });
});
