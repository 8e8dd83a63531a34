import { describe, expect, it } from "vitest";
import { drawIndividuals } from "../../../src/subsample/draw-individuals.ts";
import { expectedRichness } from "../../../src/subsample/expected-richness.ts";
import { randomStream } from "../../../src/subsample/stream.ts";

/** Sources: README.md beside this file. */
const COUNTS = [50, 30, 10, 5, 3, 1, 1];

describe("expected richness of Hurlbert 1971", () => {
  it("of 3, 2 and 1 animals at 2 is 26/15", () => {
    // 1 - C(3,2)/15 + 1 - C(4,2)/15 + 1 - C(5,2)/15 = 12/15 + 9/15 + 5/15
    expect(expectedRichness([3, 2, 1], 2).expected).toBeCloseTo(26 / 15, 15);
  });

  it("of 100 animals in 7 taxa at 50 is 5.850052", () => {
    expect(expectedRichness(COUNTS, 50).expected).toBeCloseTo(5.850052, 6);
  });

  it("is 1 at 1 and the number of taxa at all animals", () => {
    expect(expectedRichness(COUNTS, 1).expected).toBe(1);
    expect(expectedRichness(COUNTS, 100).expected).toBe(7);
  });

  it.each(["1", "2", "3", "Vennaloo"])("is what draws come to, whatever the seed (%s)", (seed) => {
    const stream = randomStream("fixed-count-individual/1", seed, "VN-01");
    let taxa = 0;
    for (let draw = 0; draw < 10_000; draw++)
      taxa += drawIndividuals(COUNTS, 50, stream).filter((count) => count > 0).length;
    // 0.03 is about 3 standard errors of the mean of 10,000 draws.
    expect(Math.abs(taxa / 10_000 - 5.850052)).toBeLessThan(0.03);
  });
});

describe("one pile of 61 in 437 animals, 300 drawn without replacement", () => {
  it("keeps 41.87643 on average with a variance of 11.321661", () => {
    const draws = 40_000;
    const stream = randomStream("fixed-count-individual/1", "1", "VN-01");
    let sum = 0;
    let squares = 0;
    for (let draw = 0; draw < draws; draw++) {
      const [x = 0] = drawIndividuals([61, 376], 300, stream);
      sum += x;
      squares += x * x;
    }
    const mean = sum / draws;
    const variance = squares / draws - mean ** 2;
    // Standard errors: sqrt(11.32 / 40,000) = 0.017 of the mean, 11.32 x sqrt(2 / 40,000) = 0.08 of the variance.
    expect(Math.abs(mean - 41.87643)).toBeLessThan(4 * 0.017);
    // Drawn with replacement it would be 36.03.
    expect(Math.abs(variance - 11.321661)).toBeLessThan(4 * 0.08);
  });
});
