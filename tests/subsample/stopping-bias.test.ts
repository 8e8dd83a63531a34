import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { stoppingBias } from "../../src/subsample/stopping-bias.ts";

/** Goes through every order of the grids. */
function overAllOrders(gridCounts: readonly number[], enough: number, atLeast: number): number {
  const grids = gridCounts.length;
  let sum = 0;
  let orders = 0;
  const pick = (rest: readonly number[], picked: number, animals: number, weight: number): void => {
    if (rest.length === 0 || (picked >= Math.min(atLeast, grids) && animals >= enough)) {
      sum += weight * animals * (grids / picked);
      orders += weight;
      return;
    }
    for (const [at, count] of rest.entries())
      pick([...rest.slice(0, at), ...rest.slice(at + 1)], picked + 1, animals + count, weight / rest.length);
  };
  pick(gridCounts, 0, 0, 1);
  expect(orders).toBeCloseTo(1, 12);
  return sum;
}

describe("the bias of stopping at a count", () => {
  it("agrees with going through all orders of the grids", () => {
    const tray = fc.array(fc.integer({ min: 0, max: 12 }), { minLength: 1, maxLength: 7 });
    fc.assert(
      fc.property(
        tray,
        fc.integer({ min: 1, max: 40 }),
        fc.integer({ min: 1, max: 9 }),
        (counts, enough, atLeast) => {
          fc.pre(counts.some((count) => count > 0));
          const { expectedEstimate, trueTotal, biasPercent } = stoppingBias(counts, enough, atLeast);
          const expected = overAllOrders(counts, enough, atLeast);
          expect(Math.abs(expectedEstimate - expected)).toBeLessThan(1e-10 * expected);
          expect(biasPercent).toBeCloseTo((100 * (expected - trueTotal)) / trueTotal, 9);
        },
      ),
      { seed: 11, numRuns: 300 },
    );
  });

  it("is worked out by hand for two grids", () => {
    // 0 and 6 animals, stop at 1: in half of the orders the first grid holds 6 and the estimate is 12; in the
    // other half both are picked and it is 6. Mean 9, which is 50 percent too many.
    expect(stoppingBias([0, 6], 1, 1)).toEqual({ expectedEstimate: 9, trueTotal: 6, biasPercent: 50 });
  });

  it("is none where a fixed number of grids is picked, or all are alike, or all are sorted", () => {
    expect(stoppingBias([0, 90, 3, 7, 50, 10], 1, 6).biasPercent).toBeCloseTo(0, 10);
    expect(stoppingBias([25, 25, 25, 25, 25, 25], 60, 1).biasPercent).toBeCloseTo(0, 10);
    expect(stoppingBias([0, 90, 3, 7], 101, 1).biasPercent).toBeCloseTo(0, 10);
  });

  it("falls as more grids are picked in any case, on a tray with clumps", () => {
    const clumped = [
      150, 5, 0, 80, 3, 0, 2, 200, 4, 1, 0, 90, 6, 2, 0, 5, 3, 120, 1, 0, 2, 4, 60, 3, 0, 1, 2, 70, 5, 1,
    ];
    const biases = [1, 3, 4, 8, 15].map((atLeast) => stoppingBias(clumped, 200, atLeast).biasPercent);
    for (const [at, bias] of biases.slice(1).entries()) expect(bias).toBeLessThan(biases[at] ?? 0);
    expect(biases[0]).toBeGreaterThan(10);
    expect(biases[4]).toBeGreaterThan(0);
  });

  it("does not depend on the order of the grids", () => {
    const counts = [3, 0, 1, 9, 4, 4, 7];
    const { expectedEstimate } = stoppingBias(counts, 8, 2);
    expect(stoppingBias([...counts].reverse(), 8, 2).expectedEstimate).toBeCloseTo(expectedEstimate, 11);
  });

  it("refuses an empty tray and limits that are none", () => {
    expect(() => stoppingBias([0, 0], 5, 1)).toThrow(RangeError);
    expect(() => stoppingBias([], 5, 1)).toThrow(RangeError);
    expect(() => stoppingBias([5], 0, 1)).toThrow(RangeError);
    expect(() => stoppingBias([5], 5, 0)).toThrow(RangeError);
    expect(() => stoppingBias([5], 1.5, 1)).toThrow(RangeError);
    expect(() => stoppingBias([5.5], 5, 1)).toThrow(RangeError);
  });
});
