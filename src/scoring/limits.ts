import type { Exact } from "../model/exact.ts";
import { add, compareExact, multiply } from "../model/exact.ts";
import type { Limit } from "../model/segment.ts";

/** Anything with two limits: a segment of a scoring rule or a class of the rating. */
export interface Span {
  readonly lower?: Limit | undefined;
  readonly upper?: Limit | undefined;
}

/** Where a limit lies for a sample: its number, moved by the covariate when it has a slope. */
export function limitAt(limit: Limit, covariate: Exact | undefined): Exact {
  if (limit.slope === undefined || covariate === undefined) return limit.at;
  return add(limit.at, multiply(limit.slope, covariate));
}

/** Whether a value lies above the lower limit (or on it, where the limit is included). */
export function isAboveLower(value: Exact, span: Span, covariate?: Exact): boolean {
  if (span.lower === undefined) return true;
  const order = compareExact(value, limitAt(span.lower, covariate));
  return order > 0 || (order === 0 && span.lower.included);
}

/** Whether a value lies below the upper limit (or on it, where the limit is included). */
export function isBelowUpper(value: Exact, span: Span, covariate?: Exact): boolean {
  if (span.upper === undefined) return true;
  const order = compareExact(value, limitAt(span.upper, covariate));
  return order < 0 || (order === 0 && span.upper.included);
}

/** Whether a value lies in a span; a limit belongs to the span only where it says so. */
export function contains(span: Span, value: Exact, covariate?: Exact): boolean {
  return isAboveLower(value, span, covariate) && isBelowUpper(value, span, covariate);
}

/** Orders spans from the lowest to the highest by their lower limits; an open lower limit comes first. */
export function compareSpans(a: Span, b: Span): number {
  if (a.lower === undefined || b.lower === undefined) {
    return a.lower === b.lower ? 0 : a.lower === undefined ? -1 : 1;
  }
  const order = compareExact(a.lower.at, b.lower.at);
  if (order !== 0) return order;
  return Number(b.lower.included) - Number(a.lower.included) || compareUppers(a, b);
}

function compareUppers(a: Span, b: Span): number {
  if (a.upper === undefined || b.upper === undefined) {
    return a.upper === b.upper ? 0 : a.upper === undefined ? 1 : -1;
  }
  return compareExact(a.upper.at, b.upper.at);
}
