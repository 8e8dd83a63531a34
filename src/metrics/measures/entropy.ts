import type { Community } from "../../model/community.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { missingValue, realValue } from "../../model/metric-value.ts";
import { logFactorial } from "./log-factorial.ts";
import { hasFractions } from "./sums.ts";

/**
 * Measures of diversity over the counts of every taxon that has animals. An ambiguous parent kept beside its
 * children is a taxon here, and a taxon found only in the search for large and rare ones is not.
 */
export const NO_ANIMAL = "the sample has no animal";

/** What a method that draws or counts pairs of animals says of parents distributed among their children. */
export const NEEDS_WHOLE_ANIMALS =
  "it needs whole numbers of animals, and parents were distributed among their children";

/** Taxa with animals. */
export function taxaWithAnimals(community: Community): number {
  const { counts } = community;
  let taxa = 0;
  for (let i = 0; i < counts.length; i++) if ((counts[i] as number) > 0) taxa++;
  return taxa;
}

/** Animals in all; like `community.total`, which a view does not need to have right. */
export function animals(community: Community): number {
  const { counts } = community;
  let sum = 0;
  for (let i = 0; i < counts.length; i++) sum += counts[i] as number;
  return sum;
}

/** Shannon's entropy in natural units: minus the sum of p ln p. */
export function entropy(community: Community): number {
  const { counts } = community;
  const total = animals(community);
  let sum = 0;
  for (let i = 0; i < counts.length; i++) {
    const count = counts[i] as number;
    if (count > 0) sum -= (count / total) * Math.log(count / total);
  }
  // A single taxon gives minus zero.
  return sum + 0;
}

/** Shannon diversity in units of the logarithm of `base`. */
export function shannon(community: Community, base: number): MetricValue {
  if (animals(community) === 0) return missingValue(NO_ANIMAL);
  const natural = entropy(community);
  return realValue(base === Math.E ? natural : natural / Math.log(base));
}

/** Pielou's evenness: entropy as a share of the largest that as many taxa can have. */
export function pielou(community: Community): MetricValue {
  if (animals(community) === 0) return missingValue(NO_ANIMAL);
  const taxa = taxaWithAnimals(community);
  if (taxa < 2) return missingValue("evenness needs two taxa");
  return realValue(entropy(community) / Math.log(taxa));
}

/** Hill's number of order 1: the exponential of the entropy. */
export function hillOne(community: Community): MetricValue {
  return animals(community) === 0 ? missingValue(NO_ANIMAL) : realValue(Math.exp(entropy(community)));
}

/** Brillouin's index: (ln N! - sum of ln n!) / N. */
export function brillouin(community: Community): MetricValue {
  const total = animals(community);
  if (total === 0) return missingValue(NO_ANIMAL);
  if (hasFractions(community)) return missingValue(NEEDS_WHOLE_ANIMALS);
  let sum = logFactorial(total);
  for (let i = 0; i < community.counts.length; i++) sum -= logFactorial(community.counts[i] as number);
  return realValue(Math.max(0, sum / total));
}

/** McIntosh's diversity D = (N - U) / (N - sqrt(N)), U the square root of the sum of squared counts. */
export function mcintoshDiversity(community: Community): MetricValue {
  const total = animals(community);
  if (total === 0) return missingValue(NO_ANIMAL);
  return realValue((total - lengthOf(community)) / (total - Math.sqrt(total)), "it needs two animals");
}

/** McIntosh's evenness E = (N - U) / (N - N / sqrt(S)). */
export function mcintoshEvenness(community: Community): MetricValue {
  const total = animals(community);
  if (total === 0) return missingValue(NO_ANIMAL);
  const taxa = taxaWithAnimals(community);
  if (taxa < 2) return missingValue("evenness needs two taxa");
  return realValue((total - lengthOf(community)) / (total - total / Math.sqrt(taxa)));
}

function lengthOf(community: Community): number {
  const { counts } = community;
  let sum = 0;
  for (let i = 0; i < counts.length; i++) sum += (counts[i] as number) ** 2;
  return Math.sqrt(sum);
}
