import type { Community } from "../../model/community.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { missingValue, realValue } from "../../model/metric-value.ts";
import { animals, NO_ANIMAL } from "./entropy.ts";
import { countAllTaxa } from "./richness.ts";

/**
 * Richness set against the number of animals. S is taxa richness as the catalogue gives it (a parent adds
 * nothing beside its children, large and rare finds count where the set says so); N is all animals.
 */

/** Margalef's index (S - 1) / ln N. */
export function margalef(community: Community): MetricValue {
  const total = animals(community);
  if (total === 0) return missingValue(NO_ANIMAL);
  if (total <= 1) return missingValue("it needs two animals");
  return realValue(Math.max(0, countAllTaxa(community) - 1) / Math.log(total));
}

/** Menhinick's index S / sqrt(N). */
export function menhinick(community: Community): MetricValue {
  const total = animals(community);
  return total === 0 ? missingValue(NO_ANIMAL) : realValue(countAllTaxa(community) / Math.sqrt(total));
}

/**
 * Fisher's alpha: the solution of S = alpha ln(1 + N / alpha). The right side grows from 0 towards N, so there
 * is exactly one where S lies between.
 */
export function fisherAlpha(community: Community): MetricValue {
  const total = animals(community);
  const taxa = countAllTaxa(community);
  if (total === 0) return missingValue(NO_ANIMAL);
  if (taxa <= 0 || taxa >= total)
    return missingValue(taxa <= 0 ? "the sample has no taxon" : "every animal is a taxon of its own");
  return realValue(solveAlpha(taxa, total));
}

function solveAlpha(taxa: number, total: number): number {
  // log1p keeps its digits when alpha is much larger than the number of animals.
  const excess = (alpha: number) => alpha * Math.log1p(total / alpha) - taxa;
  let low = Number.MIN_VALUE;
  let high = 1;
  while (excess(high) < 0) {
    low = high;
    high *= 2;
  }
  if (high === 1) {
    low = 0.5;
    while (excess(low) > 0) {
      high = low;
      low /= 2;
    }
  }
  for (;;) {
    const middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) return middle;
    if (excess(middle) < 0) low = middle;
    else high = middle;
  }
}
