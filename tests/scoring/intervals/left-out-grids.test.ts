import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type LeftOut, leaveOutGrids, pooledBetween } from "../../../src/scoring/intervals/left-out-grids.ts";
import { resamplingPlan } from "../../../src/scoring/intervals/plan.ts";
import type { ResampleEvaluator, ResamplingJob } from "../../../src/scoring/intervals/resampling-job.ts";
import type { SamplingDesign } from "../../../src/scoring/intervals/variance-design.ts";
import { totalAnimals } from "../../../src/subsample/piles.ts";
import { type FixedCountDrawer, JarDrawer } from "../../../src/subsample/resample/jar-drawer.ts";
import { WordBlocks } from "../../../src/subsample/resample/word-block.ts";

/** Percent of the first pile; animals of the first by those of the last, missing without the last; index: taxa. */
class Measures implements ResampleEvaluator {
  readonly metrics = 2;
  readonly rareTaxa = [undefined, undefined];
  readonly isDominance: readonly boolean[];
  readonly values = new Float64Array(2);
  readonly pieces = new Int32Array(2);
  index = Number.NaN;
  readonly rating = -1;

  constructor(isDominance = false) {
    this.isDominance = [isDominance, false];
  }

  evaluate(counts: Int32Array): void {
    const last = counts[counts.length - 1] as number;
    this.values[0] = (100 * (counts[0] as number)) / totalAnimals(counts);
    this.values[1] = last === 0 ? Number.NaN : (counts[0] as number) / last;
    this.index = counts.filter((count) => count > 0).length;
  }

  ratingOf(): number {
    return -1;
  }
}

type RestDrawer = (counts: readonly number[], n: number) => FixedCountDrawer;

const real: RestDrawer = (counts, n) =>
  new JarDrawer(counts, n, totalAnimals(counts), new WordBlocks("word-blocks/1", "1", "A", "left-out"));

function left(
  grids: readonly (readonly number[])[],
  change: Partial<SamplingDesign> = {},
  restDrawer: RestDrawer | undefined = real,
  evaluator = new Measures(),
) {
  const counts = (grids[0] ?? []).map((_, pile) => grids.reduce((sum, grid) => sum + (grid[pile] ?? 0), 0));
  const counted = totalAnimals(counts);
  const never = () => {
    throw new Error("not to be asked");
  };
  const job: ResamplingJob = {
    plan: resamplingPlan({ resamples: 10 }),
    ways: { form: "normal", unseen: "together" },
    design: {
      kind: "grids",
      jar: undefined,
      counted,
      drawn: counted,
      grids: grids.length,
      onTray: undefined,
      isWhole: false,
      isDrawnEndless: true,
      ...change,
    },
    jar: { varies: true, draw: never },
    counted: undefined,
    counts,
    grids: grids.map((grid) => Int32Array.from(grid)),
    restDrawer,
    evaluator,
    observed: {
      index: 0,
      rating: -1,
      values: new Float64Array(2),
      pieces: new Int32Array(2),
    },
    words: new WordBlocks("word-blocks/1", "1", "A", "unseen"),
    scale: [0, 100],
  };
  return leaveOutGrids(job);
}

