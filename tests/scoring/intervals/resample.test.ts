import { describe, expect, it } from "vitest";
import { resamplingPlan } from "../../../src/scoring/intervals/plan.ts";
import type { Observed, ResampleEvaluator, ResamplingJob } from "../../../src/scoring/intervals/resample.ts";
import { resample } from "../../../src/scoring/intervals/resample.ts";
import type { SamplingDesign } from "../../../src/scoring/intervals/variance-design.ts";
import { WordBlocks } from "../../../src/subsample/resample/word-block.ts";

/** The index and its one metric are the animals of the first pile, the rating those of the second. */
class Reading implements ResampleEvaluator {
  readonly metrics = 1;
  readonly rareTaxa = [undefined];
  readonly values = new Float64Array(1);
  readonly pieces = new Int32Array(1);
  index = Number.NaN;
  rating = -1;

  evaluate(counts: Int32Array): void {
    this.index = counts[0] as number;
    this.rating = counts[1] as number;
    this.values[0] = this.index;
    this.pieces[0] = this.rating;
  }

  ratingOf(): number {
    return this.rating;
  }
}

const DESIGN: SamplingDesign = {
  kind: "animals",
  jar: undefined,
  counted: 10,
  drawn: 10,
  grids: 0,
  onTray: undefined,
  isWhole: false,
  isDrawnEndless: true,
};

/** Draws of an index and a rating, one after the other and again from the first. */
function job(draws: readonly (readonly [index: number, rating: number])[], rating: number): ResamplingJob {
  let turn = 0;
  const observed: Observed = {
    index: 5,
    rating,
    values: Float64Array.of(5),
    pieces: Int32Array.of(rating),
  };
  return {
    plan: resamplingPlan({ resamples: 8 }),
    ways: { form: "normal", unseen: "together" },
    design: DESIGN,
    jar: {
      varies: true,
      draw: (left) => {
        left.set(draws[turn++ % draws.length] as readonly [number, number]);
        return 0;
      },
    },
    counted: undefined,
    counts: [5, 5],
    evaluator: new Reading(),
    observed,
    words: new WordBlocks("a/1", "1", "A"),
    scale: [0, 100],
  };
}

describe("the ratings of resamples", () => {
  const draws = [
    [4, 2],
    [5, 3],
    [5, 1],
    [6, 3],
  ] as const;

  it("stand with their shares, the most frequent first and alike ones in their order", () => {
    expect(resample(job(draws, 3)).ratings).toEqual([
      [3, 0.5],
      [1, 0.25],
      [2, 0.25],
    ]);
  });

  it("support the rating given as far as they are the same", () => {
    expect(resample(job(draws, 3)).support).toBe(0.5);
    expect(resample(job(draws, 1)).support).toBe(0.25);
  });

  it("do not support a rating at all that none of them has", () => {
    const { support, metrics } = resample(job(draws, 0));
    expect(support).toBe(0);
    expect(metrics[0]?.support).toBe(0);
  });
});
