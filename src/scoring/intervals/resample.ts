import { at } from "../../model/at.ts";
import { normalQuantile } from "../../model/normal-quantile.ts";
import type { WordBlocks } from "../../subsample/resample/word-block.ts";
import { Scratch } from "../../subsample/scratch.ts";
import type { VariancePart } from "./degrees.ts";
import { degreesOfDependentSum, varianceShares } from "./degrees.ts";
import type { MetricFinds } from "./finds.ts";
import { findsOf, PILOT } from "./finds.ts";
import type { Bounds } from "./interval.ts";
import { meanOf } from "./interval.ts";
import { leaveOutGrids } from "./left-out-grids.ts";
import { plainDraws } from "./plain-draws.ts";
import type { Observed, ResamplingJob } from "./resampling-job.ts";
import type { Spread } from "./spread.ts";
import { boundsOf, clippedBounds, finite, spreadOf, within } from "./spread.ts";

/** What the resamples say of one sample. */
export interface ResamplingOutcome {
  readonly index: Bounds | undefined;
  /** Variance of the index by subsampling alone. */
  readonly indexVariance: number;
  /** Share of resamples with the rating that was given; undefined when none was. */
  readonly support: number | undefined;
  /** Share of resamples by number of rating, -1 for none; the most frequent first. */
  readonly ratings: readonly (readonly [number, number])[];
  readonly metrics: readonly MetricOutcome[];
}

export interface MetricOutcome {
  readonly bounds: Bounds | undefined;
  readonly variance: number;
  /** Share of resamples that fall into the same piece of the thresholds; undefined when there is none. */
  readonly support: number | undefined;
}

/** Most values kept for the next sample. */
const VALUES = new Scratch<Float64Array>(2 ** 20, (length) => new Float64Array(length));

/** Resamples a sample and says how far its index, its rating and its metrics are to be trusted. */
export function resample(job: ResamplingJob): ResamplingOutcome {
  const { plan, evaluator, observed } = job;
  const { metrics } = evaluator;
  if (!job.jar.varies) return certain(observed, metrics);
  const centre = centreOf(job);
  const finds = findsOf(job, centre.values);
  const leftOut = leaveOutGrids(job);
  const { resamples } = plan;
  const indices = new Float64Array(resamples);
  const values = VALUES.borrow(resamples * metrics);
  const samePiece = new Int32Array(metrics);
  const ratings = resampleAll(job, finds, { indices, values, samePiece });
  const columns = Array.from({ length: metrics }, (_, metric) =>
    values.subarray(metric * resamples, (metric + 1) * resamples),
  );
  const ofTaxa = new Map(finds.map(({ metric, degrees }) => [metric, degrees]));
  const spreads = columns.map((column, metric) =>
    spreadOf(job, column, at(centre.values, metric), at(centre.draws, metric), leftOut?.metrics[metric]),
  );
  const degrees = spreads.map(({ stretch }, metric) => stretch.unitDegrees(ofTaxa.get(metric)));
  const ofIndex = spreadOf(job, indices, centre.index, centre.indexDraws, leftOut?.index);
  const index = boundsOf(
    job,
    ofIndex,
    indexDegrees({ columns, indices, centre, ofIndex, degrees }),
    job.field?.index ?? 0,
  );
  const outcome: ResamplingOutcome = {
    index: Number.isNaN(observed.index) ? undefined : clippedBounds(index.bounds, job.scale),
    indexVariance: index.variance,
    support: Number.isNaN(observed.index) ? undefined : (ratings[observed.rating + 1] ?? 0) / resamples,
    ratings: ratings
      .flatMap((times, place): [number, number][] => [[place - 1, times / resamples]])
      // Alike ones stay in the order of their numbers.
      .sort((a, b) => b[1] - a[1]),
    metrics: Array.from({ length: metrics }, (_, metric): MetricOutcome => {
      const { bounds, variance } = boundsOf(
        job,
        at(spreads, metric),
        at(degrees, metric),
        job.field?.metrics[metric] ?? 0,
      );
      const isMissing = Number.isNaN(at(observed.values, metric));
      const hasPiece = at(observed.pieces, metric) >= 0;
      return {
        bounds: isMissing ? undefined : bounds,
        variance,
        support: hasPiece ? at(samePiece, metric) / resamples : undefined,
      };
    }),
  };
  VALUES.giveBack(values);
  return outcome;
}

/** Where the resamples of a sample are put down. */
interface Resamples {
  readonly indices: Float64Array;
  /** Values of the metrics, all of one after all of the one before. */
  readonly values: Float64Array;
  /** For each metric how often it fell into the piece of its thresholds that was observed. */
  readonly samePiece: Int32Array;
}

/**
 * Draws and evaluates all resamples. It stands apart from what is made of them for the same reason as `plainDraws`.
 *
 * @returns how often each rating came out: at place 0 none, at n + 1 number n; nothing where it did not
 */
