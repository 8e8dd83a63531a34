import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Exact } from "../../src/model/exact.ts";
import { add, equalExact, fraction, subtract, ZERO } from "../../src/model/exact.ts";
import { shapleyParts } from "../../src/runs/shapley.ts";

const exact = fc.tuple(fc.integer({ min: -1e6, max: 1e6 }), fc.integer({ min: 1, max: 1000 }));

/** Means over all orders, written down as the definition says it. */
function byOrders(n: number, valueWith: (applied: number) => Exact): Exact[] {
  const orders = (rest: number[]): number[][] =>
    rest.length === 0
      ? [[]]
      : rest.flatMap((one) => orders(rest.filter((x) => x !== one)).map((o) => [one, ...o]));
  const all = orders(Array.from({ length: n }, (_, bit) => bit));
  return Array.from({ length: n }, (_, bit) => {
    const sum = all.reduce((total, order) => {
      const before = order.slice(0, order.indexOf(bit)).reduce((mask, one) => mask | (1 << one), 0);
      return add(total, subtract(valueWith(before | (1 << bit)), valueWith(before)));
    }, ZERO);
    return { num: BigInt(sum.num), den: BigInt(sum.den) * BigInt(all.length) };
  });
}

describe("the parts of a change", () => {
  it("are those of a case worked by hand: two differences that hold together", () => {
    // Before 10; with the first 12, with the second 11, with both 16.
    // First: ((12 - 10) + (16 - 11)) / 2 = 3.5; second: ((11 - 10) + (16 - 12)) / 2 = 2.5.
    const values = [10, 12, 11, 16].map((value) => fraction(value));
    const parts = shapleyParts(2, (applied) => values[applied] ?? ZERO);
    expect(parts).toEqual([fraction(7, 2), fraction(5, 2)]);
  });

  it("are those of the glove game: one left glove and two right ones (a textbook example, from memory)", () => {
    // A pair is worth 1. Shapley value: 2/3 for the left glove, 1/6 for each right one.
    const parts = shapleyParts(3, (held) => fraction((held & 1) === 1 && (held & 6) !== 0 ? 1 : 0));
    expect(parts).toEqual([fraction(2, 3), fraction(1, 6), fraction(1, 6)]);
  });

  it("are none when there is no difference, and the whole change when there is one", () => {
    expect(shapleyParts(0, () => fraction(5))).toEqual([]);
    expect(shapleyParts(1, (applied) => fraction(applied === 0 ? 5 : 2))).toEqual([fraction(-3)]);
  });

  it("add up to the change exactly, agree with the mean over all orders, and are 0 where nothing depends on it", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 5 }),
        fc.array(exact, { minLength: 32, maxLength: 32 }),
        (n, drawn) => {
          const values = drawn.map(([num, den]) => fraction(num, den));
          // Nothing depends on the last difference: its bit is looked past.
          const valueWith = (applied: number) => values[applied & (2 ** (n - 1) - 1)] ?? ZERO;
          const parts = shapleyParts(n, valueWith);
          const sum = parts.reduce((total, part) => add(total, part), ZERO);
          expect(equalExact(sum, subtract(valueWith(2 ** n - 1), valueWith(0)))).toBe(true);
          expect(equalExact(parts.at(-1) ?? fraction(1), ZERO)).toBe(true);
          const free = (applied: number) => values[applied] ?? ZERO;
          const means = byOrders(n, free);
          shapleyParts(n, free).forEach((part, bit) => {
            expect(equalExact(part, means[bit] ?? fraction(1))).toBe(true);
          });
        },
      ),
      { numRuns: 50 },
    );
  });
});
