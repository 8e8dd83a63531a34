import type { Community } from "../../model/community.ts";
import { fraction } from "../../model/exact.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { exactValue, missingValue } from "../../model/metric-value.ts";
import { exactSum, quotient, sumAll, sumWhere } from "./sums.ts";

/**
 * The share of animals that lies in the taxa of a mask, exact.
 *
 * @param of the animals that make the whole; all when left out. Animals without an attribute value stay in it.
 * @param times 100 for a percentage, 1 for a share of 1
 */
export function shareOfAnimals(
  community: Community,
  part: Uint8Array,
  of: Uint8Array | undefined,
  times: 1 | 100,
  whyMissing: string,
): MetricValue {
  const above = sumWhere(community, part);
  const below = of === undefined ? sumAll(community) : sumWhere(community, of);
  if (below === 0) return missingValue(whyMissing);
  const scaled = above * times;
  if (Number.isSafeInteger(scaled) && Number.isSafeInteger(below))
    return exactValue({ num: scaled, den: below });
  return quotient(
    exactSum(community, (taxon) => part[taxon] as number),
    exactSum(community, (taxon) => of?.[taxon] ?? 1),
    times,
    community,
    whyMissing,
  );
}

/** A number of taxa as a share of another, exact. */
export function shareOfTaxa(part: number, whole: number, times: 1 | 100, whyMissing: string): MetricValue {
  if (whole === 0) return missingValue(whyMissing);
  return exactValue(fraction(part * times, whole));
}
