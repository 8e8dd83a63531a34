import { describe, expect, it } from "vitest";
import { toNumber } from "../../src/model/exact.ts";
import { classesFor, classRange, distanceToNextClass, rate } from "../../src/scoring/rate.ts";
import { decimal, ratingClass } from "../helpers/segments.ts";

// Family-level classes of Hilsenhoff 1988, J. N. Am. Benthol. Soc. 7:65-68, printed to two decimals (the last from memory).
const FAMILY = [
  ratingClass("[0,3.75]", "excellent"),
  ratingClass("[3.76,4.25]", "very good"),
  ratingClass("[4.26,5]", "good"),
  ratingClass("[5.01,5.75]", "fair"),
  ratingClass("[5.76,6.5]", "fairly poor"),
  ratingClass("[6.51,7.25]", "poor"),
  ratingClass("[7.26,10]", "very poor"),
];

describe("ratings", () => {
  it.each([
    ["3.75", "excellent"],
    ["3.76", "very good"],
    ["5", "good"],
    ["5.01", "fair"],
    ["10", "very poor"],
    ["3.755", ""],
  ])("puts %s into its class", (index, rating) => {
    expect(rate(decimal(index), FAMILY, "none").rating).toBe(rating);
  });

  it("names both neighbours in a deliberate gap", () => {
    // Plafkin et al. 1989, EPA 440/4-89-001, recalled from memory: above 83 non-impaired, 54-79 slightly impaired.
    const gaps = [ratingClass("(83,", "non-impaired"), ratingClass("[54,79]", "slightly impaired")];
    expect(rate(decimal("80"), gaps, "between").rating).toBe("between slightly impaired and non-impaired");
    expect(rate(decimal("83"), gaps, "between").rating).toBe("between slightly impaired and non-impaired");
    expect(rate(decimal("79"), gaps, "between").rating).toBe("slightly impaired");
    expect(rate(decimal("20"), gaps, "between").rating).toBe("");
    expect(rate(decimal("80"), gaps, "none").rating).toBe("");
  });

  it("hands on the classes that it names", () => {
    const gaps = [ratingClass("[80,", "good"), ratingClass("[0,20]", "poor"), ratingClass("[40,60]", "fair")];
    const classes = (index: string) => rate(decimal(index), gaps, "between").classes.map((one) => one.rating);
    expect(classes("50")).toEqual(["fair"]);
    // Whatever the order of the table, the neighbours of 30 are the classes below and above it.
    expect(classes("30")).toEqual(["poor", "fair"]);
    expect(classes("70")).toEqual(["fair", "good"]);
    expect(classes("-1")).toEqual([]);
    expect(rate(decimal("30"), gaps, "none")).toEqual({ rating: "", classes: [] });
    const closed = [ratingClass("[0,20]", "poor"), ratingClass("[40,60]", "fair")];
    expect(rate(decimal("61"), closed, "between")).toEqual({ rating: "", classes: [] });
    expect(rate(decimal("-1"), closed, "between")).toEqual({ rating: "", classes: [] });
  });

  it("uses the classes of the stratum where there are some", () => {
    const classes = [
      ratingClass("[0,50)", "poor"),
      ratingClass("[50,100]", "good"),
      ratingClass("[0,100]", "all", "upland"),
    ];
    expect(classesFor(classes, "upland").map((one) => one.rating)).toEqual(["all"]);
    expect(classesFor(classes, "lowland").map((one) => one.rating)).toEqual(["poor", "good"]);
  });

  it("cover the stretch from the lowest to the highest limit, endless at an open end or without classes", () => {
    const closed = [ratingClass("[40,60]", "fair"), ratingClass("[0,20]", "poor")];
    expect(classRange(closed)).toEqual([0, 60]);
    expect(classRange([...closed, ratingClass("[80,", "good")])).toEqual([0, Number.POSITIVE_INFINITY]);
    expect(classRange([...closed, ratingClass("(,0)", "bad")])).toEqual([Number.NEGATIVE_INFINITY, 60]);
    expect(classRange([])).toEqual([Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]);
  });

  it("says how far the nearest other class is", () => {
    const near = distanceToNextClass(decimal("4.2"), FAMILY);
    // From 4.2 the upper limit 4.25 is 0.05 away, the lower 3.76 is 0.44 away.
    expect(
      near === undefined ? undefined : [toNumber(near.distance), toNumber(near.limit), near.rating],
    ).toEqual([0.05, 4.25, "good"]);
    expect(distanceToNextClass(decimal("0"), FAMILY)?.rating).toBe("very good");
    expect(distanceToNextClass(decimal("11"), FAMILY)).toBeUndefined();
  });

  it("says so from either side, in a table of any order", () => {
    const table = [ratingClass("[50,", "good"), ratingClass("(,20)", "poor"), ratingClass("[20,50)", "fair")];
    const near = (index: string) => {
      const next = distanceToNextClass(decimal(index), table);
      return next === undefined ? undefined : [toNumber(next.distance), toNumber(next.limit), next.rating];
    };
    expect(near("10")).toEqual([10, 20, "fair"]);
    expect(near("22")).toEqual([2, 20, "poor"]);
    expect(near("44")).toEqual([6, 50, "good"]);
    // Half way between its limits: the lower one is named.
    expect(near("35")).toEqual([15, 20, "poor"]);
    expect(near("90")).toEqual([40, 50, "fair"]);
    expect(distanceToNextClass(decimal("3"), [ratingClass("[0,10]", "all")])).toBeUndefined();
  });
});
