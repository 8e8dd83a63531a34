import type { Community } from "../../model/community.ts";
import type { Exact } from "../../model/exact.ts";
import { add, exactOf, isZero, multiply, roundExact, ZERO } from "../../model/exact.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { exactValue, missingValue } from "../../model/metric-value.ts";

/**
 * Sums that decide something stay whole numbers: counts, and counts times values scaled by their decimals. The
 * fast road adds plain numbers and gives NaN as soon as a count is no whole number (parents were distributed)
 * or the sum leaves 53 bits; the exact road then takes over.
 *
 * On the exact road a fractional count is the decimal that its floating-point number reads as, which is off by
 * about 1e-16 of it. Values made from such counts are rounded to 9 decimals, so that a share which in truth is
 * at a limit is at the limit.
 */
const DECIMALS_OF_FRACTIONAL = 9;

/** Animals in the taxa of a mask; NaN when the sum must take the exact road. */
export function sumWhere(community: Community, mask: Uint8Array): number {
  const { taxa, counts } = community;
  let sum = 0;
  for (let i = 0; i < taxa.length; i++) {
    if (mask[taxa[i] as number] !== 1) continue;
    const count = counts[i] as number;
    if (count !== Math.trunc(count)) return Number.NaN;
    sum += count;
  }
  return Number.isSafeInteger(sum) ? sum : Number.NaN;
}

/** Animals of a community; NaN when the sum must take the exact road. */
export function sumAll(community: Community): number {
  const { counts } = community;
  let sum = 0;
  for (let i = 0; i < counts.length; i++) {
    const count = counts[i] as number;
    if (count !== Math.trunc(count)) return Number.NaN;
    sum += count;
  }
  return Number.isSafeInteger(sum) ? sum : Number.NaN;
}

/**
 * Sum of count x weight, the weights being whole numbers by taxon (0 where a taxon takes no part); NaN when the
 * sum must take the exact road.
 *
 * @param most animals of one taxon that enter at most; infinite for no such limit
 */
export function sumWeighted(community: Community, weights: Int32Array, most: number): number {
  const { taxa, counts } = community;
  let sum = 0;
  for (let i = 0; i < taxa.length; i++) {
    const count = counts[i] as number;
    if (count !== Math.trunc(count)) return Number.NaN;
    sum += Math.min(count, most) * (weights[taxa[i] as number] as number);
  }
  return Number.isSafeInteger(sum) ? sum : Number.NaN;
}

/** The exact road of the sums above. */
export function exactSum(
  community: Community,
  weightOf: (taxon: number) => number,
  most = Number.POSITIVE_INFINITY,
): Exact {
  let sum = ZERO;
  for (let i = 0; i < community.taxa.length; i++) {
    const weight = weightOf(community.taxa[i] as number);
    if (weight === 0) continue;
    sum = add(sum, multiply(exactOf(Math.min(community.counts[i] as number, most)), exactOf(weight)));
  }
  return sum;
}

/** Whether a count is no whole number, which only parents distributed among their children can bring about. */
export function hasFractions(community: Community): boolean {
  const { counts } = community;
  for (let i = 0; i < counts.length; i++) if (!Number.isInteger(counts[i] as number)) return true;
  return false;
}

/** Rounds a value that came from fractional counts; leaves every other as it is. */
export function settled(value: Exact, community: Community): Exact {
  return hasFractions(community) ? roundExact(value, DECIMALS_OF_FRACTIONAL) : value;
}

/** The exact value of `times x above / below`; missing with the reason given when nothing stands below. */
export function quotient(
  above: Exact,
  below: Exact,
  times: number,
  community: Community,
  whyMissing: string,
): MetricValue {
  if (isZero(below)) return missingValue(whyMissing);
  const value = multiply(multiply(above, exactOf(times)), { num: below.den, den: below.num });
  return exactValue(settled(value, community));
}
