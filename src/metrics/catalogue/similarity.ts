import * as z from "zod";
import type { Community } from "../../model/community.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import type { ExampleRow, MetricDescription, MetricEntry } from "../define.ts";
import { defineMetric } from "../define.ts";
import { filterSetting, filterShape, groupedAt, told } from "../filter-settings.ts";
import { modelAffinityForm } from "../forms/model-affinity-form.ts";
import { similarityForm } from "../forms/similarity-form.ts";
import {
  brayCurtis,
  communityLoss,
  jaccard,
  percentSimilarity,
  sharedTaxa,
  sorensen,
} from "../measures/similarity.ts";
import {
  BRAY_CURTIS_1957,
  COURTEMANCH_1987,
  JACCARD_1912,
  NOVAK_BODE_1992,
  PLAFKIN_1989,
  RENKONEN_1938,
  SORENSEN_1948,
} from "../references.ts";
import { onDitch, onRiffle, onSheet } from "../worked-sheets.ts";

/** 40 animals: the reference of the examples. It shares Baetis and Physa with the sample below. */
const REFERENCE: readonly ExampleRow[] = [
  { taxon: "Baetis", count: 20 },
  { taxon: "Epeorus", count: 10 },
  { taxon: "Physa", count: 2 },
  { taxon: "Sweltsa", count: 8 },
];

const against = { reference: REFERENCE };

function sample(value: number, working: string) {
  return onSheet(
    [
      ["Baetis", 5],
      ["Chironomus", 9],
      ["Physa", 6],
    ],
    value,
    working,
    against,
  );
}

function same(value: number, working: string) {
  return onSheet(
    REFERENCE.map(({ taxon, count }) => [taxon, count] as const),
    value,
    working,
    against,
  );
}

const settings = z.strictObject({ ...filterShape, grouped_at: groupedAt });

type ComparisonFacts = Omit<MetricDescription, "whenEmpty" | "references" | "examples" | "needs"> &
  Pick<MetricDescription, "references" | "examples"> &
  Partial<Pick<MetricDescription, "whenEmpty">> & {
    readonly needsCounts: boolean;
    readonly compare: (sample: Community, reference: Community) => MetricValue;
  };

function comparison(spec: ComparisonFacts): MetricEntry {
  const { compare, needsCounts, ...facts } = spec;
  return defineMetric({
    whenEmpty: "missing",
    ...facts,
    needs: needsCounts ? ["counts", "reference-sample"] : ["reference-sample"],
    settings,
    measure: (chosen, kit) => similarityForm(kit, [chosen], chosen.grouped_at, compare),
  });
}

const model = told(
  z
    .array(
      z.strictObject({
        percent: z.number({ error: "must be a number" }).min(0).max(100),
        ...filterSetting.shape,
      }),
      { error: "must be a list of groups" },
    )
    .min(1, { error: "must not be empty" })
    .optional(),
  "a list of {percent, filter}",
  "the groups of the model; what passes none is the last group, with what is left of 100. Without this setting: Ephemeroptera 40, Plecoptera 5, Trichoptera 10, Coleoptera 10, Chironomidae 20, Oligochaeta 5, other 10",
);

const NOVAK_BODE_MODEL = [
  { percent: 40, within: ["Ephemeroptera"] },
  { percent: 5, within: ["Plecoptera"] },
  { percent: 10, within: ["Trichoptera"] },
  { percent: 10, within: ["Coleoptera"] },
  { percent: 20, within: ["Chironomidae"] },
  { percent: 5, within: ["Oligochaeta"] },
];

