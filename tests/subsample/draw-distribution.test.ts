import { describe, expect, it } from "vitest";
import { drawIndividuals } from "../../src/subsample/draw-individuals.ts";
import { expectedRichness } from "../../src/subsample/expected-richness.ts";
import { randomStream } from "../../src/subsample/stream.ts";
import { hypergeometric } from "./helpers/binomial.ts";
import { deviationByChance } from "./helpers/chi-square.ts";

/**
 * Draws against exact probabilities. A well-known library's sampler was found to be right at 100 animals and to
 * return 0 from 150 on, so sizes of the trade are tried. All seeds are fixed: a test cannot fail by chance.
 */
const ID = "fixed-count-individual/1";
const SAMPLES = [
  { total: 100, target: 50, counts: [50, 30, 10, 5, 3, 1, 1] },
  { total: 500, target: 200, counts: [180, 120, 75, 50, 30, 20, 12, 6, 4, 2, 1] },
  { total: 5000, target: 300, counts: [2400, 1100, 700, 400, 200, 110, 60, 20, 8, 1, 1] },
];
/** With about 90 comparisons a deviation rarer than this is no chance. */
const CHANCE = 1e-5;

type Draw = (counts: readonly number[], target: number) => (number: number) => readonly number[];

const WAYS: readonly (readonly [string, number, Draw])[] = [
  [
    "of one stream",
    50_000,
    (counts, target) => {
      const stream = randomStream(ID, "1", "VN-01");
      return () => drawIndividuals(counts, target, stream);
    },
  ],
  [
    "with consecutive seeds",
    10_000,
    (counts, target) => (number) =>
      drawIndividuals(counts, target, randomStream(ID, String(number), "VN-01")),
  ],
  [
    "with consecutive sample ids",
    10_000,
    (counts, target) => (number) => drawIndividuals(counts, target, randomStream(ID, "1", `VN-${number}`)),
  ],
];

describe.each(SAMPLES)("draws of $target from $total animals", ({ counts, total, target }) => {
  it.each(WAYS)("%s follow the hypergeometric distribution, pile by pile", (_, draws, way) => {
    expect(counts.reduce((sum, count) => sum + count, 0)).toBe(total);
    const observed = counts.map((count) => new Array<number>(Math.min(count, target) + 1).fill(0));
    const next = way(counts, target);
    for (let number = 0; number < draws; number++) {
      for (const [pile, x] of next(number).entries()) {
        const cells = observed[pile];
        if (cells !== undefined) cells[x] = (cells[x] ?? 0) + 1;
      }
    }
    for (const [pile, count] of counts.entries()) {
      const cells = observed[pile] ?? [];
      const expected = cells.map((_unused, x) => draws * hypergeometric(total, count, target, x));
      expect(deviationByChance(cells, expected), `pile of ${count}`).toBeGreaterThan(CHANCE);
    }
  });

  it("hold as many taxa on average as the exact expectation says, within 4 standard errors", () => {
    const draws = 20_000;
    const stream = randomStream(ID, "1", "VN-02");
    let taxa = 0;
    let squares = 0;
    for (let number = 0; number < draws; number++) {
      const richness = drawIndividuals(counts, target, stream).filter((count) => count > 0).length;
      taxa += richness;
      squares += richness ** 2;
    }
    const { expected, standardError } = expectedRichness(counts, target);
    const mean = taxa / draws;
    expect(Math.abs(mean - expected)).toBeLessThan((4 * standardError) / Math.sqrt(draws));
    // The scatter of the draws is the standard error itself; its own relative error is about 1 / sqrt(2 draws).
    const scatter = Math.sqrt(squares / draws - mean ** 2);
    expect(Math.abs(scatter / standardError - 1)).toBeLessThan(0.03);
  });

  it("hold each pair of piles together as often as they should (one draw is not two independent ones)", () => {
    // Covariance of two piles: -n N_i N_j (N - n) / (N^2 (N - 1)); multivariate hypergeometric distribution.
    const draws = 20_000;
    const stream = randomStream(ID, "1", "VN-03");
    const [a = 0, b = 0] = counts;
    const meanA = (target * a) / total;
    const meanB = (target * b) / total;
    let products = 0;
    for (let number = 0; number < draws; number++) {
      const [x = 0, y = 0] = drawIndividuals(counts, target, stream);
      products += (x - meanA) * (y - meanB);
    }
    const expected = (-target * a * b * (total - target)) / (total ** 2 * (total - 1));
    const variance = (count: number) =>
      (target * count * (total - count) * (total - target)) / (total ** 2 * (total - 1));
    const error = Math.sqrt((variance(a) * variance(b) + expected ** 2) / draws);
    expect(Math.abs(products / draws - expected)).toBeLessThan(4 * error);
  });
});
