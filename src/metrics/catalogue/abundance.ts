import * as z from "zod";
import type { MetricEntry } from "../define.ts";
import { defineMetric } from "../define.ts";
import { filterSetting, filterShape, told } from "../filter-settings.ts";
import { abundanceForm } from "../forms/abundance-form.ts";
import { COMMON_FORM, STREAMKEEPERS } from "../references.ts";
import { onDitch, onRiffle } from "../worked-sheets.ts";

const expandedSettings = z.strictObject({
  ...filterShape,
  fraction_if_unknown: told(
    z
      .number({ error: "must be a number" })
      .gt(0, { error: "must be above 0" })
      .max(1, { error: "must be at most 1" })
      .optional(),
    "number above 0 up to 1",
    "fraction sorted of samples whose log does not give it: 1 for methods that always count everything",
  ),
});

const ABUNDANCE_FACTS = {
  range: [0, Number.POSITIVE_INFINITY],
  whenEmpty: "zero",
  stress: "varies",
  whenMultiplied: "proportional",
} as const;

/** Numbers of animals. */
export const ABUNDANCE: readonly MetricEntry[] = [
  defineMetric({
    ...ABUNDANCE_FACTS,
    id: "individuals",
    name: "Individuals",
    alsoCalled: ["abundance", "total count", "number of individuals"],
    summary: "Animals that the metrics see: after names, exclusions and the fixed count.",
    formula: "sum(n)",
    unit: "animals",
    needs: ["counts"],
    references: [COMMON_FORM],
    examples: [
      onRiffle(100, "all rows = 100"),
      onDitch(5, "Caenis 3 + Hydroptila 2 = 5", {
        settings: { within: ["Ephemeroptera", "Plecoptera", "Trichoptera"] },
      }),
    ],
    settings: filterSetting,
    measure: (chosen, kit) => abundanceForm(kit, [chosen], "counted", undefined),
  }),
  defineMetric({
    ...ABUNDANCE_FACTS,
    id: "estimated_total",
    name: "Estimated total of the sample",
    alsoCalled: ["total abundance", "expected total"],
    summary:
      "Animals in the whole sample, expanded from the part that was sorted. A total built stage by stage is used where there is one; a group has its share of it.",
    formula: "sum(n) / fraction sorted",
    unit: "animals",
    needs: ["counts", "fraction-sorted"],
    references: [COMMON_FORM],
    examples: [
      onRiffle(400, "100 / 0.25 = 400", { context: { fractionSorted: 0.25 } }),
      onDitch(140, "molluscs are Physa 6 + Corbicula fluminea 4 of 50: 700 x 10 / 50 = 140", {
        settings: { within: "Mollusca" },
        context: { estimatedTotal: 700, fractionSorted: 0.07 },
      }),
      onRiffle(null, "the fraction sorted is not known"),
    ],
    settings: expandedSettings,
    measure: (chosen, kit) => abundanceForm(kit, [chosen], "whole-sample", chosen.fraction_if_unknown),
  }),
  defineMetric({
    ...ABUNDANCE_FACTS,
    id: "density_per_m2",
    name: "Density per square metre",
    alsoCalled: ["density", "abundance per square metre"],
    summary: "Animals of the whole sample by the area that was sampled.",
    formula: "sum(n) / fraction sorted / area sampled",
    unit: "animals per square metre",
    needs: ["counts", "fraction-sorted", "area"],
    references: [COMMON_FORM, STREAMKEEPERS],
    examples: [
      onRiffle(1600, "100 / 0.25 / 0.25 = 1600", {
        context: { fractionSorted: 0.25, areaSampledM2: 0.25 },
      }),
      onDitch(555.555555556, "everything counted: 50 / 0.09 = 555.555555556", {
        settings: { fraction_if_unknown: 1 },
        context: { areaSampledM2: 0.09 },
      }),
      onRiffle(null, "the area is not known", { context: { fractionSorted: 0.25 } }),
    ],
    settings: expandedSettings,
    measure: (chosen, kit) => abundanceForm(kit, [chosen], "per-square-metre", chosen.fraction_if_unknown),
  }),
];
