import type { FindingCode } from "../findings/register.ts";
import type { Exact } from "../model/exact.ts";
import type { MetricValue } from "../model/metric-value.ts";

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
}
