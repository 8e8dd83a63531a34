import type { Community } from "../../model/community.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { exactValue, missingValue } from "../../model/metric-value.ts";
import { exactSum, quotient, sumAll } from "./sums.ts";

/**
 * The entries with the most animals, most numerous first. Among equals the one that stands first in the
 * community goes first; taxa without animals are never among them.
 *
 * @param found filled with the numbers of the entries
 * @returns how many were found, `found.length` at most
 */
export function mostNumerous(community: Community, found: Int32Array): number {
  const { counts } = community;
  let size = 0;
  for (let i = 0; i < counts.length; i++) {
    const count = counts[i] as number;
    if (count <= 0) continue;
    let at = size;
    while (at > 0 && (counts[found[at - 1] as number] as number) < count) at--;
    if (at >= found.length) continue;
    if (size < found.length) size++;
    for (let j = size - 1; j > at; j--) found[j] = found[j - 1] as number;
    found[at] = i;
  }
  return size;
}

/**
 * The share of the most numerous taxa among all animals, exact.
 *
 * @param found as long as taxa are to be taken together; overwritten
 * @param times 100 for a percentage, 1 for a share of 1
 */
export function shareOfDominants(
  community: Community,
  found: Int32Array,
  times: 1 | 100,
  whyMissing: string,
): MetricValue {
  const below = sumAll(community);
  if (below === 0) return missingValue(whyMissing);
  const size = mostNumerous(community, found);
  if (!Number.isNaN(below)) {
    let above = 0;
    for (let i = 0; i < size; i++) above += community.counts[found[i] as number] as number;
    if (Number.isSafeInteger(above * times)) return exactValue({ num: above * times, den: below });
  }
  const dominant = new Set<number>();
  for (let i = 0; i < size; i++) dominant.add(community.taxa[found[i] as number] as number);
  return quotient(
    exactSum(community, (taxon) => (dominant.has(taxon) ? 1 : 0)),
    exactSum(community, () => 1),
    times,
    community,
    whyMissing,
  );
}
