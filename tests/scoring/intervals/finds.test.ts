import { describe, expect, it } from "vitest";
import type { RareTaxa } from "../../../src/metrics/measures/rare-taxa.ts";
import { findsOf, PILOT } from "../../../src/scoring/intervals/finds.ts";
import { resamplingPlan } from "../../../src/scoring/intervals/plan.ts";
import type { ResampleEvaluator, ResamplingJob } from "../../../src/scoring/intervals/resampling-job.ts";
import type { SamplingDesign } from "../../../src/scoring/intervals/variance-design.ts";
import { WordBlocks } from "../../../src/subsample/resample/word-block.ts";

/** Number of piles with animals, and the same in points of two. */
class Counting implements ResampleEvaluator {
  readonly metrics = 3;
  readonly rareTaxa: readonly (RareTaxa | undefined)[];
  readonly isDominance: readonly boolean[] = [];
  readonly values = new Float64Array(3);
  readonly pieces = new Int32Array(3);
  readonly index = Number.NaN;
  readonly rating = -1;

  constructor(rareTaxa: readonly (RareTaxa | undefined)[]) {
    this.rareTaxa = rareTaxa;
  }

  evaluate(counts: Int32Array): void {
    const taxa = counts.filter((count) => count > 0).length;
    this.values.set([taxa, 2 * taxa, 1]);
  }

  ratingOf(): number {
    return -1;
  }
}

const DESIGN: SamplingDesign = {
  kind: "animals",
  jar: undefined,
  counted: 6,
  drawn: 6,
  grids: 0,
  onTray: undefined,
  isWhole: false,
  isDrawnEndless: false,
};

interface Drawn {
  readonly counts: readonly number[];
  readonly different: number;
}

/** Draws of one grid with one taxon, and of two grids that hold two taxa. */
const IN_TURN: readonly Drawn[] = [
  { counts: [6, 0, 0, 0], different: 1 },
  { counts: [3, 3, 0, 0], different: 2 },
];

/** @param draws one after the other and again from the first */
function job(
  rareTaxa: readonly (RareTaxa | undefined)[],
  unseen: "none" | "together",
  draws: readonly Drawn[] = IN_TURN,
): ResamplingJob {
  let turn = 0;
  return {
    plan: resamplingPlan({ resamples: 10 }),
    ways: { form: "normal", unseen },
    design: DESIGN,
    jar: {
      varies: true,
      draw: (left) => {
        const { counts, different } = draws[turn++ % draws.length] as Drawn;
        left.set(counts);
        return different;
      },
    },
    counted: undefined,
    counts: [3, 1, 1, 1],
    evaluator: new Counting(rareTaxa),
    observed: {
      index: Number.NaN,
      rating: -1,
      values: Float64Array.of(4, 8, 1),
      pieces: Int32Array.of(-1, -1, -1),
    },
    words: new WordBlocks("a/1", "1", "A"),
    scale: [0, 100],
  };
}

const RARE: readonly (RareTaxa | undefined)[] = [
  { once: 3, twice: 0, each: 1 },
  { once: 3, twice: 0, each: 2 },
  undefined,
];
const EXPECTED = Float64Array.of(4, 8, 1);

describe("what taxa that were not met add to resamples", () => {
  it("is nothing where it was not asked for or no metric counts taxa", () => {
    expect(findsOf(job(RARE, "none"), EXPECTED)).toEqual([]);
    expect(findsOf(job([undefined, undefined, undefined], "together"), EXPECTED)).toEqual([]);
    const nothing = { once: 1, twice: 0, each: 0 };
    expect(findsOf(job([nothing, undefined, undefined], "together"), EXPECTED)).toEqual([]);
  });

  it("takes no draw from the jar where it is nothing", () => {
    // What is drawn later hangs on how much was drawn before.
    for (const [rareTaxa, unseen] of [
      [[undefined, undefined, undefined], "together"],
      [RARE, "none"],
    ] as const) {
      const asked = job(rareTaxa, unseen);
      let draws = 0;
      const jar = { varies: true, draw: () => ++draws };
      findsOf({ ...asked, jar }, EXPECTED);
      expect(draws).toBe(0);
    }
  });

  it("has the degrees of freedom of the taxa met once, two for each and one", () => {
    const finds = findsOf(job(RARE, "together"), EXPECTED);
    expect(finds.map(({ metric, degrees }) => [metric, degrees])).toEqual([
      [0, 7],
      [1, 7],
    ]);
  });

  it("is on average what a resample loses, along a straight line in the number of grids", () => {
    // One grid has one taxon and two have two: three and two are lost of the four that are expected, and four
    // grids would lose none.
    const [one, points] = findsOf(job(RARE, "together"), EXPECTED);
    const mean = (add: ((of: number, share: number) => number) | undefined, different: number) => {
      const places = Array.from({ length: 2000 }, (_, at) => (at + 0.5) / 2000);
      return places.reduce((sum, place) => sum + (add?.(different, place) ?? Number.NaN), 0) / places.length;
    };
    expect(mean(one?.add, 1)).toBeCloseTo(3, 1);
    expect(mean(one?.add, 2)).toBeCloseTo(2, 1);
    expect(mean(one?.add, 4)).toBe(0);
    expect(mean(points?.add, 1)).toBeCloseTo(6, 1);
    expect(mean(points?.add, 2)).toBeCloseTo(4, 1);
  });

  it("varies by what draws from the jar do beyond resamples that have as many grids", () => {
    // Taxa by grids: 1 and 2 in one, 2 and 4 in two. The line through their means leaves 2.5 of each four draws, so
    // 62.5 / 99 of a hundred. A draw varies by 2.5 (1 - (1 - 3 / (6 x 2.5 + 3))^6), see the variance of richness.
    const scattered = [
      { counts: [6, 0, 0, 0], different: 1 },
      { counts: [3, 3, 0, 0], different: 1 },
      { counts: [3, 3, 0, 0], different: 2 },
      { counts: [2, 2, 1, 1], different: 2 },
    ];
    const [one] = findsOf(job(RARE, "together", scattered), EXPECTED);
    const found = Array.from({ length: 100_000 }, (_, at) => one?.add(2, (at + 0.5) / 100_000) ?? Number.NaN);
    const mean = found.reduce((sum, value) => sum + value, 0) / found.length;
    expect(mean).toBeCloseTo(4 - 3, 3);
    const variance = found.reduce((sum, value) => sum + (value - mean) ** 2, 0) / found.length;
    expect(variance).toBeCloseTo(2.5 * (1 - (15 / 18) ** 6) - 62.5 / 99, 3);
  });

  it("is estimated from a hundred resamples", () => {
    expect(PILOT).toBe(100);
  });
});
