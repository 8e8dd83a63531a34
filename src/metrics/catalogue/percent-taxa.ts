import type { MetricEntry } from "../define.ts";
import { COMMON_FORM, KERANS_KARR_1994 } from "../references.ts";
import { onDitch, onRiffle } from "../worked-sheets.ts";
import { limitedPercentMetric, percentTaxaMetric } from "./percent-entry.ts";

/** Percent of taxa: the same groups, counted by what each taxon adds to richness. */
export const PERCENT_OF_TAXA: readonly MetricEntry[] = [
  percentTaxaMetric({
    id: "percent_taxa",
    name: "Percent of taxa",
    counted: "of the groups that the settings choose",
    remark: "The general form of every percentage of taxa.",
    filter: {},
    needs: [],
    stress: "varies",
    references: [COMMON_FORM],
    examples: [
      onRiffle(25, "4 predators of 16 taxa: 100 x 4 / 16 = 25", { settings: { feeding_group: "predator" } }),
      onDitch(200 / 9, "2 molluscs of 9 taxa: 100 x 2 / 9 = 22.222222222", {
        settings: { within: "Mollusca" },
      }),
      onRiffle(37.5, "3 mayflies of 8 EPT taxa: 100 x 3 / 8 = 37.5", {
        settings: {
          within: "Ephemeroptera",
          of: { within: ["Ephemeroptera", "Plecoptera", "Trichoptera"] },
        },
      }),
    ],
  }),
  percentTaxaMetric({
    id: "percent_ept_taxa",
    name: "Percent EPT taxa",
    counted: "mayflies, stoneflies or caddisflies",
    filter: { within: ["Ephemeroptera", "Plecoptera", "Trichoptera"] },
    stress: "falls",
    references: [COMMON_FORM],
    examples: [onRiffle(50, "100 x 8 / 16 = 50"), onDitch(200 / 9, "100 x 2 / 9 = 22.222222222")],
  }),
  percentTaxaMetric({
    id: "percent_chironomidae_taxa",
    name: "Percent Chironomidae taxa",
    counted: "non-biting midges",
    filter: { within: ["Chironomidae"] },
    stress: "varies",
    references: [COMMON_FORM],
    examples: [onRiffle(12.5, "100 x 2 / 16 = 12.5"), onDitch(100 / 9, "100 x 1 / 9 = 11.111111111")],
  }),
  percentTaxaMetric({
    id: "percent_non_insect_taxa",
    name: "Percent non-insect taxa",
    counted: "no insects",
    filter: { except: ["Insecta"] },
    stress: "rises",
    references: [COMMON_FORM],
    examples: [onRiffle(18.75, "100 x 3 / 16 = 18.75"), onDitch(500 / 9, "100 x 5 / 9 = 55.555555556")],
  }),
  percentTaxaMetric({
    id: "percent_clinger_taxa",
    name: "Percent clinger taxa",
    counted: "clingers",
    filter: { habit: ["clinger"] },
    needs: ["habit"],
    stress: "falls",
    references: [COMMON_FORM],
    examples: [onRiffle(56.25, "100 x 9 / 16 = 56.25"), onDitch(100 / 9, "100 x 1 / 9 = 11.111111111")],
  }),
  limitedPercentMetric({
    id: "percent_intolerant_taxa",
    name: "Percent intolerant taxa",
    alsoCalled: ["percent sensitive taxa"],
    side: "sensitive",
    counts: "taxa",
    counted: "on the sensitive side of a tolerance limit that the set chooses",
    remark: "Taxa without a value stay in the whole.",
    filter: {},
    needs: ["tolerance"],
    stress: "falls",
    references: [COMMON_FORM],
    examples: [
      onRiffle(43.75, "100 x 7 / 16 = 43.75", { settings: { limit: 3 } }),
      onDitch(200 / 9, "100 x 2 / 9 = 22.222222222", { settings: { limit: 6 } }),
    ],
  }),
  limitedPercentMetric({
    id: "percent_tolerant_taxa",
    name: "Percent tolerant taxa",
    side: "tolerant",
    counts: "taxa",
    counted: "on the tolerant side of a tolerance limit that the set chooses",
    remark: "Taxa without a value stay in the whole.",
    filter: {},
    needs: ["tolerance"],
    stress: "rises",
    references: [COMMON_FORM, KERANS_KARR_1994],
    examples: [
      onRiffle(12.5, "100 x 2 / 16 = 12.5", { settings: { limit: 7 } }),
      onDitch(700 / 9, "100 x 7 / 9 = 77.777777778", { settings: { limit: 7 } }),
    ],
  }),
];
