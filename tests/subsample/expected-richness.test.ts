import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expectedRichness, meanRichness } from "../../src/subsample/expected-richness.ts";
import { binomial, ratio } from "./helpers/binomial.ts";

/**
 * The two published formulas on whole numbers of any length: Hurlbert 1971 and Heck, van Belle & Simberloff
 * 1975, over the common denominator C(N, n) or its square.
 */
function oracle(counts: readonly number[], n: number): { expected: number; variance: number } {
  const taxa = counts.filter((count) => count > 0);
  const total = taxa.reduce((sum, count) => sum + count, 0);
  const all = binomial(total, n);
  const missed = taxa.map((count) => binomial(total - count, n));
  const expected = missed.reduce((sum, ways) => sum + all - ways, 0n);
  let variance = 0n;
  for (const [i, ways] of missed.entries()) {
    variance += ways * (all - ways);
    for (const [j, others] of missed.entries()) {
      if (j >= i) continue;
      variance += 2n * (binomial(total - (taxa[i] ?? 0) - (taxa[j] ?? 0), n) * all - ways * others);
    }
  }
  return { expected: ratio(expected, all), variance: ratio(variance, all * all) };
}

const piles = fc.array(fc.oneof(fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: 400 })), {
  minLength: 1,
  maxLength: 20,
});

describe("expected richness", () => {
  it("agrees with the formulas worked out on whole numbers", () => {
    fc.assert(
      fc.property(piles, fc.nat(1000), (counts, permille) => {
        const total = counts.reduce((sum, count) => sum + count, 0);
        const n = Math.round((permille * total) / 1000);
        const exact = oracle(counts, n);
        const { expected, standardError } = expectedRichness(counts, n);
        expect(Math.abs(expected - exact.expected)).toBeLessThan(1e-11 * Math.max(1, exact.expected));
        expect(Math.abs(standardError ** 2 - exact.variance)).toBeLessThan(1e-12);
        expect(meanRichness(counts, n)).toBe(expected);
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  it("keeps its digits in samples far larger than any", () => {
    const counts = [900_000_000, 90_000_000, 9_000_000, 900_000, 90_000, 9_000, 900, 90, 9, 1];
    const exact = oracle(counts, 300);
    const { expected, standardError } = expectedRichness(counts, 300);
    expect(Math.abs(expected / exact.expected - 1)).toBeLessThan(1e-13);
    expect(Math.abs(standardError / Math.sqrt(exact.variance) - 1)).toBeLessThan(1e-10);
  });

  it.each([
    { counts: [3, 2, 1], n: 6, expected: 3, why: "all animals" },
    { counts: [3, 2, 1], n: 1, expected: 1, why: "one animal" },
    { counts: [3, 2, 1], n: 0, expected: 0, why: "no animal" },
    { counts: [7], n: 3, expected: 1, why: "one taxon" },
    { counts: [1, 1, 1, 1, 1, 1, 1], n: 3, expected: 3, why: "only taxa of one animal" },
    { counts: [0, 0], n: 0, expected: 0, why: "an empty sample" },
    { counts: [], n: 0, expected: 0, why: "no taxa" },
  ])("is certain for $why: no trace of a standard error", ({ counts, n, expected }) => {
    expect(expectedRichness(counts, n)).toEqual({ expected, standardError: 0 });
    expect(meanRichness(counts, n)).toBe(expected);
  });

  it("is certain for one animal, for all animals and for none, to the last bit, whatever the counts", () => {
    const some = fc.array(fc.integer({ min: 1, max: 997 }), { minLength: 2, maxLength: 30 });
    fc.assert(
      fc.property(some, (counts) => {
        const total = counts.reduce((sum, count) => sum + count, 0);
        expect(expectedRichness(counts, 0)).toEqual({ expected: 0, standardError: 0 });
        expect(expectedRichness(counts, 1)).toEqual({ expected: 1, standardError: 0 });
        expect(expectedRichness(counts, total)).toEqual({ expected: counts.length, standardError: 0 });
        expect([0, 1, total].map((n) => meanRichness(counts, n))).toEqual([0, 1, counts.length]);
        const singles = counts.map(() => 1);
        const n = 1 + Math.floor(counts.length / 2);
        expect(expectedRichness(singles, n)).toEqual({ expected: n, standardError: 0 });
        expect(expectedRichness([total], n)).toEqual({ expected: 1, standardError: 0 });
      }),
    );
  });

  it("has no standard error where no taxon can be missed", () => {
    // Of 30 + 25 animals 40 are drawn, so each taxon is there.
    expect(expectedRichness([30, 25], 40)).toEqual({ expected: 2, standardError: 0 });
  });

  it("depends neither on the order of the taxa nor on taxa without animals, to the last bit", () => {
    fc.assert(
      fc.property(piles, fc.nat(), (counts, seed) => {
        const total = counts.reduce((sum, count) => sum + count, 0);
        const n = total === 0 ? 0 : seed % (total + 1);
        const turned = [...counts.slice(seed % counts.length), 0, ...counts.slice(0, seed % counts.length)];
        expect(expectedRichness(turned.reverse(), n)).toEqual(expectedRichness(counts, n));
      }),
      { seed: 6, numRuns: 200 },
    );
  });

  it("never falls with more animals and stays between 1 and the number of taxa", () => {
    const counts = [50, 30, 10, 5, 3, 1, 1];
    let before = 0;
    for (let n = 1; n <= 100; n++) {
      const now = meanRichness(counts, n);
      expect(now).toBeGreaterThanOrEqual(before);
      expect(now).toBeGreaterThanOrEqual(1);
      expect(now).toBeLessThanOrEqual(7);
      before = now;
    }
  });

  it("takes typed arrays", () => {
    expect(expectedRichness(Float64Array.of(3, 2, 1), 2)).toEqual(expectedRichness([3, 2, 1], 2));
  });

  it.each([
    [[3, 2, 1], 7],
    [[3, 2, 1], -1],
    [[3, 2, 1], 1.5],
    [[3, 2.5], 1],
    [[3, -1], 1],
    [[3, Number.NaN], 1],
    [[2 ** 53 - 1, 2 ** 53 - 1], 1],
  ])("refuses %j with n = %d", (counts, n) => {
    expect(() => expectedRichness(counts, n)).toThrow(RangeError);
    expect(() => meanRichness(counts, n)).toThrow(RangeError);
  });
});
