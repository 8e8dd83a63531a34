import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LONGEST_DECIMAL, writeDecimal } from "../../../src/files/formats/decimal-bytes.ts";
import { numberText } from "../../../src/model/number-text.ts";
import { printedNumbers } from "../../helpers/printed-numbers.ts";

const written = (number: number): string | undefined => {
  const page = Buffer.alloc(LONGEST_DECIMAL + 2, "x");
  const end = writeDecimal(page, 1, number);
  // Nothing is written in front of the place, and nothing where it is the text that is wanted.
  expect(page.toString("latin1", 0, 1)).toBe("x");
  if (end >= 0) return page.toString("latin1", 1, end);
  expect(page.toString("latin1", 1)).toBe("x".repeat(LONGEST_DECIMAL + 1));
  return undefined;
};

describe("a decimal number as bytes", () => {
  it("is its text, or is left to it", () => {
    fc.assert(
      fc.property(printedNumbers(), (number) => {
        expect([undefined, numberText(number)]).toContain(written(number));
      }),
      { numRuns: 5000 },
    );
  });

  it.each([
    [2.5, "2.5"],
    [-0.5, "-0.5"],
    [0.1, "0.1"],
    [0.01, "0.01"],
    [0.001, "0.001"],
    [-0.00123456789012345, "-0.00123456789012"],
    [24.3702290076336, "24.3702290076"],
    [100, "100"],
    [1200.04, "1200.04"],
    [99999999999.9, "99999999999.9"],
    [2.8600000000000003, "2.86"],
  ])("is written from its digits: %d", (number, text) => {
    expect(written(number)).toBe(numberText(number));
    expect(written(number)).toBe(text);
  });

  it.each([0, 0.000999, 1e11, 1e21, 9.999999999999998, Number.NaN, Number.POSITIVE_INFINITY])(
    "is left to its text: %d",
    (number) => {
      expect(written(number)).toBeUndefined();
    },
  );
});
