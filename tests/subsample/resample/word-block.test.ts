import { createHash } from "node:crypto";
import fc from "fast-check";
import { xoroshiro128plusFromState } from "pure-rand/generator/xoroshiro128plus";
import { describe, expect, it } from "vitest";
import { WordBlocks } from "../../../src/subsample/resample/word-block.ts";
import { stateFromDigest } from "../../../src/subsample/stream.ts";

describe("random numbers in blocks", () => {
  it("are those of the package, from the same start", () => {
    fc.assert(
      fc.property(fc.string(), fc.constantFrom(undefined, "jar"), (sampleId, purpose) => {
        const parts = purpose === undefined ? ["a/1", "7", sampleId] : ["a/1", "7", sampleId, purpose];
        const digest = createHash("sha256").update(JSON.stringify(parts)).digest("binary");
        const other = xoroshiro128plusFromState(stateFromDigest(digest));
        const words = new WordBlocks("a/1", "7", sampleId, purpose);
        for (let i = 0; i < 2100; i++) expect(words.next()).toBe(other.next() >>> 0);
      }),
      { numRuns: 20 },
    );
  });

  it("fall below n equally often", () => {
    const words = new WordBlocks("a/1", "1", "equal");
    const times = new Array<number>(7).fill(0);
    for (let i = 0; i < 70_000; i++) {
      const found = words.below(7);
      times[found] = (times[found] ?? 0) + 1;
    }
    // Chi-square with 6 degrees of freedom: 22.5 is exceeded once in a thousand.
    const chi = times.reduce((sum, count) => sum + (count - 10_000) ** 2 / 10_000, 0);
    expect(chi).toBeLessThan(22.5);
  });
});
