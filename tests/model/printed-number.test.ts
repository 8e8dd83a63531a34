import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseDecimal } from "../../src/model/exact.ts";
import { numberText } from "../../src/model/number-text.ts";
import { printedExact } from "../../src/model/printed-number.ts";

const asText = (value: number) => parseDecimal(numberText(value));

describe("the exact value of a printed number", () => {
  it("is the one that its text has", () => {
    const digits = fc.integer({ min: 1, max: 10 ** 13 });
    // Numbers that end in the middle of two twelfth digits, or next to it, among others.
    const middle = fc
      .tuple(fc.integer({ min: 10 ** 11, max: 10 ** 12 - 1 }), fc.integer({ min: -3, max: 16 }))
      .map(([whole, decimals]) => (whole + 0.5) / 10 ** decimals);
    const value = fc.oneof(
      fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e15, max: 1e15 }),
      fc.double({ noNaN: true, min: 0, max: 20 }),
      fc.tuple(digits, fc.integer({ min: 0, max: 18 })).map(([whole, decimals]) => whole / 10 ** decimals),
      fc.tuple(digits, fc.integer({ min: 1, max: 10 ** 6 })).map(([num, den]) => num / den),
      middle,
      middle.map((one) => -one),
      fc.tuple(middle, fc.integer({ min: -4, max: 4 })).map(([one, steps]) => one * (1 + steps * 2 ** -52)),
    );
    fc.assert(
      fc.property(value, (one) => {
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
