import { at } from "../../model/at.ts";
import type { Community } from "../../model/community.ts";
import type { Exact } from "../../model/exact.ts";
import { add, compareExact, exactOf, isZero, multiply, ZERO } from "../../model/exact.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { exactValue, missingValue } from "../../model/metric-value.ts";
import { exactSum, settled } from "./sums.ts";

/**
 * Percent model affinity (Novak & Bode 1992): the sum over the groups of a model community of the smaller of the
 * observed and the modelled percentage, exact.
 *
 * @param percents percentage of each group in the model
 * @param groupOf for every taxon the number of its group
 */
export function modelAffinity(
  community: Community,
  percents: readonly Exact[],
  groupOf: Int16Array,
): MetricValue {
  const total = exactSum(community, () => 1);
  if (isZero(total)) return missingValue("the sample has no animal");
  const observed: Exact[] = percents.map(() => ZERO);
  for (let i = 0; i < community.taxa.length; i++) {
    const group = at(groupOf, at(community.taxa, i));
    observed[group] = add(at(observed, group), exactOf(at(community.counts, i)));
  }
  let sum = ZERO;
  for (const [group, percent] of percents.entries()) {
    const modelled = multiply(percent, total);
    const found = multiply(at(observed, group), exactOf(100));
    sum = add(sum, compareExact(found, modelled) <= 0 ? found : modelled);
  }
  return exactValue(settled(multiply(sum, { num: total.den, den: total.num }), community));
}
