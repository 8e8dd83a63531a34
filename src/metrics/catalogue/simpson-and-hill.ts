import { exactOf } from "../../model/exact.ts";
import { exactValue } from "../../model/metric-value.ts";
import type { MetricEntry } from "../define.ts";
import { hillOne, taxaWithAnimals } from "../measures/entropy.ts";
import { simpson } from "../measures/simpson.ts";
import { HILL_1973, HURLBERT_1971, SIMPSON_1949 } from "../references.ts";
import { onDitch, onRiffle, onSheet } from "../worked-sheets.ts";
import { diversityMetric } from "./diversity-entry.ts";

const SIX = "Six different values go by Simpson's name; the id says which one this is.";

/** Simpson's values, each under a name of its own, and Hill's numbers. */
export const SIMPSON_AND_HILL: readonly MetricEntry[] = [
  diversityMetric({
    id: "simpson_sum_of_squares",
    name: "Simpson's concentration, with replacement",
    alsoCalled: ["Simpson", "Simpson's D", "Simpson dominance", "Simpson's index"],
    summary: `Probability that two animals drawn with replacement are of one taxon. ${SIX}`,
    formula: "D = sum(p squared)",
    unit: "probability",
    range: [0, 1],
    stress: "rises",
    whenMultiplied: "same",
    references: [SIMPSON_1949],
    examples: [
      onRiffle(0.0932, "sum of n squared 932: 932 / 100 squared = 0.0932"),
      onDitch(0.1968, "sum of n squared 492: 492 / 50 squared = 0.1968"),
    ],
    measure: (community) => simpson(community, "squares", "concentration"),
  }),
  diversityMetric({
    id: "simpson_finite_sum",
    name: "Simpson's concentration, without replacement",
    alsoCalled: ["Simpson", "Simpson's D, finite sample"],
    summary: `Probability that two animals drawn without replacement are of one taxon. ${SIX}`,
    formula: "D = sum(n (n - 1)) / (N (N - 1))",
    unit: "probability",
    range: [0, 1],
    stress: "rises",
    whenMultiplied: "changes",
    references: [SIMPSON_1949],
    examples: [
      onRiffle(832 / 9900, "(932 - 100) / (100 x 99) = 832 / 9900 = 0.084040404"),
      onDitch(442 / 2450, "(492 - 50) / (50 x 49) = 442 / 2450 = 0.180408163"),
      onSheet([["Baetis", 1]], null, "one animal: no pair"),
    ],
    measure: (community) => simpson(community, "finite", "concentration"),
  }),
  diversityMetric({
    id: "simpson_one_minus_sum_of_squares",
    name: "Simpson's diversity 1 - D, with replacement",
    alsoCalled: ["Gini-Simpson index", "Simpson", "Simpson diversity"],
    summary: `Probability that two animals drawn with replacement are of different taxa. ${SIX}`,
    formula: "1 - sum(p squared)",
    unit: "probability",
    range: [0, 1],
    whenMultiplied: "same",
    references: [SIMPSON_1949],
    examples: [onRiffle(0.9068, "1 - 0.0932 = 0.9068"), onDitch(0.8032, "1 - 0.1968 = 0.8032")],
    measure: (community) => simpson(community, "squares", "one-minus"),
  }),
  diversityMetric({
    id: "simpson_one_minus_finite_sum",
    name: "Simpson's diversity 1 - D, without replacement",
    alsoCalled: ["Hurlbert's PIE", "probability of interspecific encounter", "Simpson"],
    summary: `Probability that two animals drawn without replacement are of different taxa. ${SIX}`,
    formula: "1 - sum(n (n - 1)) / (N (N - 1))",
    unit: "probability",
    range: [0, 1],
    whenMultiplied: "changes",
    references: [SIMPSON_1949, HURLBERT_1971],
    examples: [
      onRiffle(9068 / 9900, "1 - 832 / 9900 = 0.915959596"),
      onDitch(2008 / 2450, "1 - 442 / 2450 = 0.819591837"),
    ],
    measure: (community) => simpson(community, "finite", "one-minus"),
  }),
  diversityMetric({
    id: "simpson_one_over_sum_of_squares",
    name: "Simpson's diversity 1 / D, with replacement",
    alsoCalled: ["inverse Simpson", "reciprocal Simpson", "Simpson"],
    summary: `Number of equally abundant taxa that would give the same concentration. ${SIX}`,
    formula: "1 / sum(p squared)",
    unit: "taxa",
    range: [0, Number.POSITIVE_INFINITY],
    whenMultiplied: "same",
    references: [SIMPSON_1949, HILL_1973],
    examples: [
      onRiffle(10000 / 932, "100 squared / 932 = 10.729613734"),
      onDitch(2500 / 492, "50 squared / 492 = 5.081300813"),
    ],
    measure: (community) => simpson(community, "squares", "one-over"),
  }),
  diversityMetric({
    id: "simpson_one_over_finite_sum",
    name: "Simpson's diversity 1 / D, without replacement",
    alsoCalled: ["Simpson"],
    summary: `The same for animals drawn without replacement; no value where no two animals are of one taxon. ${SIX}`,
    formula: "N (N - 1) / sum(n (n - 1))",
    unit: "taxa",
    range: [0, Number.POSITIVE_INFINITY],
    whenMultiplied: "changes",
    references: [SIMPSON_1949],
    examples: [
      onRiffle(9900 / 832, "100 x 99 / 832 = 11.899038462"),
      onDitch(2450 / 442, "50 x 49 / 442 = 5.542986425"),
    ],
    measure: (community) => simpson(community, "finite", "one-over"),
  }),
  diversityMetric({
    id: "hill_0",
    name: "Hill number of order 0",
    summary:
      "Number of taxa that have animals. It differs from taxa richness where a parent was kept beside its children or large and rare finds count.",
    formula: "number of taxa with n above 0",
    unit: "taxa",
    range: [0, Number.POSITIVE_INFINITY],
    whenEmpty: "zero",
    whenMultiplied: "same",
    references: [HILL_1973],
    examples: [onRiffle(16, "16 rows with animals = 16"), onDitch(9, "nine rows with animals = 9")],
    measure: (community) => exactValue(exactOf(taxaWithAnimals(community))),
  }),
  diversityMetric({
    id: "hill_1",
    name: "Hill number of order 1",
    alsoCalled: ["exponential of Shannon diversity"],
    summary: "Number of equally abundant taxa that would give the same Shannon diversity.",
    formula: "exp(-sum(p ln p))",
    unit: "taxa",
    range: [0, Number.POSITIVE_INFINITY],
    whenMultiplied: "same",
    references: [HILL_1973],
    examples: [
      onRiffle(12.746063751248231, "exp(2.545222499) = 12.746063751"),
      onDitch(6.346578935296278, "exp(1.847915917) = 6.346578935"),
    ],
    measure: hillOne,
  }),
  diversityMetric({
    id: "hill_2",
    name: "Hill number of order 2",
    summary: "Number of equally abundant taxa that would give the same sum of squared shares.",
    formula: "1 / sum(p squared)",
    unit: "taxa",
    range: [0, Number.POSITIVE_INFINITY],
    whenMultiplied: "same",
    references: [HILL_1973],
    examples: [
      onRiffle(10000 / 932, "100 squared / 932 = 10.729613734"),
      onDitch(2500 / 492, "50 squared / 492 = 5.081300813"),
    ],
    measure: (community) => simpson(community, "squares", "one-over"),
  }),
];
