import type { Community } from "../../model/community.ts";

/** How many of the taxa that a metric counts were met once and twice, and what one more of them adds to it. */
export interface RareTaxa {
  readonly once: number;
  readonly twice: number;
  /** 1 for numbers of taxa; for sums of points the mean of what rare taxa bring, or else of what all bring. */
  readonly each: number;
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
    const taxon = taxa[i] as number;
    if (mask[taxon] !== 1 || (richness[i] as number) <= 0) continue;
    const group = groups?.[taxon] ?? taxon;
    animals.set(group, (animals.get(group) ?? 0) + (counts[i] as number));
  }
  let once = 0;
  let twice = 0;
  for (const count of animals.values()) {
    if (count === 1) once++;
    else if (count === 2) twice++;
  }
  return { once, twice, each: 1 };
}

/**
 * The same for a sum of points that taxa bring.
 *
 * @param points of each taxon; NaN for one that takes no part
 */
export function rareScoring(community: Community, points: Float64Array): RareTaxa {
  const { taxa, counts, richness } = community;
  let once = 0;
  let twice = 0;
  let ofRare = 0;
  let ofAll = 0;
  let all = 0;
  for (let i = 0; i < taxa.length; i++) {
    const point = points[taxa[i] as number] as number;
    if (Number.isNaN(point) || (richness[i] as number) <= 0) continue;
    all++;
    ofAll += point;
    if (counts[i] === 2) twice++;
    if (counts[i] !== 1) continue;
    once++;
    ofRare += point;
  }
  return { once, twice, each: once > 0 ? ofRare / once : all > 0 ? ofAll / all : 0 };
}
