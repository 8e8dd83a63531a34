import type { Exact } from "./exact.ts";

/** A limit of a segment: an exact number, moved by a covariate of the sample when the set says so. */
export interface Limit {
  readonly at: Exact;
  readonly included: boolean;
  /** With a covariate the limit is `at + slope x covariate`. */
  readonly slope?: Exact | undefined;
}

/**
 * One piece of a scoring rule: from `lower` to `upper` the score goes in a straight line from `scoreAtLower` to
 * `scoreAtUpper` (a step when both are equal). A limit left out is open. Steps, lines, curves of several lines
 * and middle-is-best rules are all lists of segments.
 */
export interface Segment {
  readonly lower?: Limit | undefined;
  readonly upper?: Limit | undefined;
  readonly scoreAtLower: Exact;
  readonly scoreAtUpper: Exact;
  /** What is scored: the value itself or the value as a percentage of the reference sample's. */
  readonly basis: "value" | "percent-of-reference";
  /** Column of the sample log that moves the limits; `log10:` in front takes its common logarithm. */
  readonly covariate?: string | undefined;
  readonly note: string;
  /** Line of thresholds.csv. */
  readonly line: number;
}

/** One class of the rating, as a piece of the index scale. */
export interface RatingClass {
  readonly rating: string;
  readonly lower?: Limit | undefined;
  readonly upper?: Limit | undefined;
  readonly stratum?: string | undefined;
  readonly meaning: string;
}
