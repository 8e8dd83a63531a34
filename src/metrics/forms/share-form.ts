import type { PreparedMetric, PrepareKit } from "../define.ts";
import type { CompiledFilter, TaxonFilter } from "../filter.ts";
import { countAllTaxa, countTaxa } from "../measures/richness.ts";
import { shareOfAnimals, shareOfTaxa } from "../measures/share.ts";
import { animalPart, contributionsOf, taxonPart } from "./contributions.ts";

/**
 * Animals that pass a filter as a share of those that make the whole.
 *
 * The part is always a part of the whole: an animal outside the whole is not in the part either.
 */
export function shareOfAnimalsForm(
  kit: PrepareKit,
  filters: readonly TaxonFilter[],
  whole: readonly TaxonFilter[],
  times: 1 | 100,
): PreparedMetric {
  const { part, of, whyMissing } = parts(kit, filters, whole, "animal");
  const attribute = part.attributes[0];
  return {
    attributes: [...new Set([...part.attributes, ...(of?.attributes ?? [])])],
    lean: {
      kind: "animals",
      above: part.mask,
      below: of?.mask,
      aboveTimes: times,
      belowTimes: 1,
      most: Number.POSITIVE_INFINITY,
      whenNoneBelow: "missing",
    },
    evaluate: (community) => shareOfAnimals(community, part.mask, of?.mask, times, whyMissing),
    contributions: (community) =>
      contributionsOf(
        community,
        attribute === undefined ? undefined : kit.attribute(attribute),
        (entry, taxon) => outsideWhole(of, taxon) ?? animalPart(community, part, entry, taxon),
      ),
  };
}

/** Taxa that pass a filter as a share of those that make the whole. */
export function shareOfTaxaForm(
  kit: PrepareKit,
  filters: readonly TaxonFilter[],
  whole: readonly TaxonFilter[],
  times: 1 | 100,
): PreparedMetric {
  const { part, of, whyMissing } = parts(kit, filters, whole, "taxon");
  const attribute = part.attributes[0];
  return {
    attributes: [...new Set([...part.attributes, ...(of?.attributes ?? [])])],
    lean: { kind: "taxa-quotient", above: part.mask, below: of?.mask, times, whenNoneBelow: "missing" },
    evaluate: (community) =>
      shareOfTaxa(
        countTaxa(community, part.mask),
        of === undefined ? countAllTaxa(community) : countTaxa(community, of.mask),
        times,
        whyMissing,
      ),
    contributions: (community) =>
      contributionsOf(
        community,
        attribute === undefined ? undefined : kit.attribute(attribute),
        (entry, taxon) => outsideWhole(of, taxon) ?? taxonPart(community, part, entry, taxon),
      ),
  };
}

function parts(
  kit: PrepareKit,
  filters: readonly TaxonFilter[],
  whole: readonly TaxonFilter[],
  what: "animal" | "taxon",
) {
  const of = whole.length === 0 ? undefined : kit.filter(...whole);
  return {
    part: kit.filter(...whole, ...filters),
    of,
    whyMissing: of === undefined ? `the sample has no ${what}` : `the sample has no ${what} (${of.words})`,
  };
}

function outsideWhole(of: CompiledFilter | undefined, taxon: number) {
  const why = of?.whyNot(taxon);
  return why === undefined ? undefined : { counted: false, why: `outside the whole: ${why}` };
}
