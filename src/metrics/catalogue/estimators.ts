import * as z from "zod";
import type { MetricDescription, MetricEntry } from "../define.ts";
import { defineMetric } from "../define.ts";
import { filterShape, groupedAt, told } from "../filter-settings.ts";
import { diversityForm } from "../forms/diversity-form.ts";
import { ace, chao1, chao1StandardError, hurlbert } from "../measures/estimators.ts";
import { CHAO_1987, CHAO_2005, CHAO_LEE_1992, HECK_1975, HURLBERT_1971 } from "../references.ts";
import { onDitch, onRiffle, onSheet } from "../worked-sheets.ts";
import { diversityMetric } from "./diversity-entry.ts";

const drawSettings = z.strictObject({
  ...filterShape,
  grouped_at: groupedAt,
  animals: told(
    z.int({ error: "must be a whole number" }).min(1, { error: "must be at least 1" }),
    "whole number, required",
    "how many animals are drawn; a sample with fewer has no value",
  ),
});

function drawMetric(
  facts: Omit<MetricDescription, "unit" | "whenEmpty" | "needs" | "whenMultiplied">,
  result: "expected" | "standard-error",
): MetricEntry {
  return defineMetric({
    unit: "taxa",
    whenEmpty: "missing",
    needs: ["counts"],
    whenMultiplied: "changes",
    ...facts,
    settings: drawSettings,
    measure: (chosen, kit) =>
      diversityForm(kit, [chosen], chosen.grouped_at, (community) =>
        hurlbert(community, chosen.animals, result),
      ),
  });
}

/** Estimates of how many taxa there are, or would be among fewer animals. All need whole animals. */
export const ESTIMATORS: readonly MetricEntry[] = [
  drawMetric(
    {
      id: "expected_richness",
      name: "Hurlbert's expected richness",
      alsoCalled: ["rarefied richness", "rarefaction", "E(Sn)"],
      summary:
        "Taxa to expect among a number of animals drawn without replacement, so that samples of different size can be compared.",
      formula: "E(Sn) = sum(1 - C(N - Ni, n) / C(N, n))",
      range: [0, Number.POSITIVE_INFINITY],
      stress: "falls",
      references: [HURLBERT_1971],
      examples: [
        onRiffle(18968 / 9900, "of two animals: 1 + 1 - 832 / 9900 = 1.915959596", {
          settings: { animals: 2 },
        }),
        onDitch(5.251456253155574, "of ten animals: 9 - 3.748543747 = 5.251456253", {
          settings: { animals: 10 },
        }),
        onDitch(9, "of all 50: all taxa = 9", { settings: { animals: 50 } }),
        onDitch(null, "of 60: the sample has 50", { settings: { animals: 60 } }),
      ],
    },
    "expected",
  ),
  drawMetric(
    {
      id: "expected_richness_standard_error",
      name: "Standard error of Hurlbert's expected richness",
      summary: "How far the number of taxa of single draws scatters around the expected richness.",
      formula: "square root of the variance of Heck, van Belle & Simberloff",
      range: [0, Number.POSITIVE_INFINITY],
      stress: "varies",
      references: [HECK_1975],
      examples: [
        onRiffle(
          0.2774483997595403,
          "two animals give 2 taxa with q = 9068 / 9900, else 1: sqrt(q (1 - q)) = 0.277448400",
          { settings: { animals: 2 } },
        ),
        onDitch(1.0124036596040298, "of ten animals: sqrt(1.024961170) = 1.012403660", {
          settings: { animals: 10 },
        }),
      ],
    },
    "standard-error",
  ),
  diversityMetric({
    id: "chao1",
    name: "Chao1 richness estimate",
    alsoCalled: ["Chao 1"],
    summary: "Estimate of all taxa of the place from the taxa met once and twice; bias-corrected form.",
    formula: "S + F1 (F1 - 1) / (2 (F2 + 1)), F1 taxa with one animal, F2 with two",
    unit: "taxa",
    range: [0, Number.POSITIVE_INFINITY],
    whenMultiplied: "changes",
    references: [CHAO_1987, CHAO_2005],
    examples: [
      onRiffle(16.5, "Hexatoma and Pisidium once, Pteronarcys twice: 16 + 2 x 1 / (2 x 2) = 16.5"),
      onDitch(9.5, "Hyalella azteca and Ischnura once, Hydroptila twice: 9 + 2 x 1 / (2 x 2) = 9.5"),
    ],
    measure: chao1,
  }),
  diversityMetric({
    id: "chao1_standard_error",
    name: "Standard error of Chao1",
    summary: "Standard error of the Chao1 estimate by the delta method.",
    formula:
      "sqrt(sum(g squared F) - sum(g F) squared / Chao1), g the derivative of the estimate by each number of taxa F",
    unit: "taxa",
    range: [0, Number.POSITIVE_INFINITY],
    stress: "varies",
    whenMultiplied: "changes",
    references: [CHAO_1987],
    examples: [
      onRiffle(
        1.2858495599832396,
        "g: 1.75 for once, 0.75 for twice, 1 else: sqrt(19.6875 - 17.25 squared / 16.5) = 1.285849560",
      ),
      onDitch(1.276044463835101, "sqrt(12.6875 - 10.25 squared / 9.5) = 1.276044464"),
    ],
    measure: chao1StandardError,
  }),
  diversityMetric({
    id: "ace",
    name: "Abundance-based coverage estimate of richness",
    alsoCalled: ["ACE"],
    summary: "Estimate of all taxa of the place from the taxa with up to ten animals.",
    formula:
      "S(abundant) + S(rare) / C + F1 g / C, with C = 1 - F1 / N(rare) and g the spread of the rare taxa",
    unit: "taxa",
    range: [0, Number.POSITIVE_INFINITY],
    whenMultiplied: "changes",
    references: [CHAO_LEE_1992],
    examples: [
      onDitch(
        10.066666666666666,
        "C = 1 - 2 / 22, g = 7.7 x 70 / (22 x 21) - 1 = 1 / 6: 2 + 7.7 + 2.2 / 6 = 10.066666667",
      ),
      onRiffle(
        16.607842331044502,
        "C = 1 - 2 / 68, g = 14.424242424 x 344 / (68 x 67) - 1 = 0.089099955: 2 + 14.424242424 + 2.060606061 x 0.089099955 = 16.607842331",
      ),
      onSheet(
        [
          ["Baetis", 1],
          ["Physa", 1],
        ],
        null,
        "all rare taxa met once: C is 0",
      ),
    ],
    measure: ace,
  }),
];
