import type { Exact } from "../model/exact.ts";
import { compareExact, equalExact, roundExact, subtract, toNumber, ZERO } from "../model/exact.ts";
import { numberText } from "../model/number-text.ts";

/** A figure for a person to read: rounded to at most two decimals. */
export function figureText(value: Exact): string {
  return numberText(toNumber(roundExact(value, 2)));
}

/**
 * A figure beside its limit: with as many decimals as it takes to see that they differ, so that nobody reads
 * "90 fails the limit of 90".
 */
export function figureBesideLimit(value: Exact, limit: Exact): string {
  for (let decimals = 2; decimals < 12; decimals++) {
    const rounded = roundExact(value, decimals);
    if (!equalExact(rounded, limit) || compareExact(subtract(value, limit), ZERO) === 0)
      return numberText(toNumber(rounded));
  }
  return numberText(toNumber(value));
}

/** By how much a limit is missed: two decimals, more where that would be nothing. */
export function missedByText(missedBy: Exact): string {
  return figureBesideLimit(missedBy, ZERO);
}
