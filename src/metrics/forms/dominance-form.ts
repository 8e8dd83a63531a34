import { at } from "../../model/at.ts";
import type { Rank } from "../../model/taxon-tree.ts";
import { communityView } from "../community-view.ts";
import type { PreparedMetric, PrepareKit } from "../define.ts";
import type { TaxonFilter } from "../filter.ts";
import { mostNumerous, shareOfDominants } from "../measures/dominance.ts";
import { animalPart, contributionsOf } from "./contributions.ts";

/** Share of the most numerous taxa, taken together, among all animals that pass the filter. */
export function dominanceForm(
  kit: PrepareKit,
  taxaTogether: number,
  filters: readonly TaxonFilter[],
  groupedAt: Rank | undefined,
  times: 1 | 100,
): PreparedMetric {
  const filter = kit.filter(...filters);
  const view = communityView(kit, filter, groupedAt);
  const found = new Int32Array(taxaTogether);
  const whyMissing =
    filter.words === "" ? "the sample has no animal" : `the sample has no animal (${filter.words})`;
  const attribute = filter.attributes[0];
  return {
    attributes: filter.attributes,
    lean: { kind: "dominants", mask: filter.mask, groups: view.groups, taxaTogether, times },
    evaluate: (community) => shareOfDominants(view.of(community), found, times, whyMissing),
    contributions(community) {
      const seen = view.of(community);
      const size = mostNumerous(seen, found);
      const dominant = new Set<number>();
      for (let i = 0; i < size; i++) dominant.add(at(seen.taxa, at(found, i)));
      return contributionsOf(
        community,
        attribute === undefined ? undefined : kit.attribute(attribute),
        (entry, taxon) => {
          const part = animalPart(community, filter, entry, taxon);
          if (!part.counted) return part;
          const group = view.groupOf(taxon);
          const inGroup = group === taxon ? "" : `in ${kit.tree.nameOf(group)}`;
          if (dominant.has(group)) return { counted: true, why: inGroup === "" ? undefined : inGroup };
          return {
            counted: false,
            why: `${inGroup === "" ? "" : `${inGroup}, `}not among the ${taxaTogether === 1 ? "most numerous" : `${taxaTogether} most numerous`}; part of the whole`,
          };
        },
      );
    },
  };
}