/** Likeness to a model community or to the reference sample that the log names. */
export const SIMILARITY: readonly MetricEntry[] = [
  defineMetric({
    id: "percent_model_affinity",
    name: "Percent model affinity",
    alsoCalled: ["PMA"],
    summary:
      "Percent similarity of the major groups of the sample to a model community. The percentages of the default model are from memory.",
    formula: "sum over groups of the smaller of observed and modelled percentage",
    unit: "percent",
    range: [0, 100],
    whenEmpty: "missing",
    needs: ["counts", "taxonomy"],
    stress: "falls",
    whenMultiplied: "same",
    references: [NOVAK_BODE_1992],
    examples: [
      onRiffle(
        81,
        "Ephemeroptera 33, Plecoptera 5 of 7, Trichoptera 10 of 25, Coleoptera 8, Chironomidae 10, Oligochaeta 5, other 10 of 12: 33 + 5 + 10 + 8 + 10 + 5 + 10 = 81",
      ),
      onDitch(45, "percentages 6, 0, 4, 0, 32, 24, 34: 6 + 0 + 4 + 0 + 20 + 5 + 10 = 45"),
      onRiffle(83, "half mayflies: the smaller of 33 and 50, and of 67 and 50: 33 + 50 = 83", {
        settings: { model: [{ percent: 50, within: "Ephemeroptera" }] },
      }),
    ],
    settings: z.strictObject({ model }),
    measure: (chosen, kit) =>
      modelAffinityForm(
        kit,
        (chosen.model ?? NOVAK_BODE_MODEL).map(({ percent, ...filter }) => ({ percent, filter })),
      ),
  }),
  comparison({
    id: "percent_similarity",
    name: "Percent similarity to the reference sample",
    alsoCalled: ["Renkonen index", "percentage similarity"],
    summary: "Sum over taxa of the smaller of the percentages in the sample and in the reference sample.",
    formula: "sum(min(p, p reference)) x 100",
    unit: "percent",
    range: [0, 100],
    stress: "falls",
    whenMultiplied: "same",
    needsCounts: true,
    references: [RENKONEN_1938],
    examples: [
      sample(30, "Baetis min(25, 50) + Physa min(30, 5): 25 + 5 = 30"),
      same(100, "the reference itself: 50 + 25 + 5 + 20 = 100"),
    ],
    compare: percentSimilarity,
  }),
  comparison({
    id: "bray_curtis_dissimilarity",
    name: "Bray-Curtis dissimilarity to the reference sample",
    alsoCalled: ["Bray-Curtis"],
    summary:
      "Differences of counts by all animals of both samples: 0 for equal samples, 1 without a common taxon. It compares counts as they are, so it asks for equal effort.",
    formula: "sum(|n - n reference|) / sum(n + n reference)",
    unit: "share of 1",
    range: [0, 1],
    stress: "rises",
    whenEmpty: "missing",
    whenMultiplied: "same",
    needsCounts: true,
    references: [BRAY_CURTIS_1957],
    examples: [
      sample(46 / 60, "(15 + 10 + 9 + 4 + 8) / (20 + 40) = 46 / 60 = 0.766666667"),
      same(0, "the reference itself: 0 / 80 = 0"),
    ],
    compare: (one, other) => brayCurtis(one, other),
  }),
  comparison({
    id: "jaccard_similarity",
    name: "Jaccard similarity to the reference sample",
    alsoCalled: ["Jaccard coefficient", "Jaccard"],
    summary: "Taxa in both samples as a share of the taxa in either; abundance plays no part.",
    formula: "c / (a + b - c), a and b taxa of the samples, c in both",
    unit: "share of 1",
    range: [0, 1],
    stress: "falls",
    whenMultiplied: "same",
    needsCounts: false,
    references: [JACCARD_1912],
    examples: [sample(0.4, "2 / (3 + 4 - 2) = 0.4"), same(1, "4 / (4 + 4 - 4) = 1")],
    compare: (one, other) => jaccard(sharedTaxa(one, other)),
  }),
  comparison({
    id: "sorensen_similarity",
    name: "Sørensen similarity to the reference sample",
    alsoCalled: ["coefficient of community", "Dice coefficient"],
    summary: "Twice the taxa in both samples as a share of the taxa of one plus those of the other.",
    formula: "2c / (a + b)",
    unit: "share of 1",
    range: [0, 1],
    stress: "falls",
    whenMultiplied: "same",
    needsCounts: false,
    references: [SORENSEN_1948],
    examples: [sample(4 / 7, "2 x 2 / (3 + 4) = 0.571428571"), same(1, "2 x 4 / (4 + 4) = 1")],
    compare: (one, other) => sorensen(sharedTaxa(one, other)),
  }),
  comparison({
    id: "community_loss",
    name: "Community loss index",
    summary: "Taxa of the reference sample that are missing, by the taxa of the sample.",
    formula: "(taxa of the reference - taxa in common) / taxa of the sample",
    unit: "ratio",
    range: [0, Number.POSITIVE_INFINITY],
    stress: "rises",
    whenMultiplied: "same",
    needsCounts: false,
    references: [COURTEMANCH_1987, PLAFKIN_1989],
    examples: [sample(2 / 3, "(4 - 2) / 3 = 0.666666667"), same(0, "(4 - 4) / 4 = 0")],
    compare: (one, other) => communityLoss(sharedTaxa(one, other)),
  }),
];
