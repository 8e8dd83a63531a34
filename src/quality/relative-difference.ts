import type { Exact } from "../model/exact.ts";
import { add, compareExact, divide, fraction, isNegative, simplify, subtract } from "../model/exact.ts";
import { percentOf } from "./percent.ts";

/**
 * Relative percent difference of a pair, 100 x |a - b| / ((a + b) / 2); the form that US EPA's measurement
 * quality objectives for biological indicators use. In a larger group of values of one sign it is that of the
 * smallest and the largest, which no pair of the group exceeds.
 *
 * @returns undefined when there are fewer than two values, when all are zero, and when one is below zero (a
 *   difference relative to a mean near or below zero says nothing)
 */
export function relativePercentDifference(values: readonly Exact[]): Exact | undefined {
  const sorted = [...values].sort(compareExact);
  const least = sorted[0];
  const most = sorted.at(-1);
  if (least === undefined || most === undefined || sorted.length < 2 || isNegative(least)) return undefined;
  return percentOf(simplify(subtract(most, least)), simplify(divide(add(least, most), fraction(2))));
}
