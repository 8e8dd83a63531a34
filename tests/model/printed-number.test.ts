import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseDecimal } from "../../src/model/exact.ts";
import { numberText } from "../../src/model/number-text.ts";
import { printedDecimals, printedDigits, printedExact } from "../../src/model/printed-number.ts";
import { printedNumbers } from "../helpers/printed-numbers.ts";

const asText = (value: number) => parseDecimal(numberText(value));

describe("the exact value of a printed number", () => {
  it("is the one that its text has", () => {
    fc.assert(
      fc.property(printedNumbers(), (one) => {
        expect(printedExact(one)).toEqual(asText(one));
      }),
      { numRuns: 5000 },
    );
  });

  it.each([
    0, -0, 1, 0.1, 0.01, 0.001, 0.000999999999999, 9.99999999999951, 9.9999999999995, 99999999999.95,
    99999999999.96, 1e11, 1e12, 123456789012.5, 2.8600000000000003, -3.755, 1e-9, 1e21,
  ])("agrees with the text of %d", (value) => {
    expect(printedExact(value)).toEqual(asText(value));
  });

  it("leaves no power of ten that both parts share", () => {
    expect(printedExact(2.5)).toEqual({ num: 5, den: 2 });
    expect(printedExact(2.8600000000000003)).toEqual({ num: 143, den: 50 });
  });

  it("does not exist for what is not finite", () => {
    expect(() => printedExact(Number.NaN)).toThrow(RangeError);
    expect(() => printedExact(Number.POSITIVE_INFINITY)).toThrow(RangeError);
  });
});

describe("the digits of a printed number without its text", () => {
  it.each([
    [0, -1],
    [0.000999999, -1],
    [0.001, 14],
    [0.00999, 14],
    [0.01, 13],
    [0.0999, 13],
    [0.1, 12],
    [0.999, 12],
    [1, 11],
    [9.99, 11],
    [10, 10],
    [12345.678, 7],
    [99_999_999_999, 1],
    [100_000_000_000, -1],
    [Number.NaN, -1],
  ])("%d leaves room for %i decimals among twelve digits", (size, decimals) => {
    expect(printedDecimals(size)).toBe(decimals);
  });

  it.each([
    [2.86, 11, 286_000_000_000],
    [2.8600000000000003, 11, 286_000_000_000],
    [0.5, 12, 500_000_000_000],
    [12345.6789012345, 7, 123_456_789_012],
    [9.999999999994, 11, 999_999_999_999],
    // Thirteen digits when it is rounded.
    [9.9999999999996, 11, -1],
    // In the middle of two, as near as the product can tell.
    [1.000000000005, 11, -1],
    [0.1000000000005, 12, -1],
  ])("the twelve digits of %d with %i decimals are %i", (size, decimals, digits) => {
    expect(printedDigits(size, decimals)).toBe(digits);
  });
});
