import type { CompiledAttribute } from "../../model/attribute-lookup.ts";
import type { Community } from "../../model/community.ts";
import type { Exact } from "../../model/exact.ts";
import { add, exactOf, fraction, multiply, ONE, ZERO } from "../../model/exact.ts";

/** A sum over scoring taxa and the sum of the weights of those taxa. */
export interface ScoreSum {
  readonly sum: Exact;
  readonly weight: Exact;
}

/**
 * Adds up the scores of the taxa of a mask that have one, each taxon once whatever its abundance and however
 * many taxa its row stands for. The weight is the number of scoring taxa.
 */
export function sumOfScores(community: Community, attribute: CompiledAttribute, mask: Uint8Array): ScoreSum {
  const { taxa, richness } = community;
  let sum = 0;
  let scoring = 0;
  for (let i = 0; i < taxa.length; i++) {
    const taxon = taxa[i] as number;
    if (mask[taxon] !== 1 || attribute.has[taxon] !== 1 || (richness[i] as number) === 0) continue;
    sum += attribute.scaled[taxon] as number;
    scoring++;
  }
  return { sum: fraction(sum, attribute.scale), weight: fraction(scoring) };
}

/** A class of abundance: from this many animals on, up to the next class, a taxon has this weight. */
export interface AbundanceClass {
  readonly from: number;
  readonly weight: number;
}

/** The number of the class that a count falls in; -1 below the first. Classes stand in rising order. */
export function classOf(count: number, starts: readonly number[]): number {
  let found = -1;
  for (let i = 0; i < starts.length && count >= (starts[i] as number); i++) found = i;
  return found;
}

/**
 * Adds up scores weighted by abundance class. A taxon takes part when it has a score, stands for a taxon and has
 * enough animals for the first class.
 */
export function sumByClass(
  community: Community,
  mask: Uint8Array,
  classes: readonly AbundanceClass[],
  scoreOf: (taxon: number) => Exact | undefined,
): ScoreSum {
  const starts = classes.map(({ from }) => from);
  return sumOverTaxa(community, mask, (taxon, count) => {
    const weight = classes[classOf(count, starts)]?.weight;
    const score = scoreOf(taxon);
    return weight === undefined || score === undefined ? undefined : { score, weight: exactOf(weight) };
  });
}

/** Adds up scores that differ by abundance class, each taxon with the weight 1. */
export function sumOfClassScores(
  community: Community,
  mask: Uint8Array,
  starts: readonly number[],
  scoresOf: (taxon: number) => readonly Exact[] | undefined,
): ScoreSum {
  return sumOverTaxa(community, mask, (taxon, count) => {
    const score = scoresOf(taxon)?.[classOf(count, starts)];
    return score === undefined ? undefined : { score, weight: ONE };
  });
}

function sumOverTaxa(
  community: Community,
  mask: Uint8Array,
  part: (taxon: number, count: number) => { readonly score: Exact; readonly weight: Exact } | undefined,
): ScoreSum {
  let sum = ZERO;
  let weights = ZERO;
  for (let i = 0; i < community.taxa.length; i++) {
    const taxon = community.taxa[i] as number;
    if (mask[taxon] !== 1 || (community.richness[i] as number) === 0) continue;
    const found = part(taxon, community.counts[i] as number);
    if (found === undefined) continue;
    sum = add(sum, multiply(found.score, found.weight));
    weights = add(weights, found.weight);
  }
  return { sum, weight: weights };
}
