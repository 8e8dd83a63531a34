import type { Exact } from "../model/exact.ts";
import { add, compareExact, fraction, multiply, ONE, parseDecimal, subtract, ZERO } from "../model/exact.ts";

/** The numbers of animals with which a count is finished; both ends belong to it. */
export interface TargetRange {
  readonly target: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * The target with its tolerance: 200 within 20 percent is 160 to 240, both ends inside (Barbour MT et al. 1999,
 * Rapid Bioassessment Protocols, EPA 841-B-99-002, chapter 7.3.1). Where the ends are no whole numbers, the
 * whole numbers inside count: 25 within 10 percent is 23 to 27.
 *
 * @param target animals, a whole number above 0
 * @param within share of the target, 0 to 1
 * @throws RangeError for a target or a share outside of these
 */
export function targetRange(target: number, within: Exact = ZERO): TargetRange {
  if (!Number.isSafeInteger(target) || target < 1)
    throw new RangeError(`the target ${target} is not a whole number above 0`);
  if (compareExact(within, ZERO) < 0 || compareExact(within, ONE) > 0)
    throw new RangeError("the tolerance of a target is a share from 0 to 1");
  const lower = multiply(fraction(target), subtract(ONE, within));
  const upper = multiply(fraction(target), add(ONE, within));
  return {
    target,
    lower: Number((BigInt(lower.num) + BigInt(lower.den) - 1n) / BigInt(lower.den)),
    upper: Number(BigInt(upper.num) / BigInt(upper.den)),
  };
}

/**
 * Reads a tolerance, `20%` or `12.5 %`. The sign is needed, since 0.2 could be a share or a percentage.
 *
 * @returns the exact share, or undefined when the text is no percentage from 0 to 100
 */
export function parseWithin(text: string): Exact | undefined {
  const match = /^([0-9]{1,3}(?:\.[0-9]{1,6})?) ?%$/.exec(text.trim());
  const percent = match?.[1] === undefined ? undefined : parseDecimal(match[1]);
  if (percent === undefined) return undefined;
  const share = multiply(percent, fraction(1, 100));
  return compareExact(share, ONE) <= 0 ? share : undefined;
}
