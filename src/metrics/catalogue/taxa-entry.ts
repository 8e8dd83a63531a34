import * as z from "zod";
import type { MetricEntry, MetricExample, MetricNeed, MetricReference, PrepareKit } from "../define.ts";
import { defineMetric } from "../define.ts";
import type { TaxonFilter } from "../filter.ts";
import { filterSetting, filterShape, groupedAt, limitNumber, told } from "../filter-settings.ts";
import { richnessForm } from "../forms/richness-form.ts";

/** What a metric that counts taxa differs in from the next one. */
export interface TaxaSpec {
  readonly id: string;
  readonly name: string;
  readonly alsoCalled?: readonly string[];
  /** Which taxa are counted, in words: "number of {counted}". */
  readonly counted: string;
  readonly remark?: string;
  readonly filter: TaxonFilter;
  readonly needs?: readonly MetricNeed[];
  readonly stress: "falls" | "rises" | "varies";
  readonly references: readonly MetricReference[];
  readonly examples: readonly MetricExample[];
}

const settings = z.strictObject({ ...filterShape, grouped_at: groupedAt });

/** An entry that counts the taxa that pass its own filter and the set's. */
export function taxaMetric(spec: TaxaSpec): MetricEntry {
  return defineMetric({
    ...describe(spec),
    settings,
    measure: (chosen, kit) => richnessForm(kit, [spec.filter, chosen], chosen.grouped_at),
  });
}

/** The family-level or other ranked form of `taxaMetric`: the rank is the entry's own. */
export function familiesMetric(spec: TaxaSpec): MetricEntry {
  return defineMetric({
    ...describe(spec),
    unit: "families",
    settings: filterSetting,
    measure: (chosen, kit) => richnessForm(kit, [spec.filter, chosen], "family"),
  });
}

/** Settings of metrics with one tolerance limit, which the set must choose. */
export const limitShape = {
  limit: told(
    limitNumber,
    "number, required",
    "the tolerance value at which taxa begin to belong to the class; which side that is, the direction of the scheme says",
  ),
  limit_included: told(
    z.boolean({ error: "must be true or false" }).default(true),
    "true or false",
    "whether a value equal to the limit belongs to the class",
  ),
};

const limitedSettings = z.strictObject({ ...filterShape, grouped_at: groupedAt, ...limitShape });

/** An entry that counts taxa on one side of a tolerance limit. */
export function limitedTaxaMetric(spec: TaxaSpec & { readonly side: "sensitive" | "tolerant" }): MetricEntry {
  const { side, ...taxa } = spec;
  return defineMetric({
    ...describe(taxa),
    settings: limitedSettings,
    measure: (chosen, kit) => {
      const limit = sideOfLimit(kit, side, chosen.limit, chosen.limit_included);
      return richnessForm(kit, [taxa.filter, limit, chosen], chosen.grouped_at);
    },
  });
}

/**
 * The filter for the sensitive or the tolerant side of a limit. In schemes whose high values mean sensitive
 * (average-score indices) the sides change places; a set's own list without a direction is read as a tolerance
 * list.
 */
export function sideOfLimit(
  kit: PrepareKit,
  side: "sensitive" | "tolerant",
  limit: number,
  included: boolean,
): TaxonFilter {
  const highIsSensitive = kit.attribute("tolerance").scheme.direction === "higher-is-sensitive";
  if ((side === "sensitive") === highIsSensitive)
    return included ? { tolerance_at_least: limit } : { tolerance_above: limit };
  return included ? { tolerance_at_most: limit } : { tolerance_below: limit };
}

function describe(spec: TaxaSpec) {
  const { filter: _filter, counted, remark, needs, ...rest } = spec;
  return {
    ...rest,
    summary: `Number of ${counted}.${remark === undefined ? "" : ` ${remark}`}`,
    formula: "sum of what each taxon that passes adds to richness: usually 1, 0 for an ambiguous parent",
    unit: "taxa",
    range: [0, Number.POSITIVE_INFINITY] as const,
    whenEmpty: "zero" as const,
    needs: needs ?? (["taxonomy"] as const),
    whenMultiplied: "same" as const,
  };
}
