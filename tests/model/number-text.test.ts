import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { numberText } from "../../src/model/number-text.ts";

describe("numbers as text", () => {
  it.each([
    [0, "0"],
    [-0, "0"],
    [12, "12"],
    [3.1, "3.1"],
    [1 / 3, "0.333333333333"],
    [0.1 + 0.2, "0.3"],
    [1e-7, "0.0000001"],
    [-1.5e-9, "-0.0000000015"],
    [1e15, "1000000000000000"],
    [123456789012.5, "123456789013"],
    [-2.5, "-2.5"],
    [-1e12, "-1000000000000"],
    [999999999999, "999999999999"],
    // No more than 12 significant digits, in whole numbers, too.
    [1234567890123, "1234567890120"],
    [-1234567890127, "-1234567890130"],
    [Number.MIN_VALUE, `0.${"0".repeat(323)}494065645841`],
  ])("writes %f as %s", (value, text) => {
    expect(numberText(value)).toBe(text);
  });

  it("has no exponent, no more than 12 significant digits, and reads back within them", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e15, max: 1e15 }), (value) => {
        const text = numberText(value);
        expect(text).toMatch(/^-?\d+(\.\d+)?$/);
        expect(Math.abs(Number(text) - value)).toBeLessThanOrEqual(Math.abs(value) * 1e-11);
      }),
    );
  });

  it("refuses what is not finite", () => {
    expect(() => numberText(Number.NaN)).toThrow(RangeError);
    expect(() => numberText(Number.POSITIVE_INFINITY)).toThrow(RangeError);
  });
});
