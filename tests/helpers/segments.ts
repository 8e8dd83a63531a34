import type { Exact } from "../../src/model/exact.ts";
import { parseDecimal } from "../../src/model/exact.ts";
import type { Limit, RatingClass, Segment } from "../../src/model/segment.ts";

/** A decimal that is known to be one. */
export function decimal(text: string): Exact {
  const value = parseDecimal(text);
  if (value === undefined) throw new RangeError(`not a decimal: ${text}`);
  return value;
}

/**
 * Limits in the usual mathematical writing: "[0,14)" holds 0 and not 14; an empty side is open ("(28,").
 */
function limits(interval: string): { lower: Limit | undefined; upper: Limit | undefined } {
  const match = /^([[(])([^,]*),([^\])]*)([\])])?$/.exec(interval.replaceAll(" ", ""));
  if (match === null) throw new RangeError(`not an interval: ${interval}`);
  const [, open, low = "", high = "", close] = match;
  return {
    lower: low === "" ? undefined : { at: decimal(low), included: open === "[" },
    upper: high === "" ? undefined : { at: decimal(high), included: close === "]" },
  };
}

/** A segment of a rule: a step when one score is given, a line when two are. */
export function segment(interval: string, from: string, to = from, extra: Partial<Segment> = {}): Segment {
  const { lower, upper } = limits(interval);
  return {
    ...(lower === undefined ? {} : { lower }),
    ...(upper === undefined ? {} : { upper }),
    scoreAtLower: decimal(from),
    scoreAtUpper: decimal(to),
    basis: "value",
    note: "",
    line: 0,
    ...extra,
  };
}

/** A class of a rating. */
export function ratingClass(interval: string, rating: string, stratum?: string): RatingClass {
  const { lower, upper } = limits(interval);
  return {
    rating,
    ...(lower === undefined ? {} : { lower }),
    ...(upper === undefined ? {} : { upper }),
    ...(stratum === undefined ? {} : { stratum }),
    meaning: "",
  };
}
