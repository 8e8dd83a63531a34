import type { Community } from "../model/community.ts";
import { smallFloat64Array, smallInt32Array } from "../model/small-arrays.ts";
import type { Rank, TaxonTree } from "../model/taxon-tree.ts";

/** For every taxon the taxon of the given rank that holds it, or itself when it was identified less far. */
export function groupsAt(tree: TaxonTree, rank: Rank): Int32Array {
  const groups = new Int32Array(tree.size);
  for (let taxon = 0; taxon < groups.length; taxon++) groups[taxon] = tree.ancestorAt(taxon, rank) ?? taxon;
  return groups;
}

/**
 * The part of a community that passes a mask, its taxa put together by group: counts are summed, a group is one
 * taxon if any of its members is. Groups stand in the order in which their first member stands.
 */
export function groupedCommunity(community: Community, mask: Uint8Array, groups: Int32Array): Community {
  const places = new Map<number, number>();
  const counts: number[] = [];
  const richness: number[] = [];
  let total = 0;
  for (let i = 0; i < community.taxa.length; i++) {
    const taxon = community.taxa[i] as number;
    if (mask[taxon] !== 1) continue;
    const group = groups[taxon] as number;
    const known = places.get(group);
    const place = known ?? counts.length;
    if (known === undefined) places.set(group, place);
    const count = community.counts[i] as number;
    counts[place] = (counts[place] ?? 0) + count;
    richness[place] = Math.max(richness[place] ?? 0, Math.min(1, community.richness[i] as number));
    total += count;
  }
  return {
    taxa: Int32Array.from(places.keys()),
    counts: Float64Array.from(counts),
    richness: Float64Array.from(richness),
    total,
  };
}

/** The part of a community that passes a mask, as it is. */
export function maskedCommunity(community: Community, mask: Uint8Array): Community {
  let size = 0;
  for (let i = 0; i < community.taxa.length; i++) if (mask[community.taxa[i] as number] === 1) size++;
  if (size === community.taxa.length) return community;
  const taxa = smallInt32Array(size);
  const counts = smallFloat64Array(size);
  const richness = smallFloat64Array(size);
  let total = 0;
  let at = 0;
  for (let i = 0; i < community.taxa.length; i++) {
    const taxon = community.taxa[i] as number;
    if (mask[taxon] !== 1) continue;
    taxa[at] = taxon;
    counts[at] = community.counts[i] as number;
    richness[at] = community.richness[i] as number;
    total += counts[at] as number;
    at++;
  }
  return { taxa, counts, richness, total };
}
