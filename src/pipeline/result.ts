import type { FindingCode } from "../findings/register.ts";
import type { Exact } from "../model/exact.ts";
import type { MetricValue } from "../model/metric-value.ts";
import type { IntervalKind } from "../scoring/intervals/plan.ts";

/** `scored`, `flagged` (scored, with a doubt), `held-back` (not all jars are in) or `refused` (with its reason in the flags). */
export type SampleStatus = "scored" | "flagged" | "held-back" | "refused";

/** One metric of one sample. */
export interface MetricResult {
  /** Name of the column. */
  readonly id: string;
  /** The value, rounded where the set says so. */
  readonly value: MetricValue;
  /** Undefined when the metric is missing, falls into no segment, or counts as it is. */
  readonly score: Exact | undefined;
}

/** How a sample was brought to the fixed count. */
export interface DrawResult {
  readonly status: "drawn" | "whole" | "under-target" | "empty" | "not-drawn";
  /** Undefined when the count rule draws nothing. */
  readonly target: number | undefined;
  readonly algorithm: string;
  readonly seed: string;
}

/** What the spread of an interval comes from. */
export type IntervalSource = "subsampling" | "clumping" | "field";

/** Ends of an interval and how often resamples agree with what was given. */
export interface IntervalEnds {
  /** Undefined where there is nothing to lay an interval around. */
  readonly low: number | undefined;
  readonly high: number | undefined;
  /** Share of resamples with the same rating, or in the same piece of the thresholds; undefined where there is none. */
  readonly support: number | undefined;
}

/** How often resamples get a rating. */
export interface RatingShare {
  /** Empty for no rating. */
  readonly rating: string;
  readonly share: number;
}

/** How firmly the score of a sample stands. */
export interface ScoreInterval extends IntervalEnds {
  /** What the interval is about: the mean over all fixed-count draws from the jar, or another draw from it. */
  readonly of: IntervalKind;
  readonly confidence: number;
  readonly resamples: number;
  /** What the spread holds, in this order: subsampling, clumping in the tray, field. */
  readonly sources: readonly IntervalSource[];
  /** Ratings of the resamples, the most frequent first. */
  readonly ratings: readonly RatingShare[];
  /** The rating that is most likely after the one given; undefined when no resample has another. */
  readonly next: RatingShare | undefined;
  /** In the order of the sample's metrics. */
  readonly metrics: readonly (IntervalEnds & { readonly id: string })[];
}

/** What comes out for one sample; every sample that went in comes out exactly once. */
export interface SampleScore {
  readonly sampleId: string;
  readonly siteId: string;
  readonly collectedOn: string;
  /** The stratum whose thresholds were applied; empty when none could be. */
  readonly stratum: string;
  /** Animals that were counted and count, before the draw; undefined when the sample was refused before. */
  readonly individualsCounted: number | undefined;
  /** Animals that remained after the draw. */
  readonly individualsScored: number | undefined;
  readonly status: SampleStatus;
  readonly index: Exact | undefined;
  readonly rating: string;
  /** Codes of the findings that make it doubtful or refuse it, each once, in code point order. */
  readonly flags: readonly FindingCode[];
  readonly metrics: readonly MetricResult[];
  readonly draw: DrawResult | undefined;
  /** Undefined unless it was asked for, and where the sample allows none. */
  readonly interval?: ScoreInterval | undefined;
}
