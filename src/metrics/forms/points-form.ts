import { at } from "../../model/at.ts";
import type { Community } from "../../model/community.ts";
import type { Exact } from "../../model/exact.ts";
import { add, exactOf, multiply, toNumber, ZERO } from "../../model/exact.ts";
import { exactValue } from "../../model/metric-value.ts";
import { numberText } from "../../model/number-text.ts";
import type { PreparedMetric, PrepareKit } from "../define.ts";
import type { TaxonFilter } from "../filter.ts";
import { rareScoring } from "../measures/rare-taxa.ts";
import { contributionsOf, taxonPart } from "./contributions.ts";

/** Points that every taxon of a class brings. */
export interface PointClass {
  readonly points: number;
  readonly filter: TaxonFilter;
}

/**
 * Points of the taxa present: each taxon brings the points of the first class that it passes.
 *
 * @param each `taxon`: a row that stands for several taxa brings the points of each; `row`: once
 */
export function pointsForm(
  kit: PrepareKit,
  filters: readonly TaxonFilter[],
  classes: readonly PointClass[],
  each: "taxon" | "row",
): PreparedMetric {
  const all = kit.filter(...filters);
  const compiled = classes.map(({ points, filter }) => ({
    points: exactOf(points),
    filter: kit.filter(...filters, filter),
  }));
  const points: (Exact | undefined)[] = new Array(kit.tree.size).fill(undefined);
  for (const one of compiled) {
    for (let taxon = 0; taxon < points.length; taxon++)
      if (one.filter.mask[taxon] === 1) points[taxon] ??= one.points;
  }
  const attributes = [
    ...new Set([all, ...compiled.map(({ filter }) => filter)].flatMap((f) => f.attributes)),
  ];
  const [attribute] = attributes;
  const weights = Float64Array.from(points, (one) => (one === undefined ? Number.NaN : toNumber(one)));
  const timesOf = (community: Community, entry: number) => {
    const richness = at(community.richness, entry);
    return each === "row" ? Math.min(1, richness) : richness;
  };
  return {
    attributes,
    rareTaxa: (community) => rareScoring(community, weights),
    lean: {
      kind: "taxa-sum",
      weights,
      scale: 1,
      each,
      result: "sum",
      times: 1,
    },
    evaluate(community) {
      let sum = ZERO;
      for (let i = 0; i < community.taxa.length; i++) {
        const found = points[at(community.taxa, i)];
        if (found !== undefined) sum = add(sum, multiply(found, exactOf(timesOf(community, i))));
      }
      return exactValue(sum);
    },
    contributions: (community) =>
      contributionsOf(
        community,
        attribute === undefined ? undefined : kit.attribute(attribute),
        (entry, taxon) => {
          const part = taxonPart(community, all, entry, taxon);
          if (!part.counted) return part;
          const found = points[taxon];
          if (found === undefined) return { counted: false, why: "in none of the classes that bring points" };
          const times = timesOf(community, entry);
          const number = numberText(toNumber(found));
          const text = number === "1" ? "1 point" : `${number} points`;
          return { counted: true, why: times === 1 ? text : `${times} x ${text}` };
        },
      ),
  };
}
