import type { Exact } from "../model/exact.ts";
import { compareExact } from "../model/exact.ts";
import type { Limit } from "../model/segment.ts";
import type { Span } from "./limits.ts";
import { compareSpans } from "./limits.ts";

/** A place of a scale that no span holds, or that two hold. */
export interface SpanFault<S extends Span> {
  readonly kind: "gap" | "overlap";
  readonly below: S;
  readonly above: S;
  /** Ends of the gap or of the shared stretch; equal when it is a single value. Undefined: open end. */
  readonly from: Exact | undefined;
  readonly to: Exact | undefined;
}

/**
 * Finds the gaps and overlaps between neighbouring spans, with their exact ends: limits printed to two decimals
 * (3.75 and 3.76) leave a gap, two closed limits at the same value overlap there.
 *
 * Limits with a slope are compared where the covariate is zero.
 *
 * @param ignoreBelow gaps not wider than this are no fault, because values are rounded to this step before
 *   they are compared (0.01 for two decimals)
 */
export function findSpanFaults<S extends Span>(spans: readonly S[], ignoreBelow?: Exact): SpanFault<S>[] {
  const sorted = [...spans].sort(compareSpans);
  const faults: SpanFault<S>[] = [];
  let reach: S | undefined;
  for (const span of sorted) {
    if (reach !== undefined) {
      const fault = faultBetween(reach, span, ignoreBelow);
      if (fault !== undefined) faults.push(fault);
    }
    if (reach === undefined || reachesFurther(span, reach)) reach = span;
  }
  return faults;
}

function faultBetween<S extends Span>(
  below: S,
  above: S,
  ignoreBelow: Exact | undefined,
): SpanFault<S> | undefined {
  if (above.lower === undefined) {
    // The order of the spans leaves the one before it open at this end, too.
    const to = below.upper === undefined ? above.upper : smaller(below.upper, above.upper);
    return { kind: "overlap", below, above, from: undefined, to: to?.at };
  }
  const start = above.lower;
  if (below.upper === undefined)
    return { kind: "overlap", below, above, from: start.at, to: above.upper?.at };
  const end = below.upper;
  const order = compareExact(end.at, start.at);
  if (order < 0) {
    return isRoundedAway(end.at, start.at, end.included && start.included, ignoreBelow)
      ? undefined
      : { kind: "gap", below, above, from: end.at, to: start.at };
  }
  if (order > 0) return { kind: "overlap", below, above, from: start.at, to: smaller(end, above.upper).at };
  if (end.included && start.included) return { kind: "overlap", below, above, from: end.at, to: end.at };
  if (!end.included && !start.included) return { kind: "gap", below, above, from: end.at, to: end.at };
  return undefined;
}

/** Between 3.75 and 3.76 (both included) nothing can lie when values are rounded to 0.01 first. */
function isRoundedAway(end: Exact, start: Exact, bothIncluded: boolean, step: Exact | undefined): boolean {
  if (step === undefined || !bothIncluded) return false;
  const width = BigInt(start.num) * BigInt(end.den) - BigInt(end.num) * BigInt(start.den);
  return width * BigInt(step.den) <= BigInt(step.num) * BigInt(start.den) * BigInt(end.den);
}

function reachesFurther(span: Span, reach: Span): boolean {
  if (reach.upper === undefined) return false;
  if (span.upper === undefined) return true;
  const order = compareExact(span.upper.at, reach.upper.at);
  return order > 0 || (order === 0 && span.upper.included && !reach.upper.included);
}

function smaller(a: Limit, b: Limit | undefined): Limit {
  return b === undefined || compareExact(a.at, b.at) <= 0 ? a : b;
}
