import * as z from "zod";
import type { MetricEntry } from "../define.ts";
import { defineMetric } from "../define.ts";
import { filterSetting, filterShape, told } from "../filter-settings.ts";
import { classScoresForm } from "../forms/class-scores-form.ts";
import { classWeightedForm } from "../forms/scores-form.ts";
import { CHESSMAN_2003, LENAT_1993, PAISLEY_2014, STARK_1998, STARK_MAXTED_2007 } from "../references.ts";
import { onDitch, onSheet } from "../worked-sheets.ts";

const start = z.int({ error: "must be a whole number" }).min(1, { error: "must be at least 1" });

const classes = told(
  z
    .array(
      z.strictObject({
        from: start,
        weight: z.number({ error: "must be a number" }).positive({ error: "must be above 0" }),
      }),
      { error: "must be a list of classes" },
    )
    .min(1, { error: "must not be empty" }),
  "a list of {from, weight}, required",
  "classes of abundance in rising order: the lowest number of animals and the weight",
);

const scoresShape = {
  ...filterShape,
  class_starts: told(
    z.array(start, { error: "must be a list of whole numbers" }).min(1, { error: "must not be empty" }),
    "a list of whole numbers, required",
    "lowest number of animals of each class of abundance, rising",
  ),
  scores: told(
    z.record(z.string(), z.array(z.number({ error: "must be a number" })), {
      error: "must name taxa with a list of scores each",
    }),
    "taxa with a list of scores each, required",
    "for each taxon its score in each class; taxa below it take the same",
  ),
};

const WEIGHTED_FACTS = {
  unit: "score",
  range: [0, Number.POSITIVE_INFINITY],
  whenEmpty: "missing",
  needs: ["counts", "tolerance"],
  stress: "falls",
  whenMultiplied: "changes",
  formula: "sum(w x t) / sum(w), over taxa with a score t; w is the weight of the taxon's class of abundance",
} as const;

const SIGNAL_CLASSES = [
  { from: 1, weight: 1 },
  { from: 3, weight: 2 },
  { from: 6, weight: 3 },
  { from: 11, weight: 4 },
  { from: 21, weight: 5 },
];

const SQMCI_CLASSES = [
  { from: 1, weight: 1 },
  { from: 5, weight: 5 },
  { from: 20, weight: 20 },
  { from: 100, weight: 100 },
  { from: 500, weight: 500 },
];

const BY_CLASS = {
  attributes: {},
  settings: {
    class_starts: [1, 10, 100],
    scores: { Baetidae: [4, 6, 8], Chironomidae: [3, 2, 1] },
  },
};

