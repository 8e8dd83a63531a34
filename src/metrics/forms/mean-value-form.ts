import { at } from "../../model/at.ts";
import type { PreparedMetric, PrepareKit } from "../define.ts";
import type { TaxonFilter } from "../filter.ts";
import { meanOverAnimals, valueWeights } from "../measures/mean-value.ts";
import { animalPart, contributionsOf } from "./contributions.ts";

/** Mean tolerance over the animals that pass the filters and have a value. */
export function meanToleranceForm(
  kit: PrepareKit,
  filters: readonly TaxonFilter[],
  most: number,
): PreparedMetric {
  const attribute = kit.attribute("tolerance");
  const filter = kit.filter(...filters);
  const weights = valueWeights(attribute, filter.mask);
  const attributes = [...new Set(["tolerance" as const, ...filter.attributes])];
  return {
    attributes,
    lean: {
      kind: "animals",
      above: weights.scaled,
      below: weights.present,
      aboveTimes: 1,
      belowTimes: weights.scale,
      most,
      whenNoneBelow: "missing",
    },
    evaluate: (community) => meanOverAnimals(community, weights, most, "no animal has a tolerance value"),
    contributions: (community) =>
      contributionsOf(community, attribute, (entry, taxon) => {
        const part = animalPart(community, filter, entry, taxon);
        if (!part.counted) return part;
        if (attribute.has[taxon] !== 1)
          return { counted: false, why: `no tolerance value in ${attribute.scheme.scheme}` };
        const count = at(community.counts, entry);
        return { counted: true, why: count > most ? `${most} of ${count} animals enter` : undefined };
      }),
  };
}
