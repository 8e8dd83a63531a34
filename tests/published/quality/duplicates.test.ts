import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { exactOf, toNumber } from "../../../src/model/exact.ts";
import { studentQuantile } from "../../../src/model/student-t.ts";
import { detectableDifference, PUBLISHED_NORMAL } from "../../../src/quality/detectable-difference.ts";
import { judge } from "../../../src/quality/judgement.ts";
import { USUAL_LIMITS } from "../../../src/quality/limits.ts";
import { ratingAgreement } from "../../../src/quality/rating-agreement.ts";
import { relativePercentDifference } from "../../../src/quality/relative-difference.ts";
import { withinSitePrecision } from "../../../src/quality/within-site.ts";
import { entries, entry, number, numbers, part } from "./entries.ts";

const SCIPY = JSON.parse(readFileSync(new URL("scipy.json", import.meta.url), "utf8")) as {
  studentQuantiles: { probability: number; degreesOfFreedom: number; t: number }[];
  analysesOfVariance: { groups: number[][]; F: number }[];
};

describe("relative percent difference (limit read, formula as recalled)", () => {
  it("DUP-01: 62.4 and 55.1 are within 15 percent", () => {
    const { input, expected, tolerance } = entry("DUP-01");
    const found = relativePercentDifference([exactOf(number(input, "a")), exactOf(number(input, "b"))]);
    const value = found === undefined ? Number.NaN : toNumber(found);
    expect(Math.abs(value - number(expected, "rpd_pct"))).toBeLessThanOrEqual(tolerance);
    expect(judge(found, USUAL_LIMITS.relativeDifference).outcome).toBe(expected.result);
  });

  it("DUP-02: two zeros have none", () => {
    const { input, expected } = entry("DUP-02");
    expect(
      relativePercentDifference([exactOf(number(input, "a")), exactOf(number(input, "b"))]),
    ).toBeUndefined();
    expect(expected.rpd_pct).toBeNull();
  });
});

/** Printed differences that the formula does not give: misprints or rounding of s in the source. */
const NOT_REPRODUCED = new Set(["WY-01 triplicate", "WY-02 single"]);

describe("table 9-2 of Barbour et al. 1999 (Wyoming), differences at p = 0.10 by the normal factor", () => {
  it.each(entries("WY-"))("$id", ({ id, input, expected, tolerance }) => {
    const sd = number(input, "sd_repeated");
    const printed = part(input, "published_as_printed");
    ["single", "duplicate", "triplicate"].forEach((name, at) => {
      const { halfWidthNormal } = detectableDifference(sd, 24, at + 1);
      expect(Math.abs(halfWidthNormal - number(expected, name))).toBeLessThanOrEqual(tolerance);
      const isReproduced = Math.round(halfWidthNormal) === number(printed, name);
      expect(isReproduced).toBe(!NOT_REPRODUCED.has(`${id} ${name}`));
    });
    const cv = (100 * sd) / number(input, "mean");
    expect(Math.abs(cv - number(expected, "cv_pct"))).toBeLessThanOrEqual(tolerance);
  });
});

describe("power and agreement", () => {
  it("POW-01: 80 percent power at one and two samples (Florida, chapter 4.5 of the same manual)", () => {
    const { input, expected, tolerance } = entry("POW-01");
    expect([PUBLISHED_NORMAL.confidence, PUBLISHED_NORMAL.power80]).toEqual(numbers(input, "z"));
    const sd = (number(input, "cv_pct") * number(input, "mean")) / 100;
    const found = numbers(input, "n").map((n) => detectableDifference(sd, 6, n).fromLimitPower80Normal);
    expect(found.map(Math.round)).toEqual(numbers(expected, "detectable_points_published"));
    numbers(expected, "computed").forEach((value, at) => {
      expect(Math.abs((found[at] ?? Number.NaN) - value)).toBeLessThanOrEqual(Math.min(tolerance, 0.001));
    });
  });

  it("AGREE-01: 24 of 131 and 15 of 77 pairs with another class (Stribling, Jessup and Feldman 2008)", () => {
    const { input, expected, tolerance } = entry("AGREE-01");
    numbers(input, "d").forEach((differing, at) => {
      const pairs = numbers(input, "n")[at] ?? 0;
      const groups = Array.from({ length: pairs }, (_, pair) => ["fair", pair < differing ? "poor" : "fair"]);
      const { percentDiffering } = ratingAgreement(groups);
      const value = percentDiffering === undefined ? Number.NaN : toNumber(percentDiffering);
      expect(Math.abs(value - (numbers(expected, "pct")[at] ?? 0))).toBeLessThanOrEqual(tolerance);
    });
  });
});

describe("against SciPy", () => {
  it("gives the same quantiles of Student's t", () => {
    expect(SCIPY.studentQuantiles).toHaveLength(96);
    for (const { probability, degreesOfFreedom, t } of SCIPY.studentQuantiles)
      expect(Math.abs(studentQuantile(probability, degreesOfFreedom) / t - 1)).toBeLessThan(1e-10);
  });

  it("gives the error mean square behind its F statistics", () => {
    expect(SCIPY.analysesOfVariance).toHaveLength(3);
    for (const { groups, F } of SCIPY.analysesOfVariance) {
      const found = withinSitePrecision(groups.map((group) => group.map(exactOf)));
      if (found === undefined) throw new Error("every analysis has pairs");
      const mean = toNumber(found.mean);
      const between = groups.reduce((sum, group) => {
        const own = group.reduce((total, value) => total + value, 0) / group.length;
        return sum + group.length * (own - mean) ** 2;
      }, 0);
      expect(between / (groups.length - 1) / toNumber(found.meanSquare)).toBeCloseTo(F, 8);
      expect(found.degreesOfFreedom).toBe(groups.flat().length - groups.length);
    }
  });
});
