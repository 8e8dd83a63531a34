import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  absolute,
  add,
  compareExact,
  divide,
  equalExact,
  exactOf,
  fraction,
  multiply,
  negate,
  parseDecimal,
  roundExact,
  simplify,
  subtract,
  toNumber,
} from "../../src/model/exact.ts";

const anyFraction = fc
  .tuple(fc.maxSafeInteger(), fc.integer({ min: 1, max: Number.MAX_SAFE_INTEGER }))
  .map(([num, den]) => fraction(num, den));

describe("exact fractions", () => {
  it("decides a limit that floating point cannot: 802.6 / 200 is 4.013", () => {
    // Arithmetic: 8026 / 10 / 200 = 8026 / 2000 = 4.013
    expect(compareExact(fraction(8026, 2000), parseDecimal("4.013") ?? fraction(0))).toBe(0);
  });

  it("reads short decimals as it reads long ones", () => {
    const digits = fc.string({ unit: fc.constantFrom(..."0123456789"), minLength: 1, maxLength: 9 });
    fc.assert(
      fc.property(fc.constantFrom("", "-", "+"), digits, digits, (sign, whole, part) => {
        // Twenty zeros in front change nothing but the way by which it is read.
        const long = parseDecimal(`${sign}${"0".repeat(20)}${whole}.${part}`);
        expect(parseDecimal(`${sign}${whole}.${part}`)).toEqual(long);
      }),
    );
  });

  it.each([
    ["3.75", 15, 4],
    ["-0.5", -1, 2],
    ["12", 12, 1],
    ["0.10", 1, 10],
    ["+2.5", 5, 2],
  ])("reads %s as a decimal", (text, num, den) => {
    const value = parseDecimal(text);
    expect(value === undefined ? undefined : simplify(value)).toEqual({ num, den });
  });

  it.each(["", ".", "1.", ".5", "1e3", "0x10", "1,5", " 1", "١٢", "Infinity", "NaN", "--1"])(
    "refuses %j",
    (text) => {
      expect(parseDecimal(text)).toBeUndefined();
    },
  );

  it.each([
    // 751/200 = 3.755: half away from zero at two decimals; (3.755).toFixed(2) is "3.75" in floating point
    [751, 200, 2, 3.76],
    [-751, 200, 2, -3.76],
    [1005, 1000, 2, 1.01],
    [1, 3, 4, 0.3333],
    [5, 10, 0, 1],
    [-5, 10, 0, -1],
    [4, 10, 0, 0],
  ])("rounds %i/%i to %i decimals as %f", (num, den, decimals, expected) => {
    expect(toNumber(roundExact(fraction(num, den), decimals))).toBe(expected);
  });

  it("takes a number as its shortest decimal text", () => {
    expect(simplify(exactOf(0.1))).toEqual({ num: 1, den: 10 });
    expect(simplify(exactOf(1e21))).toEqual({ num: 10n ** 21n, den: 1n });
    expect(toNumber(exactOf(5e-7))).toBe(5e-7);
    expect(() => exactOf(Number.NaN)).toThrow(RangeError);
  });

  it("refuses what is not a fraction of whole numbers", () => {
    expect(() => fraction(1, 0)).toThrow(RangeError);
    expect(() => fraction(0.5)).toThrow(RangeError);
    expect(() => fraction(2 ** 53)).toThrow(RangeError);
    expect(() => divide(fraction(1), fraction(0))).toThrow(RangeError);
  });

  it("agrees with whole-number arithmetic on big numbers, whatever their size", () => {
    fc.assert(
      fc.property(anyFraction, anyFraction, (a, b) => {
        const sum = add(a, b);
        const [an, ad, bn, bd] = [BigInt(a.num), BigInt(a.den), BigInt(b.num), BigInt(b.den)];
        expect(BigInt(sum.num) * ad * bd).toBe((an * bd + bn * ad) * BigInt(sum.den));
        const product = multiply(a, b);
        expect(BigInt(product.num) * ad * bd).toBe(an * bn * BigInt(product.den));
        const cross = an * bd - bn * ad;
        expect(Math.sign(compareExact(a, b))).toBe(cross < 0n ? -1 : cross > 0n ? 1 : 0);
      }),
    );
  });

  it("obeys the laws of arithmetic", () => {
    fc.assert(
      fc.property(anyFraction, anyFraction, (a, b) => {
        expect(equalExact(subtract(add(a, b), b), a)).toBe(true);
        if (b.num !== 0) expect(equalExact(multiply(divide(a, b), b), a)).toBe(true);
        expect(equalExact(negate(negate(a)), a)).toBe(true);
        expect(compareExact(absolute(a), fraction(0))).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  it("comes as near as a floating-point number can", () => {
    fc.assert(
      fc.property(anyFraction, anyFraction, (a, b) => {
        const expected = toNumber(a) * toNumber(b);
        expect(Math.abs(toNumber(multiply(a, b)) - expected)).toBeLessThanOrEqual(Math.abs(expected) * 1e-14);
      }),
    );
  });
});
