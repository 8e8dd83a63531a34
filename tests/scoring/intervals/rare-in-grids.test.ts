import { describe, expect, it } from "vitest";
import type { RareTaxa } from "../../../src/metrics/measures/rare-taxa.ts";
import { rareInGrids } from "../../../src/scoring/intervals/rare-in-grids.ts";
import type { ResampleEvaluator } from "../../../src/scoring/intervals/resampling-job.ts";

/** Number of piles with animals, the same in points, and the number of animals. */
class Counting implements ResampleEvaluator {
  readonly metrics = 4;
  readonly rareTaxa: readonly (RareTaxa | undefined)[] = [
    { once: 0, twice: 0, each: 1 },
    { once: 0, twice: 0, each: 2 },
    undefined,
    { once: 1, twice: 2, each: 0 },
  ];
  readonly isDominance: readonly boolean[] = [];
  readonly values = new Float64Array(4);
  readonly pieces = new Int32Array(4);
  readonly index = Number.NaN;
  readonly rating = -1;

  evaluate(counts: Int32Array): void {
    const taxa = counts.filter((count) => count > 0).length;
    this.values.set([taxa, 2 * taxa, counts.reduce((sum, count) => sum + count, 0), 0]);
  }

  ratingOf(): number {
    return -1;
  }
}

const rareOf = (grids: readonly (readonly number[])[]) => {
  const piles = grids[0]?.length ?? 0;
  const counts = Array.from({ length: piles }, (_, pile) =>
    grids.reduce((sum, grid) => sum + (grid[pile] ?? 0), 0),
  );
  return rareInGrids(
    new Counting(),
    counts,
    grids.map((grid) => Int32Array.from(grid)),
  );
};

describe("rare taxa by grids", () => {
  // In all grids; in one, with many animals; in one, with one; in two.
  const grids = [
    [3, 10, 0, 1, 0],
    [2, 0, 1, 4, 0],
    [1, 0, 0, 0, 2],
    [5, 0, 0, 0, 3],
  ];

  it("are those of one grid and of two, however many animals they have", () => {
    expect(rareOf(grids)[0]).toEqual({ once: 2, twice: 2, each: 1 });
  });

  it("are taxa, also for a metric that counts their points", () => {
    expect(rareOf(grids)[1]).toEqual({ once: 2, twice: 2, each: 2 });
  });

  it("are left as they are for other metrics", () => {
    expect(rareOf(grids)[2]).toBeUndefined();
    expect(rareOf(grids)[3]).toEqual({ once: 1, twice: 2, each: 0 });
  });

  it("of two and three grids come from all pairs", () => {
    expect(
      rareOf([
        [1, 0, 1],
        [0, 1, 1],
      ])[0],
    ).toEqual({ once: 2, twice: 1, each: 1 });
    expect(
      rareOf([
        [1, 0, 1],
        [0, 1, 1],
        [0, 0, 1],
      ])[0],
    ).toEqual({ once: 2, twice: 0, each: 1 });
  });

  it("of many grids come from neighbours, taken for all pairs", () => {
    // Twelve grids in a ring of which each neighbour pair shares one taxon: distances 1, 2 and 3 are looked at, 36
    // of 66 pairs, and of these 12 share one.
    const ring = Array.from({ length: 12 }, (_, grid) =>
      Array.from({ length: 12 }, (_, pile) => (pile === grid || pile === (grid + 1) % 12 ? 1 : 0)),
    );
    expect(rareOf(ring)[0]?.twice).toBeCloseTo((12 * 66) / 36, 12);
    expect(rareOf(ring)[0]?.once).toBe(0);
  });

  /** Grids in a ring, each of which shares a taxon with the one at this distance. */
  const shared = (grids: number, distance: number) =>
    Array.from({ length: grids }, (_, grid) =>
      Array.from({ length: grids }, (_, pile) =>
        pile === grid || pile === (grid + distance) % grids ? 1 : 0,
      ),
    );

  it("come from 45 pairs at most", () => {
    // Fifteen grids: distances 1, 2 and 3 are 45 of 105 pairs.
    expect(rareOf(shared(15, 3))[0]?.twice).toBeCloseTo((15 * 105) / 45, 12);
    expect(rareOf(shared(15, 4))[0]?.twice).toBe(0);
    // Sixteen: a third distance would make 48.
    expect(rareOf(shared(16, 3))[0]?.twice).toBe(0);
  });

  it("come from all neighbours where these are more pairs", () => {
    expect(rareOf(shared(50, 1))[0]?.twice).toBeCloseTo(1225, 8);
  });
});
