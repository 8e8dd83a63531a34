import type { Exact } from "../model/exact.ts";
import { compareExact, negate, subtract } from "../model/exact.ts";

/**
 * What a quality limit makes of a figure. `undecided` is for a case that the published rule leaves open;
 * `not-computable` is neither a pass nor a failure.
 */
export type Outcome = "pass" | "fail" | "undecided" | "not-computable";

/** A limit of quality control. The limit itself passes: 90 passes "at least 90". */
export interface QualityLimit {
  readonly side: "at-least" | "at-most";
  readonly at: Exact;
}

export interface Judgement {
  readonly outcome: Outcome;
  /** How far the figure is on the wrong side of its limit, above zero; only when it fails. */
  readonly missedBy?: Exact | undefined;
}

/**
 * Holds a figure against a limit in exact arithmetic.
 *
 * @param value the figure, or undefined when it could not be computed
 * @param limit undefined when nobody set one: every figure that exists then passes
 */
export function judge(value: Exact | undefined, limit: QualityLimit | undefined): Judgement {
  if (value === undefined) return { outcome: "not-computable" };
  if (limit === undefined) return { outcome: "pass" };
  const above = compareExact(value, limit.at);
  if (limit.side === "at-least" ? above >= 0 : above <= 0) return { outcome: "pass" };
  const signed = subtract(value, limit.at);
  return { outcome: "fail", missedBy: limit.side === "at-least" ? negate(signed) : signed };
}

/** The outcome of several: one failure fails all, an undecided case leaves them undecided, nothing computable is none. */
export function combineOutcomes(outcomes: Iterable<Outcome>): Outcome {
  const seen = new Set(outcomes);
  for (const outcome of ["fail", "undecided", "pass"] as const) if (seen.has(outcome)) return outcome;
  return "not-computable";
}
