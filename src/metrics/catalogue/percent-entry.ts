import * as z from "zod";
import type { MetricEntry, MetricExample, MetricNeed, MetricReference } from "../define.ts";
import { defineMetric } from "../define.ts";
import type { TaxonFilter } from "../filter.ts";
import { filterSetting, filterShape, told } from "../filter-settings.ts";
import { shareOfAnimalsForm, shareOfTaxaForm } from "../forms/share-form.ts";
import { limitShape, sideOfLimit } from "./taxa-entry.ts";

/** What a percentage differs in from the next one. */
export interface PercentSpec {
  readonly id: string;
  readonly name: string;
  readonly alsoCalled?: readonly string[];
  /** What is counted, in words: "Share of all animals that are {counted}". */
  readonly counted: string;
  readonly remark?: string;
  readonly filter: TaxonFilter;
  /** What makes the whole; everything when left out. */
  readonly of?: TaxonFilter;
  /** The whole in words, for instance "caddisflies". */
  readonly ofWords?: string;
  readonly needs?: readonly MetricNeed[];
  /** 1 for a share from 0 to 1 instead of a percentage. */
  readonly times?: 1 | 100;
  readonly stress: "falls" | "rises" | "varies";
  readonly references: readonly MetricReference[];
  readonly examples: readonly MetricExample[];
}

const of = told(
  filterSetting.optional(),
  "a filter",
  "what makes the whole; all animals when left out, those without an attribute value included",
);

// Made once and shared: building a schema for every entry would cost each start of the program.
const settings = z.strictObject({ ...filterShape, of });
const limitedSettings = z.strictObject({ ...filterShape, of, ...limitShape });

/** An entry that gives animals of some taxa as a share of all animals. */
export function percentMetric(spec: PercentSpec): MetricEntry {
  return defineMetric({
    ...describe(spec, "animals"),
    settings,
    measure: (chosen, kit) =>
      shareOfAnimalsForm(kit, [spec.filter, chosen], wholeOf(spec, chosen.of), spec.times ?? 100),
  });
}

/** An entry that gives some taxa as a share of all taxa. */
export function percentTaxaMetric(spec: PercentSpec): MetricEntry {
  return defineMetric({
    ...describe(spec, "taxa"),
    settings,
    measure: (chosen, kit) =>
      shareOfTaxaForm(kit, [spec.filter, chosen], wholeOf(spec, chosen.of), spec.times ?? 100),
  });
}

/** The percentage of animals, or of taxa, on one side of a tolerance limit that the set chooses. */
export function limitedPercentMetric(
  spec: PercentSpec & { readonly side: "sensitive" | "tolerant"; readonly counts: "animals" | "taxa" },
): MetricEntry {
  const { side, counts, ...percent } = spec;
  const form = counts === "animals" ? shareOfAnimalsForm : shareOfTaxaForm;
  return defineMetric({
    ...describe(percent, counts),
    settings: limitedSettings,
    measure: (chosen, kit) => {
      const limit = sideOfLimit(kit, side, chosen.limit, chosen.limit_included);
      return form(kit, [percent.filter, limit, chosen], wholeOf(percent, chosen.of), 100);
    },
  });
}

function wholeOf(spec: PercentSpec, chosen: TaxonFilter | undefined): readonly TaxonFilter[] {
  return [spec.of, chosen].filter((filter) => filter !== undefined);
}

function describe(spec: PercentSpec, counts: "animals" | "taxa") {
  const { filter: _filter, of: _of, ofWords, times, counted, remark, needs, ...rest } = spec;
  const whole = ofWords ?? `all ${counts}`;
  const isShare = times === 1;
  return {
    ...rest,
    summary: `Share of ${whole} that are ${counted}.${remark === undefined ? "" : ` ${remark}`}`,
    formula: `${isShare ? "" : "100 x "}${counts} that pass / ${whole}`,
    unit: isShare ? "share of 1" : "percent",
    range: [0, isShare ? 1 : 100] as const,
    whenEmpty: "missing" as const,
    needs: needs ?? (counts === "animals" ? (["counts", "taxonomy"] as const) : (["taxonomy"] as const)),
    whenMultiplied: "same" as const,
  };
}
