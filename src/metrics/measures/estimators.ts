import type { Community } from "../../model/community.ts";
import { fraction } from "../../model/exact.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { exactValue, missingValue, realValue } from "../../model/metric-value.ts";
import { expectedRichness, meanRichness } from "../../subsample/expected-richness.ts";
import { animals, NEEDS_WHOLE_ANIMALS, NO_ANIMAL, taxaWithAnimals } from "./entropy.ts";
import { hasFractions } from "./sums.ts";

/** Abundance up to which a taxon is rare in the abundance-based coverage estimator. */
const RARE = 10;

function taxaWith(community: Community, count: number): number {
  const { counts } = community;
  let taxa = 0;
  for (let i = 0; i < counts.length; i++) if (counts[i] === count) taxa++;
  return taxa;
}

function whyNot(community: Community): MetricValue | undefined {
  if (animals(community) === 0) return missingValue(NO_ANIMAL);
  return hasFractions(community) ? missingValue(NEEDS_WHOLE_ANIMALS) : undefined;
}

/**
 * Chao's first estimator of richness in its bias-corrected form, exact:
 * S + F1 (F1 - 1) / (2 (F2 + 1)), with F1 taxa of one animal and F2 of two (Chao 2005).
 */
export function chao1(community: Community): MetricValue {
  const missing = whyNot(community);
  if (missing !== undefined) return missing;
  const one = taxaWith(community, 1);
  const two = taxaWith(community, 2);
  const below = 2 * (two + 1);
  return exactValue(fraction(taxaWithAnimals(community) * below + one * (one - 1), below));
}

/**
 * Standard error of `chao1` by the delta method: the numbers of taxa of each abundance are taken as multinomial
 * over the estimated number of taxa (Chao 1987), and the derivatives are those of the bias-corrected form.
 */
export function chao1StandardError(community: Community): MetricValue {
  const missing = whyNot(community);
  if (missing !== undefined) return missing;
  const taxa = taxaWithAnimals(community);
  const one = taxaWith(community, 1);
  const two = taxaWith(community, 2);
  const estimate = taxa + (one * (one - 1)) / (2 * (two + 1));
  const byOne = 1 + (2 * one - 1) / (2 * (two + 1));
  const byTwo = 1 - (one * (one - 1)) / (2 * (two + 1) ** 2);
  const others = taxa - one - two;
  const squares = byOne ** 2 * one + byTwo ** 2 * two + others;
  const mean = byOne * one + byTwo * two + others;
  return realValue(Math.sqrt(Math.max(0, squares - mean ** 2 / estimate)));
}

/**
 * The abundance-based coverage estimator of richness (Chao & Lee 1992, in the form with taxa of up to 10 animals
 * as the rare ones).
 */
export function ace(community: Community): MetricValue {
  const missing = whyNot(community);
  if (missing !== undefined) return missing;
  let rareTaxa = 0;
  let rareAnimals = 0;
  let pairs = 0;
  for (const count of community.counts) {
    if (count < 1 || count > RARE) continue;
    rareTaxa++;
    rareAnimals += count;
    pairs += count * (count - 1);
  }
  const taxa = taxaWithAnimals(community);
  if (rareTaxa === 0) return realValue(taxa);
  const one = taxaWith(community, 1);
  const coverage = 1 - one / rareAnimals;
  if (coverage === 0) return missingValue("every rare taxon has one animal, so its coverage is nil");
  const spread = (rareTaxa / coverage) * (pairs / (rareAnimals * (rareAnimals - 1))) - 1;
  return realValue(taxa - rareTaxa + rareTaxa / coverage + (one / coverage) * Math.max(0, spread));
}

/** Taxa to expect among `n` animals drawn without replacement, or the standard error of their number. */
export function hurlbert(
  community: Community,
  n: number,
  result: "expected" | "standard-error",
): MetricValue {
  const missing = whyNot(community);
  if (missing !== undefined) return missing;
  const total = animals(community);
  if (n > total) return missingValue(`the sample has ${total} animals, fewer than ${n}`);
  return realValue(
    result === "expected"
      ? meanRichness(community.counts, n)
      : expectedRichness(community.counts, n).standardError,
  );
}
