import * as z from "zod";
import type { MetricEntry } from "../define.ts";
import { defineMetric } from "../define.ts";
import { filterSetting, filterShape, told } from "../filter-settings.ts";
import { meanToleranceForm } from "../forms/mean-value-form.ts";
import { HILSENHOFF_1987, HILSENHOFF_1988, HILSENHOFF_1998, LENAT_1993 } from "../references.ts";
import { onDitch, onRiffle } from "../worked-sheets.ts";

const mostPerTaxon = z.int({ error: "must be a whole number" }).min(1, { error: "must be at least 1" });

const MEAN_FACTS = {
  unit: "tolerance value",
  range: [0, Number.POSITIVE_INFINITY],
  whenEmpty: "missing",
  needs: ["counts", "tolerance"],
} as const;

/** Mean tolerance over animals. */
export const TOLERANCE: readonly MetricEntry[] = [
  defineMetric({
    ...MEAN_FACTS,
    id: "tolerance_index",
    name: "Mean tolerance value",
    alsoCalled: ["Hilsenhoff biotic index", "HBI", "family biotic index", "FBI", "biotic index", "QMCI"],
    summary:
      "Mean tolerance value over the animals that have one. Animals without a value are in neither sum. With a scheme of high values for sensitive taxa it falls under stress.",
    formula: "sum(n x t) / sum(n), over taxa with a value t",
    stress: "rises",
    whenMultiplied: "same",
    references: [HILSENHOFF_1987, HILSENHOFF_1988, LENAT_1993],
    examples: [
      onRiffle(
        348 / 97,
        "90 + 0 + 9 + 0 + 2 + 56 + 40 + 32 + 36 + 8 + 0 + 4 + 42 + 5 + 24 over 100 - 3 mites without a value: 348 / 97 = 3.587628866",
      ),
      onDitch(418 / 50, "40 + 21 + 160 + 24 + 8 + 12 + 9 + 96 + 48 over 50: 418 / 50 = 8.36"),
    ],
    settings: z.strictObject({
      ...filterShape,
      max_per_taxon: told(
        mostPerTaxon.optional(),
        "whole number",
        "animals of one taxon that enter at most; all when left out",
      ),
    }),
    measure: (chosen, kit) =>
      meanToleranceForm(kit, [chosen], chosen.max_per_taxon ?? Number.POSITIVE_INFINITY),
  }),
  defineMetric({
    ...MEAN_FACTS,
    id: "tolerance_index_10_max",
    name: "Mean tolerance value, at most 10 per taxon",
    alsoCalled: ["10-max biotic index", "10-max BI"],
    summary:
      "Mean tolerance value in which no taxon enters with more than 10 animals, so that one abundant taxon decides less.",
    formula: "sum(min(n, 10) x t) / sum(min(n, 10)), over taxa with a value t",
    stress: "rises",
    whenMultiplied: "changes",
    references: [HILSENHOFF_1998],
    examples: [
      onRiffle(
        292 / 85,
        "Baetis enters with 10 (50, not 90), Hydropsyche with 10 (40, not 56): (348 - 40 - 16) / (97 - 8 - 4) = 292 / 85 = 3.435294118",
      ),
      onDitch(
        342 / 42,
        "Chironomus enters with 10 (100, not 160), Oligochaeta with 10 (80, not 96): (418 - 60 - 16) / (50 - 6 - 2) = 342 / 42 = 8.142857143",
      ),
    ],
    settings: filterSetting,
    measure: (chosen, kit) => meanToleranceForm(kit, [chosen], 10),
  }),
];
