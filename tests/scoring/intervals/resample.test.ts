import { describe, expect, it } from "vitest";
import { resamplingPlan } from "../../../src/scoring/intervals/plan.ts";
import { resample } from "../../../src/scoring/intervals/resample.ts";
import type {
  Observed,
  ResampleEvaluator,
  ResamplingJob,
} from "../../../src/scoring/intervals/resampling-job.ts";
import type { SamplingDesign } from "../../../src/scoring/intervals/variance-design.ts";
import { WordBlocks } from "../../../src/subsample/resample/word-block.ts";
import { given } from "../../subsample/resample/given-words.ts";

/**
 * The index and its one metric are the animals of the first pile, missing for -1; the rating is the number in the
 * second one. A rating for the field is the index without its decimals.
 */
class Reading implements ResampleEvaluator {
  readonly metrics = 1;
  readonly rareTaxa = [undefined];
  readonly isDominance: readonly boolean[] = [];
  readonly values = new Float64Array(1);
  readonly pieces = new Int32Array(1);
  index = Number.NaN;
  rating = -1;

  evaluate(counts: Int32Array): void {
    this.index = counts[0] === -1 ? Number.NaN : (counts[0] as number);
    this.rating = counts[1] as number;
    this.values[0] = this.index;
    this.pieces[0] = this.rating;
  }

  ratingOf(index: number): number {
    return Math.floor(index);
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

describe("random numbers beside the draws", () => {
  it("are not taken where no taxa are to be found and nothing is added for the field", () => {
    const asked = job([[5, 1]], 1);
    const before = asked.words.at;
    resample(asked);
    expect(asked.words.at).toBe(before);
  });

  it("are one for each resample where something is added for the field", () => {
    // The least and the largest number of 32 bits, in their middle: 6.34 standard deviations down and up.
    const words = given(0, 4294967295, 0, 4294967295, 0, 4294967295, 0, 4294967295);
    const { ratings } = resample({ ...job([[50, 1]], 1), words, field: { index: 4, metrics: [0] } });
    expect(ratings).toEqual([
      [37, 0.5],
      [62, 0.5],
    ]);
    expect(words.at).toBe(8);
  });
});

describe("intervals of resamples", () => {
  it("are none where no resample has a value", () => {
    const { index, metrics, ratings } = resample(job([[-1, -1]], 1));
    expect(index).toBeUndefined();
    expect(metrics[0]?.bounds).toBeUndefined();
    expect(ratings).toEqual([[-1, 1]]);
  });
});

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

  it("stand in their order where all are alike, whichever came first", () => {
    for (const order of [
      [2, 0, 3, 1],
      [3, 2, 1, 0],
      [0, 1, 2, 3],
    ])
      expect(
        resample(
          job(
            order.map((rating) => [5, rating]),
            0,
          ),
        ).ratings.map(([rating]) => rating),
      ).toEqual([0, 1, 2, 3]);
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
