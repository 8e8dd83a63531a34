import type { Community } from "../model/community.ts";
import type { Rank } from "../model/taxon-tree.ts";
import type { PrepareKit } from "./define.ts";
import type { CompiledFilter } from "./filter.ts";
import { groupedCommunity, groupsAt, maskedCommunity } from "./grouping.ts";

/** The community as a metric sees it: filtered, and put together at a rank when the set asks for that. */
export interface CommunityView {
  of(community: Community): Community;
  /** For every taxon the one that it is part of; undefined where none are put together. */
  readonly groups: Int32Array | undefined;
  /** The taxon that an entry's taxon is part of in the view. */
  groupOf(taxon: number): number;
}

/** Makes the view of a filter; the community itself when neither filter nor rank changes anything. */
export function communityView(
  kit: PrepareKit,
  filter: CompiledFilter,
  rank: Rank | undefined,
): CommunityView {
  if (rank === undefined) {
    return {
      of:
        filter.words === ""
          ? (community) => community
          : (community) => maskedCommunity(community, filter.mask),
      groups: undefined,
      groupOf: (taxon) => taxon,
    };
  }
  const groups = groupsAt(kit.tree, rank);
  return {
    of: (community) => groupedCommunity(community, filter.mask, groups),
    groups,
    groupOf: (taxon) => groups[taxon] as number,
  };
}
