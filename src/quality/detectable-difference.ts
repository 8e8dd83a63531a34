import { studentQuantile } from "../model/student-t.ts";

/** The published factors: standard normal at 0.95, and at 0.80 for a power of 80 percent. */
export const PUBLISHED_NORMAL = { confidence: 1.645, power80: 0.842 } as const;

/** What one, two or more samples at a site can tell, at a two-sided confidence of 90 percent. */
export interface DetectableDifference {
  /** Samples averaged at each place. */
  readonly samples: number;
  /** Half width of the 90 percent interval around their mean: Student's t x s / sqrt(samples). */
  readonly halfWidth: number;
  /** The same with the published normal factor 1.645 in place of Student's t. */
  readonly halfWidthNormal: number;
  /** Least difference from a fixed limit, such as a class limit, that can be told from chance; the half width. */
  readonly fromLimit: number;
  /** Least difference from a fixed limit that is found four times out of five: (t 0.95 + t 0.80) x s / sqrt(samples). */
  readonly fromLimitPower80: number;
  /** The same with the published normal factors 1.645 and 0.842. */
  readonly fromLimitPower80Normal: number;
  /** Least difference between two such means; larger by the square root of two because both are uncertain. */
  readonly betweenTwo: number;
  readonly betweenTwoNormal: number;
}

/**
 * What a within-site standard deviation means for single, duplicate or triplicate samples.
 *
 * The normal factor is the one that reproduces table 9-2 of Barbour et al. 1999 (EPA 841-B-99-002; detectable
 * difference at p = 0.10) and, with 80 percent power, its chapter 4.5. Student's t with the pooled degrees of
 * freedom says how much wider an interval from few pairs really is.
 *
 * @param standardDeviation within-site, zero or more
 * @param degreesOfFreedom of the pooled groups, 1 or more
 * @param samples averaged at each place, 1 or more
 */
export function detectableDifference(
  standardDeviation: number,
  degreesOfFreedom: number,
  samples: number,
): DetectableDifference {
  const standardError = standardDeviation / Math.sqrt(samples);
  const t = studentQuantile(0.95, degreesOfFreedom);
  const power = studentQuantile(0.8, degreesOfFreedom);
  const { confidence, power80 } = PUBLISHED_NORMAL;
  return {
    samples,
    halfWidth: t * standardError,
    halfWidthNormal: confidence * standardError,
    fromLimit: t * standardError,
    fromLimitPower80: (t + power) * standardError,
    fromLimitPower80Normal: (confidence + power80) * standardError,
    betweenTwo: Math.SQRT2 * t * standardError,
    betweenTwoNormal: Math.SQRT2 * confidence * standardError,
  };
}
