import { describe, expect, it } from "vitest";
import { fraction } from "../../src/model/exact.ts";
import { exactValue, missingValue, realValue, valueAsNumber } from "../../src/model/metric-value.ts";

describe("values of metrics", () => {
  it("are exact, real or missing", () => {
    expect(exactValue(fraction(3, 4))).toEqual({ kind: "exact", value: { num: 3, den: 4 } });
    expect(realValue(0.5)).toEqual({ kind: "real", value: 0.5 });
    expect(missingValue("no animals")).toEqual({ kind: "missing", why: "no animals" });
  });

  it("are missing where they are not finite, for the reason given", () => {
    expect(realValue(Number.NaN, "no pairs")).toEqual({ kind: "missing", why: "no pairs" });
    expect(realValue(Number.POSITIVE_INFINITY)).toEqual({
      kind: "missing",
      why: "the formula has no finite value here",
    });
  });

  it("are numbers, or nothing when missing", () => {
    expect(valueAsNumber(exactValue(fraction(3, 4)))).toBe(0.75);
    expect(valueAsNumber(realValue(0.5))).toBe(0.5);
    expect(valueAsNumber(missingValue("x"))).toBe(undefined);
    // What is missing has no number, whatever else it carries.
    const stale = { kind: "missing", why: "x", value: 3 } as const;
    expect(valueAsNumber(stale)).toBe(undefined);
  });
});
