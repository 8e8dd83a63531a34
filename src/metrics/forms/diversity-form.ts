import { at } from "../../model/at.ts";
import type { Community } from "../../model/community.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import type { Rank } from "../../model/taxon-tree.ts";
import { communityView } from "../community-view.ts";
import type { PreparedMetric, PrepareKit } from "../define.ts";
import type { TaxonFilter } from "../filter.ts";
import { contributionsOf, NO_TAXON } from "./contributions.ts";

/**
 * Any measure of the whole list of counts, of the taxa that pass the filters, put together at a rank.
 *
 * @param entropyBase where the measure is the entropy in units of the logarithm of a base
 */
export function diversityForm(
  kit: PrepareKit,
  filters: readonly TaxonFilter[],
  groupedAt: Rank | undefined,
  measure: (community: Community) => MetricValue,
  entropyBase?: number,
): PreparedMetric {
  const filter = kit.filter(...filters);
  const view = communityView(kit, filter, groupedAt);
  const attribute = filter.attributes[0];
  return {
    attributes: filter.attributes,
    lean:
      entropyBase === undefined
        ? undefined
        : { kind: "shannon", mask: filter.mask, groups: view.groups, base: entropyBase },
    evaluate: (community) => measure(view.of(community)),
    contributions: (community) =>
      contributionsOf(
        community,
        attribute === undefined ? undefined : kit.attribute(attribute),
        (entry, taxon) => {
          const why = filter.whyNot(taxon);
          if (why !== undefined) return { counted: false, why };
          const count = at(community.counts, entry);
          const richness = at(community.richness, entry);
          if (count === 0 && richness === 0) return { counted: false, why: "neither animals nor a taxon" };
          const group = view.groupOf(taxon);
          const notes = [
            group === taxon ? undefined : `in ${kit.tree.nameOf(group)}`,
            count === 0 ? "no animals: adds to taxa richness only" : undefined,
            richness === 0 ? NO_TAXON : undefined,
          ].filter((note) => note !== undefined);
          return { counted: true, why: notes.length === 0 ? undefined : notes.join("; ") };
        },
      ),
  };
}
