import type { Community } from "../../model/community.ts";

/** Taxa in the taxa of a mask: the sum of what each entry adds to richness. */
export function countTaxa(community: Community, mask: Uint8Array): number {
  const { taxa, richness } = community;
  let sum = 0;
  // Which taxa are in the mask is as good as chance: a product costs less than a branch.
  for (let i = 0; i < taxa.length; i++) sum += (mask[taxa[i] as number] as number) * (richness[i] as number);
  return sum;
}

/** Counts groups of taxa without making anything for a sample: a mark per group says when it was met last. */
export class GroupCounter {
  readonly #groups: Int32Array;
  /** Wide enough that turns never run out. */
  readonly #met: Float64Array;
  #turn = 0;

  /** @param groups for every taxon the group that it belongs to, itself a taxon */
  constructor(groups: Int32Array) {
    this.#groups = groups;
    this.#met = new Float64Array(groups.length);
  }

  /** Groups of which at least one taxon passes the mask and adds to richness. */
  count(community: Community, mask: Uint8Array): number {
    this.#turn++;
    const { taxa, richness } = community;
    let groups = 0;
    for (let i = 0; i < taxa.length; i++) {
      const taxon = taxa[i] as number;
      if (mask[taxon] !== 1 || (richness[i] as number) <= 0) continue;
      const group = this.#groups[taxon] as number;
      if (this.#met[group] === this.#turn) continue;
      this.#met[group] = this.#turn;
      groups++;
    }
    return groups;
  }
}

/** Taxa of a whole community. */
export function countAllTaxa(community: Community): number {
  const { richness } = community;
  let sum = 0;
  for (let i = 0; i < richness.length; i++) sum += richness[i] as number;
  return sum;
}
