import { at } from "../../model/at.ts";
import type { Community, SampleContext } from "../../model/community.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { missingValue } from "../../model/metric-value.ts";
import type { Rank } from "../../model/taxon-tree.ts";
import { communityView } from "../community-view.ts";
import type { Contribution, PreparedMetric, PrepareKit } from "../define.ts";
import type { TaxonFilter } from "../filter.ts";
import { contributionsOf } from "./contributions.ts";

/** A comparison of the sample with the reference sample that the log names for it. */
export function similarityForm(
  kit: PrepareKit,
  filters: readonly TaxonFilter[],
  groupedAt: Rank | undefined,
  compare: (sample: Community, reference: Community) => MetricValue,
): PreparedMetric {
  const filter = kit.filter(...filters);
  const view = communityView(kit, filter, groupedAt);
  return {
    attributes: filter.attributes,
    evaluate: (community, { reference }) =>
      reference === undefined
        ? missingValue("no reference sample is known for this sample")
        : compare(view.of(community), view.of(reference)),
    contributions(community, context) {
      const there = countsByGroup(context, view);
      const seen = new Set<number>();
      const own = contributionsOf(community, undefined, (_entry, taxon) => {
        const why = filter.whyNot(taxon);
        if (why !== undefined) return { counted: false, why };
        const group = view.groupOf(taxon);
        seen.add(group);
        const name = group === taxon ? "" : `${kit.tree.nameOf(group)}: `;
        const count = there.get(group);
        return {
          counted: true,
          why: `${name}${count === undefined ? "not in the reference sample" : `${count} in the reference sample`}`,
        };
      });
      const missing = [...there].filter(([group]) => !seen.has(group));
      return [...own, ...missing.map(([group, count]) => onlyInReference(group, count))];
    },
  };
}

function countsByGroup(context: SampleContext, view: ReturnType<typeof communityView>): Map<number, number> {
  const counts = new Map<number, number>();
  if (context.reference === undefined) return counts;
  const reference = view.of(context.reference);
  for (let i = 0; i < reference.taxa.length; i++) counts.set(at(reference.taxa, i), at(reference.counts, i));
  return counts;
}

function onlyInReference(taxon: number, count: number): Contribution {
  return { taxon, count: 0, counted: true, why: `only in the reference sample, ${count} there` };
}
