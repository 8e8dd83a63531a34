import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fraction, roundExact, toNumber } from "../../../src/model/exact.ts";
import { roundLean } from "../../../src/scoring/intervals/lean-rounding.ts";

describe("rounding in plain numbers", () => {
  it("is that of exact fractions", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -100_000, max: 100_000 }),
        fc.integer({ min: 1, max: 2000 }),
        fc.integer({ min: 0, max: 3 }),
        (num, den, decimals) => {
          const value = fraction(num, den);
          expect(roundLean(toNumber(value), decimals) + 0).toBe(toNumber(roundExact(value, decimals)) + 0);
        },
      ),
    );
    // Half away from zero, where floating point has 3.7549999.
    expect(roundLean(751 / 200, 2)).toBe(3.76);
    expect(roundLean(-0.5, 0)).toBe(-1);
  });

  it("takes a value for a half that is as close to it as floating point makes of equal numbers", () => {
    expect([0.5 - 8e-10, 0.5 - 2e-9].map((value) => roundLean(value, 0))).toEqual([1, 0]);
    // Of a million, in proportion.
    expect([1e6 + 0.5 - 5e-4, 1e6 + 0.5 - 2e-3].map((value) => roundLean(value, 0))).toEqual([
      1_000_001, 1_000_000,
    ]);
  });

  it("leaves nothing nothing, without a sign", () => {
    expect(roundLean(0, 1)).toBe(0);
  });
});
