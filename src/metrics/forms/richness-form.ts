import { at } from "../../model/at.ts";
import { exactOf } from "../../model/exact.ts";
import { exactValue } from "../../model/metric-value.ts";
import type { Rank } from "../../model/taxon-tree.ts";
import type { PreparedMetric, PrepareKit } from "../define.ts";
import type { TaxonFilter } from "../filter.ts";
import { groupsAt } from "../grouping.ts";
import { rareTaxa } from "../measures/rare-taxa.ts";
import { countTaxa, GroupCounter } from "../measures/richness.ts";
import { contributionsOf, taxonPart } from "./contributions.ts";

/** Number of taxa that pass the filters, put together at a rank when one is given. */
export function richnessForm(
  kit: PrepareKit,
  filters: readonly TaxonFilter[],
  groupedAt: Rank | undefined,
): PreparedMetric {
  const filter = kit.filter(...filters);
  const attribute = filter.attributes[0];
  const groups = groupedAt === undefined ? undefined : groupsAt(kit.tree, groupedAt);
  const counter = groups === undefined ? undefined : new GroupCounter(groups);
  return {
    attributes: filter.attributes,
    evaluate: (community) =>
      exactValue(exactOf(counter?.count(community, filter.mask) ?? countTaxa(community, filter.mask))),
    lean: { kind: "taxa", mask: filter.mask, groups },
    rareTaxa: (community) => rareTaxa(community, filter.mask, groups),
    contributions(community) {
      const met = new Set<number>();
      return contributionsOf(
        community,
        attribute === undefined ? undefined : kit.attribute(attribute),
        (entry, taxon) => {
          const part = taxonPart(community, filter, entry, taxon);
          if (!part.counted || groups === undefined) return part;
          const group = at(groups, taxon);
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