/** Scores weighted by class of abundance, or looked up by it. */
export const CLASS_SCORES: readonly MetricEntry[] = [
  defineMetric({
    ...WEIGHTED_FACTS,
    id: "weighted_average_score",
    name: "Average score weighted by abundance class",
    summary:
      "Mean score in which each taxon weighs as much as the set says of its class of abundance, for instance 1, 3 and 10 for rare, common and abundant.",
    references: [LENAT_1993],
    examples: [
      onDitch(
        290 / 35,
        "weights 3 3 10 3 1 1 1 10 3: (24 + 21 + 100 + 18 + 8 + 6 + 9 + 80 + 24) / 35 = 290 / 35 = 8.285714286",
        {
          settings: {
            classes: [
              { from: 1, weight: 1 },
              { from: 3, weight: 3 },
              { from: 10, weight: 10 },
            ],
          },
        },
      ),
      onSheet(
        [
          ["Baetis", 12],
          ["Acroneuria", 1],
          ["Physa", 4],
        ],
        65 / 14,
        "(10 x 4 + 1 x 1 + 3 x 8) / (10 + 1 + 3) = 65 / 14 = 4.642857143",
        {
          settings: {
            classes: [
              { from: 1, weight: 1 },
              { from: 3, weight: 3 },
              { from: 10, weight: 10 },
            ],
          },
          attributes: { tolerance: { Baetis: "4", Acroneuria: "1", Physa: "8" } },
        },
      ),
    ],
    settings: z.strictObject({ ...filterShape, classes }),
    measure: (chosen, kit) => classWeightedForm(kit, [chosen], chosen.classes),
  }),
  defineMetric({
    ...WEIGHTED_FACTS,
    id: "signal_weighted",
    name: "Weighted SIGNAL 2 score",
    alsoCalled: ["SIGNAL 2"],
    summary:
      "Mean grade weighted 1 to 5 for 1-2, 3-5, 6-10, 11-20 and more than 20 animals of a taxon. The weights are from memory. Grades of families and of orders must not be mixed in one score.",
    references: [CHESSMAN_2003],
    examples: [
      onSheet(
        [
          ["Baetidae", 21],
          ["Leptoceridae", 5],
          ["Chironomidae", 2],
        ],
        5,
        "(5 x 5 + 2 x 6 + 1 x 3) / (5 + 2 + 1) = 40 / 8 = 5",
        { attributes: { tolerance: { Baetidae: "5", Leptoceridae: "6", Chironomidae: "3" } } },
      ),
      onSheet(
        [
          ["Leptoceridae", 6],
          ["Chironomidae", 20],
        ],
        30 / 7,
        "(3 x 6 + 4 x 3) / (3 + 4) = 30 / 7 = 4.285714286",
        { attributes: { tolerance: { Leptoceridae: "6", Chironomidae: "3" } } },
      ),
    ],
    settings: filterSetting,
    measure: (chosen, kit) => classWeightedForm(kit, [chosen], SIGNAL_CLASSES),
  }),
  defineMetric({
    ...WEIGHTED_FACTS,
    id: "sqmci",
    name: "Semi-quantitative macroinvertebrate community index",
    alsoCalled: ["SQMCI"],
    summary:
      "Mean score in which coded abundance weighs 1 for rare (1-4 animals), 5 for common (5-19), 20 for abundant (20-99), 100 for very abundant (100-499) and 500 beyond. The limits of the classes are from memory, the codes were read.",
    references: [STARK_1998, STARK_MAXTED_2007],
    examples: [
      onSheet(
        [
          ["Baetidae", 120],
          ["Leptoceridae", 5],
          ["Chironomidae", 2],
        ],
        533 / 106,
        "(100 x 5 + 5 x 6 + 1 x 3) / (100 + 5 + 1) = 533 / 106 = 5.028301887",
        { attributes: { tolerance: { Baetidae: "5", Leptoceridae: "6", Chironomidae: "3" } } },
      ),
      onSheet(
        [
          ["Leptoceridae", 4],
          ["Chironomidae", 99],
        ],
        66 / 21,
        "(1 x 6 + 20 x 3) / (1 + 20) = 66 / 21 = 3.142857143",
        { attributes: { tolerance: { Leptoceridae: "6", Chironomidae: "3" } } },
      ),
    ],
    settings: filterSetting,
    measure: (chosen, kit) => classWeightedForm(kit, [chosen], SQMCI_CLASSES),
  }),
  defineMetric({
    id: "sum_of_abundance_class_scores",
    name: "Sum of scores by abundance class",
    summary:
      "Sum of scores where the set gives each taxon one score for each class of abundance: a look-up, not a weight.",
    formula: "sum of t(class) over taxa with scores",
    unit: "score",
    range: [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY],
    whenEmpty: "zero",
    needs: ["counts", "taxonomy"],
    stress: "falls",
    whenMultiplied: "changes",
    references: [PAISLEY_2014],
    examples: [
      onSheet(
        [
          ["Baetidae", 12],
          ["Chironomidae", 100],
          ["Physidae", 3],
        ],
        7,
        "Baetidae 10-99: 6; Chironomidae 100 and more: 1; Physidae has no score: 6 + 1 = 7",
        BY_CLASS,
      ),
      onSheet([["Chironomus", 9]], 3, "below Chironomidae, 1-9: 3 = 3", BY_CLASS),
    ],
    settings: z.strictObject(scoresShape),
    measure: (chosen, kit) => classScoresForm(kit, [chosen], chosen.class_starts, chosen.scores, "sum"),
  }),
  defineMetric({
    id: "average_abundance_class_score",
    name: "Average score by abundance class",
    alsoCalled: ["WHPT ASPT"],
    summary:
      "Mean of the scores that the set gives each taxon for its class of abundance: a look-up, not a weight.",
    formula: "sum of t(class) / number of taxa with scores",
    unit: "score",
    range: [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY],
    whenEmpty: "missing",
    needs: ["counts", "taxonomy"],
    stress: "falls",
    whenMultiplied: "changes",
    references: [PAISLEY_2014],
    examples: [
      onSheet(
        [
          ["Baetidae", 12],
          ["Chironomidae", 100],
          ["Physidae", 3],
        ],
        3.5,
        "(6 + 1) / 2 = 3.5",
        BY_CLASS,
      ),
      onSheet([["Chironomus", 9]], 3, "3 / 1 = 3", BY_CLASS),
    ],
    settings: z.strictObject(scoresShape),
    measure: (chosen, kit) => classScoresForm(kit, [chosen], chosen.class_starts, chosen.scores, "average"),
  }),
];
