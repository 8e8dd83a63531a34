import { fraction } from "../../model/exact.ts";
import type { MetricEntry, MetricExample, MetricReference } from "../define.ts";
import { defineMetric } from "../define.ts";
import { filterSetting } from "../filter-settings.ts";
import type { ScoreResult } from "../forms/scores-form.ts";
import { scoresForm } from "../forms/scores-form.ts";
import { ARMITAGE_1983, CHESSMAN_2003, STARK_1985, STARK_MAXTED_2007, STREAMKEEPERS } from "../references.ts";
import { onDitch, onRiffle, onSheet } from "../worked-sheets.ts";

interface ScoreSpec {
  readonly id: string;
  readonly name: string;
  readonly alsoCalled: readonly string[];
  readonly summary: string;
  readonly formula: string;
  readonly unit: string;
  readonly result: ScoreResult;
  readonly times?: number;
  readonly references: readonly MetricReference[];
  readonly examples: readonly MetricExample[];
}

function scoreMetric(spec: ScoreSpec): MetricEntry {
  const { result, times, ...facts } = spec;
  return defineMetric({
    ...facts,
    range: [0, Number.POSITIVE_INFINITY],
    whenEmpty: result === "average" ? "missing" : "zero",
    needs: ["tolerance"],
    stress: "falls",
    whenMultiplied: "same",
    settings: filterSetting,
    measure: (chosen, kit) => scoresForm(kit, [chosen], result, fraction(times ?? 1)),
  });
}

const FAMILIES = {
  attributes: {
    tolerance: { Perlidae: "10", Baetidae: "4", Gammaridae: "6", Chironomidae: "2", Oligochaeta: "1" },
  },
};

/** Scores of the taxa present, each once, whatever their abundance. Usually at family level. */
export const SCORES: readonly MetricEntry[] = [
  scoreMetric({
    id: "sum_of_scores",
    name: "Sum of scores",
    alsoCalled: ["BMWP score", "biological monitoring working party score", "total score"],
    summary:
      "Sum of the scores of the taxa present, each once; abundance plays no part and taxa without a score add nothing.",
    formula: "sum of t over taxa with a score t",
    unit: "score",
    result: "sum",
    references: [ARMITAGE_1983],
    examples: [
      onSheet(
        [
          ["Perlidae", 3],
          ["Baetidae", 40],
          ["Gammaridae", 12],
          ["Chironomidae", 25],
          ["Oligochaeta", 2],
        ],
        23,
        "10 + 4 + 6 + 2 + 1 = 23",
        FAMILIES,
      ),
      onSheet(
        [
          ["Baetidae", 4],
          ["Simuliidae", 9],
        ],
        4,
        "Baetidae; Simuliidae has no score in this list: 4 = 4",
        FAMILIES,
      ),
    ],
  }),
  scoreMetric({
    id: "number_of_scoring_taxa",
    name: "Number of scoring taxa",
    alsoCalled: ["NTAXA", "scoring families"],
    summary: "Number of the taxa present that have a score, each row once.",
    formula: "number of taxa with a score t",
    unit: "taxa",
    result: "number",
    references: [ARMITAGE_1983],
    examples: [onRiffle(15, "16 taxa - Hydrachnidia = 15"), onDitch(9, "all nine = 9")],
  }),
  scoreMetric({
    id: "average_score_per_taxon",
    name: "Average score per taxon",
    alsoCalled: ["ASPT", "SIGNAL", "mean tolerance of taxa"],
    summary: "Mean score of the taxa present that have one, each once; abundance plays no part.",
    formula: "sum of t / number of taxa with a score t",
    unit: "score",
    result: "average",
    references: [ARMITAGE_1983, CHESSMAN_2003],
    examples: [
      onSheet(
        [
          ["Perlidae", 3],
          ["Baetidae", 40],
          ["Gammaridae", 12],
          ["Chironomidae", 25],
          ["Oligochaeta", 2],
        ],
        4.6,
        "23 / 5 = 4.6",
        FAMILIES,
      ),
      onDitch(70 / 9, "(8 + 7 + 10 + 6 + 8 + 6 + 9 + 8 + 8) / 9 = 7.777777778"),
    ],
  }),
  scoreMetric({
    id: "mci",
    name: "Macroinvertebrate community index",
    alsoCalled: ["MCI"],
    summary:
      "Twenty times the mean score of the taxa present that have one. The form by abundance (QMCI) is tolerance_index with the same scores.",
    formula: "20 x sum of t / number of taxa with a score t",
    unit: "points",
    result: "average",
    times: 20,
    references: [STARK_1985, STARK_MAXTED_2007],
    examples: [
      onSheet(
        [
          ["Perlidae", 3],
          ["Baetidae", 40],
          ["Chironomidae", 25],
        ],
        320 / 3,
        "20 x (10 + 4 + 2) / 3 = 106.666666667",
        FAMILIES,
      ),
      onSheet(
        [
          ["Baetidae", 1],
          ["Oligochaeta", 9],
        ],
        50,
        "20 x (4 + 1) / 2 = 50",
        FAMILIES,
      ),
    ],
  }),
  scoreMetric({
    id: "pollution_tolerance_index",
    name: "Pollution tolerance index",
    alsoCalled: ["PTI", "cumulative index value", "3-2-1 index"],
    summary:
      "Points of the groups present, each group once: in the usual form 3 for a sensitive, 2 for a somewhat sensitive and 1 for a tolerant group. The points stand as tolerance values in the set's own list.",
    formula: "sum of points over the groups present",
    unit: "points",
    result: "sum",
    references: [STREAMKEEPERS],
    examples: [
      onSheet(
        [
          ["Trichoptera", 10, 2],
          ["Ephemeroptera", 47, 5],
          ["Plecoptera", 10, 1],
          ["Tipulidae", 1],
          ["Athericidae", 3],
          ["Turbellaria", 1],
          ["Hydrachnidia", 3],
        ],
        15,
        "3 x 3 groups + 2 x 2 groups + 1 x 2 groups = 15",
        {
          attributes: {
            tolerance: {
              Trichoptera: "3",
              Ephemeroptera: "3",
              Plecoptera: "3",
              Tipulidae: "2",
              Athericidae: "2",
              Turbellaria: "1",
              Hydrachnidia: "1",
            },
          },
        },
      ),
      onSheet(
        [
          ["Ephemeroptera", 1],
          ["Plecoptera", 1],
          ["Psephenidae", 1],
          ["Gammaridae", 1],
          ["Tipulidae", 1],
        ],
        13,
        "3 x 3 groups + 2 x 2 groups = 13",
        {
          attributes: {
            tolerance: {
              Ephemeroptera: "3",
              Plecoptera: "3",
              Psephenidae: "3",
              Gammaridae: "2",
              Tipulidae: "2",
            },
          },
        },
      ),
    ],
  }),
];
