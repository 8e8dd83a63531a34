import { describe, expect, it } from "vitest";
import { RESAMPLE_ALGORITHMS } from "../../src/subsample/resample/algorithms.ts";
import { GridDrawer } from "../../src/subsample/resample/grid-drawer.ts";
import { JarDrawer } from "../../src/subsample/resample/jar-drawer.ts";
import { WordBlocks } from "../../src/subsample/resample/word-block.ts";

/**
 * What a version of resampling draws may never change: an interval of years ago must come out again. Whoever finds a
 * test here failing has changed a draw: that needs a new version in src/subsample/resample/algorithms.ts, new cases
 * here, and the old cases as they are.
 */
const COUNTS = [40, 25, 12, 6, 3, 1, 1];
const GRIDS = [
  [10, 2, 1, 0, 1],
  [4, 6, 0, 1, 0],
  [0, 9, 3, 0, 0],
  [7, 0, 0, 2, 0],
].map((counts) => Int32Array.from(counts));

function drawsOf(drawer: JarDrawer | GridDrawer, piles: number): string {
  const left = new Int32Array(piles);
  return Array.from({ length: 3 }, () => {
    drawer.draw(left);
    return left.join(" ");
  }).join(" / ");
}

describe("resamples of animals", () => {
  const { id } = RESAMPLE_ALGORITHMS.animals;
  const words = (sample: string) => new WordBlocks(id, "1", sample, "jar");

  it("are those of version 1", () => {
    expect(id).toBe("resample-individual/1");
    expect(drawsOf(new JarDrawer(COUNTS, 60, undefined, words("A")), 7)).toBe(
      "29 20 4 4 2 1 0 / 28 19 8 3 0 1 1 / 29 13 12 4 2 0 0",
    );
    expect(drawsOf(new JarDrawer(COUNTS, 60, 176, words("A")), 7)).toBe(
      "28 14 7 6 4 0 1 / 29 14 7 5 3 1 1 / 21 22 9 3 4 1 0",
    );
    expect(drawsOf(new JarDrawer(COUNTS, 61, 231, words("B")), 7)).toBe(
      "26 18 6 6 3 0 2 / 31 11 9 4 3 1 2 / 29 16 8 5 2 1 0",
    );
    expect(drawsOf(new JarDrawer(COUNTS, 60, 88, words("A")), 7)).toBe(
      "27 18 9 3 2 1 0 / 26 16 10 4 3 0 1 / 29 16 8 3 2 1 1",
    );
  });

  it("of large jars are those of version 1", () => {
    const large = COUNTS.map((count) => count * 300);
    expect(drawsOf(new JarDrawer(large, 100, undefined, words("A")), 7)).toBe(
      "50 27 12 7 3 1 0 / 40 32 18 6 4 0 0 / 43 24 19 7 3 0 4",
    );
    expect(drawsOf(new JarDrawer(large, 100, 30_000, words("A")), 7)).toBe(
      "44 24 17 7 5 2 1 / 51 24 16 5 3 1 0 / 41 30 12 8 8 1 0",
    );
  });
});

describe("resamples of grids", () => {
  const { id } = RESAMPLE_ALGORITHMS.grids;
  const words = () => new WordBlocks(id, "1", "A", "jar");

  it("are those of version 1", () => {
    expect(id).toBe("resample-grid/1");
    expect(drawsOf(new GridDrawer(GRIDS, 30, 30, words()), 5)).toBe("15 10 1 4 0 / 11 14 2 3 0 / 19 7 1 0 3");
    expect(drawsOf(new GridDrawer(GRIDS, 100, undefined, words()), 5)).toBe(
      "34 4 2 4 2 / 17 20 7 2 1 / 34 4 2 4 2",
    );
  });
});
