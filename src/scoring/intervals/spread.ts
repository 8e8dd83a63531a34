import { normalQuantile } from "../../model/normal-quantile.ts";
import { studentQuantileBetween } from "../../model/student-t.ts";
import type { Bounds } from "./interval.ts";
import { intervalOf, varianceOf } from "./interval.ts";
import type { LeftOut } from "./left-out-grids.ts";
import type { ResamplingJob } from "./resampling-job.ts";
import type { Stretch } from "./variance-design.ts";
import { stretchOf } from "./variance-design.ts";

/** What is known of the resamples of one number. */
export interface Spread {
  readonly known: Float64Array;
  readonly centre: number;
  /** Variance of the resamples, and of draws from the animals counted. */
  readonly total: number;
  readonly ofDraws: number;
  readonly stretch: Stretch;
}

export function spreadOf(
  job: ResamplingJob,
  values: Float64Array,
  centre: number,
  draws: Float64Array,
  leftOut: LeftOut | undefined,
): Spread {
  const known = finite(values);
  const total = varianceOf(known);
  const ofDraws = varianceOf(finite(draws));
  return { known, centre, total, ofDraws, stretch: stretchOf(job.design, job.plan, total, ofDraws, leftOut) };
}

/**
 * The interval of one number.
 *
 * @param ofUnits degrees of freedom of the variance between what was picked
 * @param field variance to be added for the field
 * @returns with the variance by subsampling alone
 */
export function boundsOf(
  { plan, ways }: ResamplingJob,
  { known, centre, total, stretch: { stretch, degrees } }: Spread,
  ofUnits: number,
  field: number,
): { readonly bounds: Bounds | undefined; readonly variance: number } {
  const tail = (1 + plan.confidence) / 2;
  const normal = normalQuantile(tail);
  const variance = total * stretch ** 2;
  // The field part has the shape of the rest; where there is no rest, that of the normal distribution.
  if (field > 0 && variance === 0) {
    const far = Math.sqrt(field) * normal;
    return { bounds: { low: centre - far, high: centre + far }, variance };
  }
  const reach = studentQuantileBetween(tail, Math.max(1, degrees(ofUnits))) / normal;
  const wider = variance === 0 ? 1 : Math.sqrt((variance + field) / variance);
  const resampled = { values: known, variance: total, centre, stretch: stretch * reach * wider };
  return { bounds: intervalOf(resampled, plan.confidence, ways.form), variance };
}

/** A number laid on the nearest end of a scale that it lies beyond. */
export function within([least, most]: readonly [number, number], value: number): number {
  return Math.min(most, Math.max(least, value));
}

/** No percentage is below 0, whatever was added to a variance. */
export function clippedBounds(
  bounds: Bounds | undefined,
  scale: readonly [number, number],
): Bounds | undefined {
  return bounds && { low: within(scale, bounds.low), high: within(scale, bounds.high) };
}

/** The values that are none of a missing number. */
export function finite(values: Float64Array): Float64Array {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] as number;
  return Number.isNaN(sum) ? values.filter((value) => !Number.isNaN(value)) : values;
}