function resampleAll(
  job: ResamplingJob,
  finds: readonly MetricFinds[],
  { indices, values, samePiece }: Resamples,
): number[] {
  const { evaluator, observed, jar } = job;
  const { metrics } = evaluator;
  const { resamples } = job.plan;
  const ratings: number[] = [];
  const counts = new Int32Array(job.counts.length);
  const extra = new Float64Array(metrics);
  const fieldSpread = job.field === undefined ? 0 : Math.sqrt(job.field.index);
  const { values: measured, pieces } = evaluator;
  for (let b = 0; b < resamples; b++) {
    const different = jar.draw(counts);
    let share = finds.length === 0 ? 0 : job.words.share();
    for (const one of finds) {
      extra[one.metric] = one.add(different, share);
      if (job.ways.unseen === "apart") share = job.words.share();
    }
    evaluator.evaluate(counts, extra);
    indices[b] = evaluator.index;
    let { rating } = evaluator;
    if (fieldSpread > 0 && !Number.isNaN(evaluator.index))
      rating = evaluator.ratingOf(within(job.scale, evaluator.index + fieldSpread * normalOf(job.words)));
    ratings[rating + 1] = (ratings[rating + 1] ?? 0) + 1;
    for (let metric = 0; metric < metrics; metric++) {
      values[metric * resamples + b] = measured[metric] as number;
      if (pieces[metric] === observed.pieces[metric]) samePiece[metric] = (samePiece[metric] as number) + 1;
    }
  }
  return ratings;
}

/** Nothing can come out otherwise. */
function certain(observed: Observed, metrics: number): ResamplingOutcome {
  const bounds = (value: number) => (Number.isNaN(value) ? undefined : { low: value, high: value });
  return {
    index: bounds(observed.index),
    indexVariance: 0,
    support: Number.isNaN(observed.index) ? undefined : 1,
    ratings: [[observed.rating, 1]],
    metrics: Array.from({ length: metrics }, (_, metric) => ({
      bounds: bounds(at(observed.values, metric)),
      variance: 0,
      support: at(observed.pieces, metric) >= 0 ? 1 : undefined,
    })),
  };
}

/** What intervals are laid around, and how much single draws from the animals counted differ. */
interface Centre {
  readonly index: number;
  readonly values: Float64Array;
  /** Index and metrics of draws from the animals counted; empty where the score rests on all of them. */
  readonly indexDraws: Float64Array;
  readonly draws: readonly Float64Array[];
}

const NO_DRAWS = new Float64Array(0);

/**
 * A fixed-count draw is itself without bias for the mean over all draws. Where more animals were counted than the
 * draw took, the mean over draws from all of them is closer to it, and is known but for the jar.
 */
function centreOf(job: ResamplingJob): Centre {
  const { evaluator, observed, counted } = job;
  const { metrics } = evaluator;
  if (counted === undefined)
    return {
      index: observed.index,
      values: observed.values,
      indexDraws: NO_DRAWS,
      draws: Array.from({ length: metrics }, () => NO_DRAWS),
    };
  const draws = job.design.isWhole ? job.plan.resamples : Math.min(job.plan.resamples, PILOT);
  const { indices, values } = plainDraws(evaluator, counted, job.counts.length, draws);
  const known = values.map(finite);
  const ofIndex = finite(indices);
  return {
    index: meanOf(ofIndex),
    values: Float64Array.from(known, meanOf),
    indexDraws: indices,
    draws: values,
  };
}

/** What an index varies with. */
interface IndexParts {
  readonly columns: readonly Float64Array[];
  readonly indices: Float64Array;
  readonly centre: Centre;
  readonly ofIndex: Spread;
  /** Degrees of freedom of each metric. */
  readonly degrees: readonly number[];
}

/**
 * Degrees of freedom of the variance of an index: those of its metrics, each as far as the index varies with it once
 * what draws from the animals counted contribute is taken off.
 */
function indexDegrees({ columns, indices, centre, ofIndex, degrees }: IndexParts): number {
  if (degrees.every((one) => one === Number.POSITIVE_INFINITY)) return Number.POSITIVE_INFINITY;
  const shares = varianceShares(columns, indices);
  const ofDraws = varianceShares(centre.draws, centre.indexDraws);
  return degreesOfDependentSum(
    degrees.map((own, metric): VariancePart => {
      const ofMetric = at(shares, metric) * ofIndex.total - at(ofDraws, metric) * ofIndex.ofDraws;
      return { variance: Math.max(0, ofMetric), degrees: own };
    }),
  );
}

/** A number from the standard normal distribution. */
function normalOf(words: WordBlocks): number {
  return normalQuantile((words.next() + 0.5) / 4294967296);
}
