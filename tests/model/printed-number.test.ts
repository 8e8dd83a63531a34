import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseDecimal } from "../../src/model/exact.ts";
import { numberText } from "../../src/model/number-text.ts";
import { printedExact } from "../../src/model/printed-number.ts";
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
