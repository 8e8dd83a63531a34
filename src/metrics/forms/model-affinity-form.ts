import { at } from "../../model/at.ts";
import { compareExact, exactOf, subtract, toNumber, ZERO } from "../../model/exact.ts";
import { numberText } from "../../model/number-text.ts";
import type { PreparedMetric, PrepareKit } from "../define.ts";
import type { TaxonFilter } from "../filter.ts";
import { modelAffinity } from "../measures/model-affinity.ts";
import { animalPart, contributionsOf } from "./contributions.ts";

/** One group of a model community. */
export interface ModelGroup {
  readonly percent: number;
  readonly filter: TaxonFilter;
}

/**
 * Similarity to a model community. A taxon belongs to the first group that it passes; what passes none is the
 * last group, which has what is left of 100 percent.
 */
export function modelAffinityForm(kit: PrepareKit, groups: readonly ModelGroup[]): PreparedMetric {
  const everything = kit.filter();
  const compiled = groups.map(({ filter }) => kit.filter(filter));
  const percents = groups.map(({ percent }) => exactOf(percent));
  const rest = percents.reduce(subtract, exactOf(100));
  if (compareExact(rest, ZERO) < 0) kit.problem("the groups of the model add up to more than 100 percent");
  percents.push(rest);
  const groupOf = new Int16Array(kit.tree.size);
  for (let taxon = 0; taxon < groupOf.length; taxon++) {
    const found = compiled.findIndex((filter) => filter.mask[taxon] === 1);
    groupOf[taxon] = found < 0 ? groups.length : found;
  }
  const words = [...compiled.map((filter) => filter.words.replace(/^within /, "")), "other"];
  return {
    attributes: [...new Set(compiled.flatMap((filter) => filter.attributes))],
    evaluate: (community) => modelAffinity(community, percents, groupOf),
    contributions: (community) =>
      contributionsOf(community, undefined, (entry, taxon) => {
        const part = animalPart(community, everything, entry, taxon);
        if (!part.counted) return part;
        const group = at(groupOf, taxon);
        const percent = numberText(toNumber(at(percents, group)));
        return { counted: true, value: words[group], why: `${percent} percent in the model` };
      }),
  };
}
