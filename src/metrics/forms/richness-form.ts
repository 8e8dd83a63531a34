import { exactOf } from "../../model/exact.ts";
import { exactValue } from "../../model/metric-value.ts";
import type { Rank } from "../../model/taxon-tree.ts";
import { communityView } from "../community-view.ts";
import type { PreparedMetric, PrepareKit } from "../define.ts";
import type { TaxonFilter } from "../filter.ts";
import { countAllTaxa, countTaxa } from "../measures/richness.ts";
import { contributionsOf, taxonPart } from "./contributions.ts";

/** Number of taxa that pass the filters, put together at a rank when one is given. */
export function richnessForm(
  kit: PrepareKit,
  filters: readonly TaxonFilter[],
  groupedAt: Rank | undefined,
): PreparedMetric {
  const filter = kit.filter(...filters);
  const attribute = filter.attributes[0];
  const view = communityView(kit, filter, groupedAt);
  return {
    attributes: filter.attributes,
    evaluate: (community) =>
      exactValue(
        exactOf(
          groupedAt === undefined ? countTaxa(community, filter.mask) : countAllTaxa(view.of(community)),
        ),
      ),
    contributions(community) {
      const met = new Set<number>();
      return contributionsOf(
        community,
        attribute === undefined ? undefined : kit.attribute(attribute),
        (entry, taxon) => {
          const part = taxonPart(community, filter, entry, taxon);
          if (!part.counted || groupedAt === undefined) return part;
          const group = view.groupOf(taxon);
          const again = met.has(group);
          met.add(group);
          const name = kit.tree.nameOf(group);
          return again
            ? { counted: false, why: `in ${name}, which is counted already` }
            : { counted: true, why: group === taxon ? undefined : `stands for ${name}` };
        },
      );
    },
  };
}
