import type { Community } from "../../model/community.ts";
import type { Exact } from "../../model/exact.ts";
import {
  add,
  compareExact,
  divide,
  exactOf,
  fraction,
  isZero,
  multiply,
  subtract,
  ZERO,
} from "../../model/exact.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { exactValue, missingValue } from "../../model/metric-value.ts";
import { exactSum, settled } from "./sums.ts";

/** Taxa of two samples: of either one, and of both. Presence is standing for at least one taxon. */
export interface SharedTaxa {
  readonly sample: number;
  readonly reference: number;
  readonly common: number;
}

/** Counts the taxa that two samples have each and together. */
export function sharedTaxa(sample: Community, reference: Community): SharedTaxa {
  const there = presentTaxa(reference);
  const here = presentTaxa(sample);
  let common = 0;
  for (const taxon of here) if (there.has(taxon)) common++;
  return { sample: here.size, reference: there.size, common };
}

/** Taxa that stand for at least one taxon. */
export function presentTaxa(community: Community): Set<number> {
  const present = new Set<number>();
  for (let i = 0; i < community.taxa.length; i++)
    if ((community.richness[i] as number) > 0) present.add(community.taxa[i] as number);
  return present;
}

/** Nothing can be said of a sample without taxa, nor against a reference without any. */
function whyNot({ sample, reference }: SharedTaxa): MetricValue | undefined {
  if (sample === 0) return missingValue("the sample has no taxon");
  return reference === 0 ? missingValue("the reference sample has no taxon") : undefined;
}

/** Jaccard's coefficient: common taxa by all taxa of both. */
export function jaccard(shared: SharedTaxa): MetricValue {
  const { sample, reference, common } = shared;
  return whyNot(shared) ?? exactValue(fraction(common, sample + reference - common));
}

/** Sørensen's coefficient: twice the common taxa by the taxa of one plus those of the other. */
export function sorensen(shared: SharedTaxa): MetricValue {
  const { sample, reference, common } = shared;
  return whyNot(shared) ?? exactValue(fraction(2 * common, sample + reference));
}

/** Community loss: taxa of the reference that are not in the sample, by the taxa of the sample. */
export function communityLoss(shared: SharedTaxa): MetricValue {
  const { sample, reference, common } = shared;
  return whyNot(shared) ?? exactValue(fraction(reference - common, sample));
}

/** Bray-Curtis dissimilarity of counts: sum of differences by sum of all animals, exact. */
export function brayCurtis(sample: Community, reference: Community): MetricValue {
  return comparedCounts(sample, reference, ({ here, there, animalsHere, animalsThere }) => {
    let common = ZERO;
    for (const [taxon, count] of here) common = add(common, smaller(count, there.get(taxon) ?? ZERO));
    const all = add(animalsHere, animalsThere);
    return divide(subtract(all, multiply(exactOf(2), common)), all);
  });
}

/** Percent similarity: sum over taxa of the smaller of both percentages, exact. */
export function percentSimilarity(sample: Community, reference: Community): MetricValue {
  return comparedCounts(sample, reference, ({ here, there, animalsHere, animalsThere }) => {
    let common = ZERO;
    for (const [taxon, count] of here) {
      const other = multiply(there.get(taxon) ?? ZERO, animalsHere);
      common = add(common, smaller(multiply(count, animalsThere), other));
    }
    return divide(multiply(exactOf(100), common), multiply(animalsHere, animalsThere));
  });
}

interface ComparedCounts {
  readonly here: ReadonlyMap<number, Exact>;
  readonly there: ReadonlyMap<number, Exact>;
  readonly animalsHere: Exact;
  readonly animalsThere: Exact;
}

function comparedCounts(
  sample: Community,
  reference: Community,
  compare: (counts: ComparedCounts) => Exact,
): MetricValue {
  const animalsHere = exactSum(sample, () => 1);
  const animalsThere = exactSum(reference, () => 1);
  if (isZero(animalsHere)) return missingValue("the sample has no animal");
  if (isZero(animalsThere)) return missingValue("the reference sample has no animal");
  const value = compare({ here: countsOf(sample), there: countsOf(reference), animalsHere, animalsThere });
  return exactValue(settled(settled(value, sample), reference));
}

function countsOf(community: Community): Map<number, Exact> {
  const counts = new Map<number, Exact>();
  for (let i = 0; i < community.taxa.length; i++)
    counts.set(community.taxa[i] as number, exactOf(community.counts[i] as number));
  return counts;
}

function smaller(a: Exact, b: Exact): Exact {
  return compareExact(a, b) <= 0 ? a : b;
}
