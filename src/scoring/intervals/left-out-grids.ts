import { totalAnimals } from "../../subsample/piles.ts";
import { PILOT } from "./finds.ts";
import { meanOf, varianceOf } from "./interval.ts";
import type { ResamplingJob } from "./resampling-job.ts";

/** What leaving grids out says of the variance between grids of one number. */
export interface LeftOut {
  /** Without bias, and therefore below 0 now and then. */
  readonly variance: number;
  /** What was taken off it: means of few draws differ by themselves. */
  readonly noise: number;
}

/** The same of the index and of each metric; undefined for a number that it says nothing of. */
export interface LeftOutGrids {
  readonly index: LeftOut | undefined;
  readonly metrics: readonly (LeftOut | undefined)[];
}

/**
 * Leaves out one grid after the other, draws the fixed count from the rest and takes from how much the means of these
 * draws differ the variance between grids of the mean over all draws: (1 - g / G) (g - 1) / g times the sum of their
 * squared distances, for g grids of G (the delete-one jackknife of clusters: Tukey JW 1958, Bias and confidence in
 * not-quite large samples, Ann. Math. Stat. 29:614; Wolter KM 2007, Introduction to variance estimation, ch. 4;
 * recalled). A clump of one taxon takes the room of all others, and grids that are poor in one group are so in the
 * next: this estimate sees what goes together, where taxa that were not met are estimated one by one.
 *
 * It says nothing of the share of the commonest taxa, since it fails for what is no smooth function of the counts
 * (Efron B 1979, Bootstrap methods: another look at the jackknife, Ann. Stat. 7:1-26; recalled), nor of a number
 * that was missing in a draw.
 *
 * All draws are of one count, which the rest without the fullest grid still has: with fewer animals there are fewer
 * taxa.
 *
 * @returns undefined where single animals are drawn, where the whole tray was sorted, where nothing remains, and for
 *   so many grids that none would have two draws
 */
export function leaveOutGrids(job: ResamplingJob): LeftOutGrids | undefined {
  const { design, grids, restDrawer, evaluator } = job;
  if (grids === undefined || restDrawer === undefined || grids.length < 2) return undefined;
  const { onTray } = design;
  const draws = Math.floor(PILOT / grids.length);
  if (draws < 2 || (onTray !== undefined && onTray <= grids.length)) return undefined;
  const rests = grids.map((grid) => job.counts.map((count, pile) => count - (grid[pile] as number)));
  const n = rests.reduce((least, rest) => Math.min(least, totalAnimals(rest)), design.drawn);
  if (n === 0) return undefined;
  const counts = new Int32Array(job.counts.length);
  const none = new Float64Array(evaluator.metrics);
  // Of each number, metrics first: means by grid, and the variances of these means.
  const means = Array.from({ length: evaluator.metrics + 1 }, () => new Float64Array(grids.length));
  const variances = means.map(() => new Float64Array(grids.length));
  for (const [grid, rest] of rests.entries()) {
    const drawer = restDrawer(rest, n);
    const times = drawer.varies ? draws : 1;
    const drawn = means.map(() => new Float64Array(times));
    for (let draw = 0; draw < times; draw++) {
      drawer.draw(counts);
      evaluator.evaluate(counts, none);
      for (const [number, column] of drawn.entries())
        column[draw] = number === evaluator.metrics ? evaluator.index : (evaluator.values[number] as number);
    }
    for (const [number, column] of drawn.entries()) {
      (means[number] as Float64Array)[grid] = meanOf(column);
      (variances[number] as Float64Array)[grid] = varianceOf(column) / times;
    }
  }
  const share = onTray === undefined ? 1 : 1 - grids.length / onTray;
  const factor = (share * (grids.length - 1) ** 2) / grids.length;
  const all = means.map((ofGrids, number): LeftOut | undefined => {
    if (evaluator.isDominance[number] === true) return undefined;
    const noise = factor * meanOf(variances[number] as Float64Array);
    const variance = factor * varianceOf(ofGrids) - noise;
    return Number.isNaN(variance) ? undefined : { variance, noise };
  });
  return { index: all[evaluator.metrics], metrics: all.slice(0, evaluator.metrics) };
}

/**
 * One variance between grids from both estimates, that of the resamples and that of grids left out. They come from
 * the same grids and have the same degrees of freedom, so that they count alike, but the second has so many fewer as
 * its noise makes of it: those of a difference, in proportion to the square of the share that the variance has in
 * variance and noise (Satterthwaite 1946; recalled).
 *
 * @returns above 0 wherever the first is
 */
export function pooledBetween(ofResamples: number, leftOut: LeftOut | undefined): number {
  if (leftOut === undefined || ofResamples === 0) return ofResamples;
  const weight = (ofResamples / (ofResamples + leftOut.noise)) ** 2;
  return (ofResamples + weight * leftOut.variance) / (1 + weight);
}
