/**
 * What an interval is about.
 *
 * - `mean`: the mean index over all possible fixed-count draws from this jar. It is not the index of the whole
 *   jar, which a fixed count does not estimate wherever richness takes part;
 * - `another-draw`: the index of another fixed-count draw from the same jar, made from the start.
 */
export const INTERVAL_KINDS = ["mean", "another-draw"] as const;
export type IntervalKind = (typeof INTERVAL_KINDS)[number];

/** Which pairs of the sample log the field part of the variance is taken from. */
export const FIELD_LINKS = ["none", "duplicate_of", "replicate_of", "both"] as const;
export type FieldLinks = (typeof FIELD_LINKS)[number];

/** How the certainty of scores is worked out. */
export interface ResamplingPlan {
  /** Resamples of each sample, a whole number above 0. */
  readonly resamples: number;
  /** Share of intervals that are to hold what they are about, above 0 and below 1. */
  readonly confidence: number;
  readonly interval: IntervalKind;
  /** Share of resamples with the same rating below which a score is called near a class limit; undefined: never. */
  readonly supportLimit: number | undefined;
  readonly field: FieldLinks;
}

export const DEFAULT_CONFIDENCE = 0.9;
export const DEFAULT_INTERVAL: IntervalKind = "mean";
/** Resamples that `explain` and settings without a number take; quantiles of fewer are rough. */
export const USUAL_RESAMPLES = 1000;
export const MOST_RESAMPLES = 1_000_000;

/**
 * Completes what was asked for.
 *
 * @throws RangeError for a number of resamples, a confidence or a limit that is none
 */
export function resamplingPlan(
  asked: Pick<ResamplingPlan, "resamples"> & Partial<ResamplingPlan>,
): ResamplingPlan {
  const plan = {
    resamples: asked.resamples,
    confidence: asked.confidence ?? DEFAULT_CONFIDENCE,
    interval: asked.interval ?? DEFAULT_INTERVAL,
    supportLimit: asked.supportLimit,
    field: asked.field ?? "none",
  };
  const { resamples, confidence, supportLimit } = plan;
  if (!Number.isSafeInteger(resamples) || resamples < 1 || resamples > MOST_RESAMPLES)
    throw new RangeError(`not a number of resamples from 1 to ${MOST_RESAMPLES}: ${resamples}`);
  if (!(confidence > 0 && confidence < 1))
    throw new RangeError(`not a confidence above 0 and below 1: ${confidence}`);
  if (supportLimit !== undefined && !(supportLimit >= 0 && supportLimit <= 1))
    throw new RangeError(`not a share from 0 to 1: ${supportLimit}`);
  return plan;
}