describe("leaving grids out", () => {
  // Eight animals remain without any of them: 25, 50 and 75 percent are of the first taxon, and 2, 2 and 2 taxa.
  const three = [
    [4, 0],
    [2, 2],
    [0, 4],
  ];

  it("takes the variance from how much the rests differ, by hand", () => {
    const found = left(three);
    // (3 - 1) / 3 x (25^2 + 0 + 25^2): that of a mean of 100, 50 and 0, 2500 / 3.
    expect(found?.metrics[0]?.variance).toBeCloseTo(2500 / 3, 9);
    expect(found?.metrics[0]?.noise).toBe(0);
    expect(found?.index).toEqual({ variance: 0, noise: 0 });
  });

  it("takes off the share of the tray that was picked", () => {
    // A quarter of 12 grids.
    expect(left(three, { onTray: 12 })?.metrics[0]?.variance).toBeCloseTo((2500 / 3) * 0.75, 9);
  });

  it("loses a taxon with its only grid", () => {
    // 2, 3 and 3 taxa remain: 2 / 3 x (4 + 1 + 1) / 9.
    expect(
      left([
        [3, 1, 0],
        [3, 0, 1],
        [3, 0, 1],
      ])?.index?.variance,
    ).toBeCloseTo(4 / 9, 12);
  });

  it("has nothing for a number that is missing in a rest", () => {
    const found = left([
      [4, 0],
      [3, 0],
      [2, 2],
    ]);
    expect(found?.metrics[1]).toBeUndefined();
    expect(found?.metrics[0]).toBeDefined();
  });

  it("has nothing for the share of the commonest taxa, but the index they take part in", () => {
    const found = left(three, {}, real, new Measures(true));
    expect(found?.metrics[0]).toBeUndefined();
    expect(found?.metrics[1]).toBeDefined();
    expect(found?.index).toEqual({ variance: 0, noise: 0 });
  });

  it("draws as many as the rest without the fullest grid has, and never more than the fixed count", () => {
    const asked: number[] = [];
    const counting: RestDrawer = (counts, n) => {
      asked.push(n);
      return real(counts, n);
    };
    const grids = [
      [4, 0],
      [2, 6],
      [0, 4],
    ];
    left(grids, {}, counting);
    expect(asked).toEqual([8, 8, 8]);
    left(grids, { drawn: 5 }, counting);
    expect(asked.slice(3)).toEqual([5, 5, 5]);
  });

  it("takes off what means of few draws differ by themselves, by hand", () => {
    // Two grids have 50 draws each, here 1 and 3 animals of the first taxon by turns, and 5 and 7.
    let draws = 0;
    let made = 0;
    const turns: RestDrawer = () => {
      const base = made++ === 0 ? 1 : 5;
      return {
        varies: true,
        draw: (counts) => {
          counts.set([base + 2 * (draws++ % 2), 1]);
          return 0;
        },
      };
    };
    const found = left(
      [
        [5, 1],
        [5, 1],
      ],
      {},
      turns,
    );
    expect(draws).toBe(100);
    // Means 2 and 6: 1 / 2 x 8 for two grids; the mean of 50 draws has the variance 50 / 49 / 50.
    expect(found?.metrics[1]?.noise).toBeCloseTo(1 / 98, 12);
    expect(found?.metrics[1]?.variance).toBeCloseTo(4 - 1 / 98, 12);
  });

  it("draws once where every draw is the same", () => {
    let draws = 0;
    const same: RestDrawer = () => ({
      varies: false,
      draw: (counts) => {
        draws++;
        counts.set([1, 1]);
        return 0;
      },
    });
    expect(left(three, {}, same)?.metrics[0]).toEqual({ variance: 0, noise: 0 });
    expect(draws).toBe(3);
  });

  it("says nothing of single animals, a single grid, a whole tray, or an empty rest", () => {
    const [first = []] = three;
    expect(leaveOutGrids({ design: { onTray: undefined } } as ResamplingJob)).toBeUndefined();
    expect(left([first])).toBeUndefined();
    expect(left(three, { onTray: 3 })).toBeUndefined();
    expect(
      left([
        [4, 1],
        [0, 0],
      ]),
    ).toBeUndefined();
  });

  it("says nothing of more grids than have two draws each", () => {
    const grids = (number: number) => Array.from({ length: number }, () => [1, 1]);
    expect(left(grids(50))).toBeDefined();
    expect(left(grids(51))).toBeUndefined();
  });

  it("is without bias where animals lie evenly: what single animals make of it", () => {
    // 30 percent of 10 grids of 20 animals: 30 x 70 / 200 = 10.5. Mean of 200 trays, of a standard error of 0.6; with
    // the noise of draws of 100 it were 18.
    const words = new WordBlocks("word-blocks/1", "1", "A", "trays");
    const drawer: RestDrawer = (counts, n) => new JarDrawer(counts, n, totalAnimals(counts), words);
    const found = Array.from({ length: 200 }, () => {
      const grids = Array.from({ length: 10 }, () => {
        let first = 0;
        for (let animal = 0; animal < 20; animal++) if (words.below(10) < 3) first++;
        return [first, 20 - first];
      });
      return left(grids, { drawn: 100 }, drawer)?.metrics[0];
    });
    const meanOf = (of: (one: LeftOut) => number) =>
      found.reduce((sum, one) => sum + (one === undefined ? Number.NaN : of(one)), 0) / found.length;
    expect(Math.abs(meanOf(({ variance }) => variance) - 10.5)).toBeLessThan(2);
    expect(meanOf(({ noise }) => noise)).toBeGreaterThan(6);
  });
});

describe("both estimates together", () => {
  it("count alike where no noise was taken off, by hand", () => {
    expect(pooledBetween(4, { variance: 2, noise: 0 })).toBe(3);
  });

  it("count by how much of the second is noise, by hand", () => {
    // Half of 4 and 4 is noise: a weight of a quarter, (4 - 1 / 4) / (5 / 4).
    expect(pooledBetween(4, { variance: -1, noise: 4 })).toBeCloseTo(3, 12);
  });

  it("are the first where there is no second, and nothing where nothing varies", () => {
    expect(pooledBetween(4, undefined)).toBe(4);
    expect(pooledBetween(0, { variance: 2, noise: 0 })).toBe(0);
  });

  it("lie between the two and above nothing", () => {
    const number = fc.double({ min: 1e-6, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(number, number, fc.double({ min: 0, max: 1, noNaN: true }), (first, noise, part) => {
        // No less than the noise can have been taken off.
        const second: LeftOut = { variance: 2 * first * part - noise, noise };
        const pooled = pooledBetween(first, second);
        expect(pooled).toBeGreaterThan(0);
        expect(pooled).toBeGreaterThanOrEqual(Math.min(first, second.variance) * (1 - 1e-9));
        expect(pooled).toBeLessThanOrEqual(Math.max(first, second.variance) * (1 + 1e-9));
      }),
    );
  });
});
