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
  isNegative,
  isZero,
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

  it.each<[string, number | bigint, number | bigint]>([
    // Lowest terms, whatever was written.
    ["0.50", 1, 2],
    ["-0", 0, 1],
    ["-0.000", 0, 1],
    // 15 digits, 16 digits, and the last whole number of 53 bits with the one after it.
    ["-12345678901234.5", -24691357802469, 2],
    ["0.1234567890123456", 19290123283179, 156250000000000],
    ["9007199254740991", 9007199254740991, 1],
    ["-9007199254740991", -9007199254740991, 1],
    ["9007199254740992", 9007199254740992n, 1n],
    ["-9007199254740992", -9007199254740992n, 1n],
    ["+9007199254740993.5", 18014398509481987n, 2n],
  ])("keeps every digit of %s", (text, num, den) => {
    expect(parseDecimal(text)).toEqual({ num, den });
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
    expect(exactOf(-1.25e-7)).toEqual({ num: -1, den: 8_000_000 });
    expect(exactOf(12.5)).toEqual({ num: 25, den: 2 });
    expect([exactOf(0), exactOf(-0), exactOf(-7)]).toEqual([
      { num: 0, den: 1 },
      { num: 0, den: 1 },
      { num: -7, den: 1 },
    ]);
    // Whole numbers beyond 53 bits are taken as they are written, too.
    expect(exactOf(2 ** 53)).toEqual({ num: 2n ** 53n, den: 1n });
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])
      expect(() => exactOf(value)).toThrow(new RangeError(`not a finite number: ${value}`));
  });

  it("gives every number back that was taken exactly", () => {
    const finite = fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e280, max: 1e280 });
    fc.assert(
      fc.property(finite, (value) => {
        const back = toNumber(exactOf(value));
        expect(Math.abs(back - value)).toBeLessThanOrEqual(Math.abs(value) * 1e-15);
      }),
    );
    for (const value of [1e-300, -1e-300, Number.MIN_VALUE, Number.MAX_VALUE, -Number.MAX_VALUE])
      expect(toNumber(exactOf(value))).toBe(value);
  });

  it("refuses what is not a fraction of whole numbers", () => {
    expect(() => fraction(1, 0)).toThrow(RangeError);
    expect(() => fraction(0.5)).toThrow(RangeError);
    expect(() => fraction(2 ** 53)).toThrow(RangeError);
    expect(() => divide(fraction(1), fraction(0))).toThrow(RangeError);
  });

  it("has no zero below zero", () => {
    const zero = { num: 0, den: 1 };
    expect(fraction(-0)).toEqual(zero);
    expect(negate(fraction(0))).toEqual(zero);
    expect(multiply(fraction(-3), fraction(0))).toEqual(zero);
    expect(roundExact(fraction(-1, 3), 0)).toEqual(zero);
    expect(absolute(fraction(0))).toEqual(zero);
  });

  it("tells zero, negative and equal apart, for short parts and long ones", () => {
    const huge = 10n ** 20n;
    const values = [fraction(0), { num: 0n, den: huge }, fraction(-1, 2), fraction(1, 2)];
    const long = [
      { num: -1n, den: huge },
      { num: 1n, den: huge },
    ];
    expect([...values, ...long].map(isZero)).toEqual([true, true, false, false, false, false]);
    expect([...values, ...long].map(isNegative)).toEqual([false, false, true, false, true, false]);
    expect(equalExact(fraction(1, 2), fraction(2, 4))).toBe(true);
    expect(equalExact(fraction(1, 2), fraction(1, 3))).toBe(false);
    expect(equalExact({ num: huge, den: 3n * huge }, fraction(1, 3))).toBe(true);
    expect(equalExact(fraction(1, 3), { num: huge + 1n, den: 3n * huge })).toBe(false);
  });

  it("compares long parts with short ones", () => {
    const justAbove = { num: 10n ** 20n + 1n, den: 10n ** 20n };
    expect(compareExact(justAbove, fraction(1))).toBeGreaterThan(0);
    expect(compareExact(fraction(1), justAbove)).toBeLessThan(0);
    expect(compareExact(justAbove, justAbove)).toBe(0);
    // Products of parts beyond 53 bits, of fractions that floating point holds to be the same.
    const largest = Number.MAX_SAFE_INTEGER;
    expect(compareExact(fraction(largest, largest - 1), fraction(largest - 1, largest - 2))).toBeLessThan(0);
    expect(compareExact(fraction(1, largest), fraction(largest, 2))).toBeLessThan(0);
    expect(compareExact(fraction(largest, 2), fraction(1, largest))).toBeGreaterThan(0);
    expect(compareExact(fraction(3, 7), fraction(2, 7))).toBeGreaterThan(0);
  });

  it("leaves short parts as they come and brings long ones to lowest terms", () => {
    expect(add(fraction(1, 4), fraction(1, 4))).toEqual({ num: 2, den: 4 });
    expect(add(fraction(1, 2), fraction(1, 4))).toEqual({ num: 6, den: 8 });
    expect(multiply(fraction(2, 3), fraction(3, 2))).toEqual({ num: 6, den: 6 });
    expect(divide(fraction(2, 3), fraction(-4, 3))).toEqual({ num: -6, den: 12 });
    const half = 2 ** 52;
    // The last sums and products that fit, and the first ones that do not.
    expect(add(fraction(half), fraction(half - 1))).toEqual({ num: Number.MAX_SAFE_INTEGER, den: 1 });
    expect(add(fraction(half), fraction(half))).toEqual({ num: 2n ** 53n, den: 1n });
    expect(add(fraction(-half), fraction(-half))).toEqual({ num: -(2n ** 53n), den: 1n });
    expect(add(fraction(half, 3), fraction(-half, 3))).toEqual({ num: 0, den: 3 });
    expect(add(fraction(half, 5), fraction(half, 5))).toEqual({ num: 2n ** 53n, den: 5n });
    expect(add(fraction(1, half), fraction(1, 3 * 2 ** 30))).toEqual({
      num: 4194307n,
      den: 3n * 2n ** 52n,
    });
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
