import { at } from "../../model/at.ts";
import { normalQuantile } from "../../model/normal-quantile.ts";

/** Two ends; equal where nothing varies. */
export interface Bounds {
  readonly low: number;
  readonly high: number;
}

/** Resamples of one number and where its interval stands. */
export interface Resampled {
  /** In any order; those that could not be worked out are not among them. */
  readonly values: Float64Array;
  /** Of these values, with n - 1 below; 0 where all are equal. */
  readonly variance: number;
  /** What the interval is laid around. */
  readonly centre: number;
  /** By what distances from the mean of the resamples are multiplied. */
  readonly stretch: number;
}

/** Mean of numbers. */
export function meanOf(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] as number;
  return sum / values.length;
}

/** Variance with n - 1 below; 0 of fewer than two numbers, and exactly 0 where all are equal. */
export function varianceOf(values: ArrayLike<number>): number {
  const first = values[0] as number;
  const mean = meanOf(values);
  let squares = 0;
  let differs = false;
  for (let i = 0; i < values.length; i++) {
    const value = values[i] as number;
    if (value !== first) differs = true;
    squares += (value - mean) ** 2;
  }
  return differs ? squares / (values.length - 1) : 0;
}

/**
 * Quantile of sorted numbers, between neighbours in proportion (type 6 of Hyndman RJ & Fan Y 1996, Sample quantiles
 * in statistical packages, Am. Stat. 50:361-365: the k-th of B is the quantile k / (B + 1)).
 */
export function quantileOf(sorted: ArrayLike<number>, probability: number): number {
  const place = probability * (sorted.length + 1) - 1;
  if (place <= 0) return at(sorted, 0);
  if (place >= sorted.length - 1) return at(sorted, sorted.length - 1);
  const below = Math.floor(place);
  const low = at(sorted, below);
  const high = at(sorted, below + 1);
  return low + (high - low) * (place - below);
}

/** Ways to lay an interval around a centre; which one is used was decided by the coverage study. */
export const INTERVAL_FORMS = {
  /** Distances of the resamples from their mean, turned round. */
  basic: ({ values, centre, stretch }: Resampled, tail: number): Bounds => {
    const sorted = values.slice().sort();
    const mean = meanOf(sorted);
    return {
      low: centre - stretch * (quantileOf(sorted, 1 - tail) - mean),
      high: centre - stretch * (quantileOf(sorted, tail) - mean),
    };
  },
  /** Distances of the resamples from their mean, as they are. */
  centred: ({ values, centre, stretch }: Resampled, tail: number): Bounds => {
    const sorted = values.slice().sort();
    const mean = meanOf(sorted);
    return {
      low: centre + stretch * (quantileOf(sorted, tail) - mean),
      high: centre + stretch * (quantileOf(sorted, 1 - tail) - mean),
    };
  },
  /** The resamples themselves. */
  percentile: ({ values }: Resampled, tail: number): Bounds => {
    const sorted = values.slice().sort();
    return { low: quantileOf(sorted, tail), high: quantileOf(sorted, 1 - tail) };
  },
  /** Standard deviation of the resamples times the normal quantile. */
  normal: ({ variance, centre, stretch }: Resampled, tail: number): Bounds => {
    const reach = stretch * Math.sqrt(variance) * normalQuantile(1 - tail);
    return { low: centre - reach, high: centre + reach };
  },
} as const;
export type IntervalForm = keyof typeof INTERVAL_FORMS;

/** The interval of resampled values; exactly the centre where they do not vary. */
export function intervalOf(resampled: Resampled, confidence: number, form: IntervalForm): Bounds | undefined {
  const { values, variance, centre, stretch } = resampled;
  if (values.length === 0 || !Number.isFinite(centre)) return undefined;
  if (variance === 0 || stretch === 0) return { low: centre, high: centre };
  return INTERVAL_FORMS[form](resampled, (1 - confidence) / 2);
}
