import { at } from "../../model/at.ts";
import type { Community } from "../../model/community.ts";
import { exactOf, fraction, isZero, ZERO } from "../../model/exact.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { exactValue, missingValue } from "../../model/metric-value.ts";
import type { PreparedMetric, PrepareKit } from "../define.ts";
import type { CompiledFilter, TaxonFilter } from "../filter.ts";
import { countTaxa } from "../measures/richness.ts";
import { exactSum, quotient, sumWhere } from "../measures/sums.ts";
import { contributionsOf } from "./contributions.ts";

/** What a ratio is when nothing stands below its line. */
export const WHEN_NONE_BELOW = ["missing", "above-alone", "zero"] as const;
export type WhenNoneBelow = (typeof WHEN_NONE_BELOW)[number];

/** Animals (or taxa) of one filter divided by those of another. */
export function ratioForm(
  kit: PrepareKit,
  counts: "animals" | "taxa",
  above: readonly TaxonFilter[],
  below: readonly TaxonFilter[],
  whenNoneBelow: WhenNoneBelow,
): PreparedMetric {
  const top = kit.filter(...above);
  const bottom = kit.filter(...below);
  const attributes = [...new Set([...top.attributes, ...bottom.attributes])];
  const [attribute] = attributes;
  const why = `nothing stands below the line of the ratio: no ${counts} (${bottom.words})`;
  const ratio = counts === "animals" ? ratioOfAnimals : ratioOfTaxa;
  return {
    attributes,
    lean:
      counts === "animals"
        ? {
            kind: "animals",
            above: top.mask,
            below: bottom.mask,
            aboveTimes: 1,
            belowTimes: 1,
            most: Number.POSITIVE_INFINITY,
            whenNoneBelow,
          }
        : { kind: "taxa-quotient", above: top.mask, below: bottom.mask, times: 1, whenNoneBelow },
    evaluate: (community) => ratio(community, top, bottom, whenNoneBelow, why),
    contributions: (community) =>
      contributionsOf(
        community,
        attribute === undefined ? undefined : kit.attribute(attribute),
        (entry, taxon) => {
          const isAbove = top.mask[taxon] === 1;
          const isBelow = bottom.mask[taxon] === 1;
          if (!isAbove && !isBelow)
            return { counted: false, why: `${top.whyNot(taxon)}; ${bottom.whyNot(taxon)}` };
          const amount = at(counts === "animals" ? community.counts : community.richness, entry);
          const side = isAbove && isBelow ? "above and below" : isAbove ? "above" : "below";
          return {
            counted: amount > 0,
            why: `${side} the line${amount === 0 ? ", adds nothing" : ""}`,
          };
        },
      ),
  };
}

function ratioOfAnimals(
  community: Community,
  top: CompiledFilter,
  bottom: CompiledFilter,
  whenNoneBelow: WhenNoneBelow,
  why: string,
): MetricValue {
  const above = sumWhere(community, top.mask);
  const below = sumWhere(community, bottom.mask);
  if (above >= 0 && below > 0) return exactValue(fraction(above, below));
  const numerator = exactSum(community, (taxon) => at(top.mask, taxon));
  const denominator = exactSum(community, (taxon) => at(bottom.mask, taxon));
  if (!isZero(denominator)) return quotient(numerator, denominator, 1, community, why);
  if (whenNoneBelow === "above-alone") return quotient(numerator, exactOf(1), 1, community, why);
  return withoutBelow(0, whenNoneBelow, why);
}

function ratioOfTaxa(
  community: Community,
  top: CompiledFilter,
  bottom: CompiledFilter,
  whenNoneBelow: WhenNoneBelow,
  why: string,
): MetricValue {
  const above = countTaxa(community, top.mask);
  const below = countTaxa(community, bottom.mask);
  return below > 0 ? exactValue(fraction(above, below)) : withoutBelow(above, whenNoneBelow, why);
}

function withoutBelow(above: number, whenNoneBelow: WhenNoneBelow, why: string): MetricValue {
  if (whenNoneBelow === "missing") return missingValue(why);
  return exactValue(whenNoneBelow === "zero" ? ZERO : exactOf(above));
}
