import { at } from "../../model/at.ts";
import type { CompiledAttribute } from "../../model/attribute-lookup.ts";
import type { Community } from "../../model/community.ts";
import { valueText } from "../attribute-text.ts";
import type { Contribution } from "../define.ts";
import type { CompiledFilter } from "../filter.ts";

/** What a form says of one entry of the community. */
export interface Part {
  readonly counted: boolean;
  readonly why?: string | undefined;
  readonly value?: string | undefined;
}

/** The contributions of a community, entry by entry. */
export function contributionsOf(
  community: Community,
  attribute: CompiledAttribute | undefined,
  part: (entry: number, taxon: number) => Part,
): Contribution[] {
  const contributions: Contribution[] = [];
  for (let i = 0; i < community.taxa.length; i++) {
    const taxon = at(community.taxa, i);
    const { counted, why, value } = part(i, taxon);
    const from = attribute?.from[taxon] ?? -1;
    contributions.push({
      taxon,
      count: at(community.counts, i),
      counted,
      value: value ?? (attribute === undefined ? undefined : valueText(attribute, taxon)),
      valueFrom: value === undefined && from >= 0 ? from : undefined,
      why,
    });
  }
  return contributions;
}

/** An entry counts as animals when it passes the filter and has any. */
export function animalPart(community: Community, filter: CompiledFilter, entry: number, taxon: number): Part {
  const why = filter.whyNot(taxon);
  if (why !== undefined) return { counted: false, why };
  if (at(community.counts, entry) === 0)
    return { counted: false, why: "no animals: found in the search for large and rare ones only" };
  return { counted: true };
}

/** An entry counts as taxa when it passes the filter and stands for any. */
export function taxonPart(community: Community, filter: CompiledFilter, entry: number, taxon: number): Part {
  const why = filter.whyNot(taxon);
  if (why !== undefined) return { counted: false, why };
  const richness = at(community.richness, entry);
  if (richness === 0) return { counted: false, why: NO_TAXON };
  return { counted: true, why: richness === 1 ? undefined : `stands for ${richness} taxa` };
}

export const NO_TAXON = "adds no taxon: finer taxa of it are in the sample";
