import type { Community } from "../../model/community.ts";

/** How many taxa of a group were met once and twice. */
export interface RareTaxa {
  readonly once: number;
  readonly twice: number;
}

/**
 * Counts the taxa of a mask with one animal and with two.
 *
 * @param groups for every taxon the group that it is counted in, itself a taxon; each by itself when left out
 */
export function rareTaxa(community: Community, mask: Uint8Array, groups: Int32Array | undefined): RareTaxa {
  const { taxa, counts, richness } = community;
  const animals = new Map<number, number>();
  for (let i = 0; i < taxa.length; i++) {
    const taxon = taxa[i] ?? 0;
    if (mask[taxon] !== 1 || (richness[i] ?? 0) <= 0) continue;
    const group = groups?.[taxon] ?? taxon;
    animals.set(group, (animals.get(group) ?? 0) + (counts[i] ?? 0));
  }
  let once = 0;
  let twice = 0;
  for (const count of animals.values()) {
    if (count === 1) once++;
    else if (count === 2) twice++;
  }
  return { once, twice };
}
