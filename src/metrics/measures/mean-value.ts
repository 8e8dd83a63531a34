import type { CompiledAttribute } from "../../model/attribute-lookup.ts";
import type { Community } from "../../model/community.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { exactValue, missingValue } from "../../model/metric-value.ts";
import { exactSum, quotient, sumWeighted } from "./sums.ts";

/** What a mean over animals needs of each taxon, whole numbers both; 0 where a taxon takes no part. */
export interface ValueWeights {
  /** The value times `scale`. */
  readonly scaled: Int32Array;
  /** 1 where the taxon has a value and takes part. */
  readonly present: Int32Array;
  readonly scale: number;
}

/** The values of an attribute for the taxa of a mask. */
export function valueWeights(attribute: CompiledAttribute, mask: Uint8Array): ValueWeights {
  const scaled = new Int32Array(mask.length);
  const present = new Int32Array(mask.length);
  for (let taxon = 0; taxon < mask.length; taxon++) {
    if (mask[taxon] !== 1 || attribute.has[taxon] !== 1) continue;
    present[taxon] = 1;
    scaled[taxon] = attribute.scaled[taxon] as number;
  }
  return { scaled, present, scale: attribute.scale };
}

/**
 * Mean value over animals, exact: sum of count x value over sum of counts, both over the animals that have a
 * value.
 *
 * @param most animals of one taxon that enter at most (10 in Hilsenhoff's index of 1998); infinite for all
 */
export function meanOverAnimals(
  community: Community,
  weights: ValueWeights,
  most: number,
  whyMissing: string,
): MetricValue {
  const above = sumWeighted(community, weights.scaled, most);
  const below = sumWeighted(community, weights.present, most);
  if (below === 0) return missingValue(whyMissing);
  const den = below * weights.scale;
  if (!Number.isNaN(above) && Number.isSafeInteger(den)) return exactValue({ num: above, den });
  return quotient(
    exactSum(community, (taxon) => weights.scaled[taxon] as number, most),
    exactSum(community, (taxon) => (weights.present[taxon] as number) * weights.scale, most),
    1,
    community,
    whyMissing,
  );
}
