import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fraction } from "../../src/model/exact.ts";
import { parseWithin, targetRange } from "../../src/subsample/target-range.ts";

describe("the range of a target", () => {
  it("has the target itself at both ends without a tolerance", () => {
    expect(targetRange(200)).toEqual({ target: 200, lower: 200, upper: 200 });
  });

  it("takes the whole numbers inside where its ends are none", () => {
    // 25 within 10 percent: 22.5 to 27.5.
    expect(targetRange(25, fraction(1, 10))).toEqual({ target: 25, lower: 23, upper: 27 });
    // 7 within 1/3: 4.67 to 9.33.
    expect(targetRange(7, fraction(1, 3))).toEqual({ target: 7, lower: 5, upper: 9 });
    expect(targetRange(200, fraction(1))).toEqual({ target: 200, lower: 0, upper: 400 });
  });

  it("holds exactly the whole numbers within the tolerance", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 5000 }),
        fc.integer({ min: 0, max: 1000 }),
        (target, permille) => {
          const { lower, upper } = targetRange(target, fraction(permille, 1000));
          const isInside = (count: number) => Math.abs(count - target) * 1000 <= target * permille;
          expect(isInside(lower)).toBe(true);
          expect(isInside(upper)).toBe(true);
          expect(isInside(lower - 1)).toBe(false);
          expect(isInside(upper + 1)).toBe(false);
        },
      ),
      { seed: 7 },
    );
  });

  it("refuses targets and tolerances that are none", () => {
    for (const target of [0, -5, 1.5, Number.NaN]) expect(() => targetRange(target)).toThrow(RangeError);
    expect(() => targetRange(200, fraction(-1, 5))).toThrow(RangeError);
    expect(() => targetRange(200, fraction(6, 5))).toThrow(RangeError);
  });
});

describe("a tolerance", () => {
  it.each([
    ["20%", 1, 5],
    ["20 %", 1, 5],
    [" 20% ", 1, 5],
    ["12.5%", 1, 8],
    ["0%", 0, 1],
    ["100%", 1, 1],
    ["0.1%", 1, 1000],
    ["12.25%", 49, 400],
    ["0.000001%", 1, 100000000],
  ])("of %j is read exactly", (text, num, den) => {
    const share = parseWithin(text);
    expect(BigInt(share?.num ?? -1) * BigInt(den)).toBe(BigInt(num) * BigInt(share?.den ?? 1));
  });

  it.each(["", "20", "0.2", "%", "-5%", "+5%", "101%", "1e1%", "20%%", "20,5%", "five%"])(
    "is not %j",
    (text) => {
      expect(parseWithin(text)).toBe(undefined);
    },
  );
});
