import type { MetricEntry } from "../define.ts";
import { brillouin, mcintoshDiversity, mcintoshEvenness, pielou, shannon } from "../measures/entropy.ts";
import { fisherAlpha, margalef, menhinick } from "../measures/richness-indices.ts";
import {
  BRILLOUIN_1962,
  CHALFANT_2012,
  FISHER_1943,
  MARGALEF_1958,
  MCINTOSH_1967,
  MENHINICK_1964,
  PIELOU_1966,
  SHANNON_1948,
} from "../references.ts";
import { onDitch, onRiffle, onSheet } from "../worked-sheets.ts";
import { diversityMetric } from "./diversity-entry.ts";

const SHANNON_WORDS =
  "Entropy of the shares of the taxa. Published cut-offs hold in the base they were made in only.";

/** Diversity and evenness of the counts of every taxon with animals, and richness set against numbers. */
export const DIVERSITY: readonly MetricEntry[] = [
  diversityMetric({
    id: "shannon_diversity_e",
    name: "Shannon diversity, base e",
    alsoCalled: ["Shannon", "Shannon-Wiener diversity", "Shannon diversity"],
    summary: SHANNON_WORDS,
    formula: "H' = -sum(p ln p)",
    unit: "nats",
    range: [0, Number.POSITIVE_INFINITY],
    whenMultiplied: "same",
    references: [SHANNON_1948, CHALFANT_2012],
    examples: [
      onRiffle(2.5452224985466447, "ln N - sum(n ln n) / N: 4.605170186 - 205.994768745 / 100 = 2.545222499"),
      onDitch(1.8479159173794437, "3.912023005 - 103.205354402 / 50 = 1.847915917"),
      onSheet([["Baetis", 7]], 0, "one taxon: -1 x ln 1 = 0"),
    ],
    measure: (community) => shannon(community, Math.E),
    entropyBase: Math.E,
  }),
  diversityMetric({
    id: "shannon_diversity_2",
    name: "Shannon diversity, base 2",
    summary: SHANNON_WORDS,
    formula: "H' = -sum(p log2 p)",
    unit: "bits",
    range: [0, Number.POSITIVE_INFINITY],
    whenMultiplied: "same",
    references: [SHANNON_1948],
    examples: [
      onRiffle(3.6719798766122613, "2.545222499 / ln 2 = 3.671979877"),
      onDitch(2.665979129983103, "1.847915917 / ln 2 = 2.665979130"),
    ],
    measure: (community) => shannon(community, 2),
    entropyBase: 2,
  }),
  diversityMetric({
    id: "shannon_diversity_10",
    name: "Shannon diversity, base 10",
    summary: SHANNON_WORDS,
    formula: "H' = -sum(p log10 p)",
    unit: "decits",
    range: [0, Number.POSITIVE_INFINITY],
    whenMultiplied: "same",
    references: [SHANNON_1948],
    examples: [
      onRiffle(1.1053760863348152, "2.545222499 / ln 10 = 1.105376086"),
      onDitch(0.8025396859390778, "1.847915917 / ln 10 = 0.802539686"),
    ],
    measure: (community) => shannon(community, 10),
    entropyBase: 10,
  }),
  diversityMetric({
    id: "pielou_evenness",
    name: "Pielou's evenness",
    alsoCalled: ["evenness", "equitability"],
    summary:
      "Shannon diversity as a share of the largest that as many taxa can have; the same in every base.",
    formula: "J' = H' / ln S, over the S taxa that have animals",
    unit: "share of 1",
    range: [0, 1],
    whenMultiplied: "same",
    references: [PIELOU_1966],
    examples: [
      onRiffle(0.9179949691530623, "2.545222499 / ln 16 = 0.917994969"),
      onDitch(0.8410227777534438, "1.847915917 / ln 9 = 0.841022778"),
      onSheet([["Baetis", 7]], null, "one taxon: ln 1 is 0, no evenness"),
    ],
    measure: pielou,
  }),
  diversityMetric({
    id: "brillouin_diversity",
    name: "Brillouin's diversity",
    summary: "Diversity of a collection that was counted whole; needs whole numbers of animals.",
    formula: "HB = (ln N! - sum(ln n!)) / N",
    unit: "nats",
    range: [0, Number.POSITIVE_INFINITY],
    whenMultiplied: "changes",
    references: [BRILLOUIN_1962],
    examples: [
      onRiffle(2.3012145583976604, "(363.739375556 - 133.617919716) / 100 = 2.301214558"),
      onDitch(1.6157797783020476, "(148.477766952 - 67.688778037) / 50 = 1.615779778"),
    ],
    measure: brillouin,
  }),
  diversityMetric({
    id: "mcintosh_diversity",
    name: "McIntosh's diversity",
    alsoCalled: ["McIntosh's D", "McIntosh dominance"],
    summary: "Distance of the sample from one that holds a single taxon.",
    formula: "D = (N - U) / (N - sqrt(N)), with U = sqrt(sum of n squared)",
    unit: "share of 1",
    range: [0, 1],
    whenMultiplied: "changes",
    references: [MCINTOSH_1967],
    examples: [
      onRiffle(
        0.7719036106116944,
        "U = sqrt(932) = 30.528675045: (100 - 30.528675045) / (100 - 10) = 0.771903611",
      ),
      onDitch(
        0.6480228034852045,
        "U = sqrt(492) = 22.181073013: (50 - 22.181073013) / (50 - 7.071067812) = 0.648022803",
      ),
    ],
    measure: mcintoshDiversity,
  }),
  diversityMetric({
    id: "mcintosh_evenness",
    name: "McIntosh's evenness",
    summary: "The same distance as a share of the largest that as many taxa can have.",
    formula: "E = (N - U) / (N - N / sqrt(S)), over the S taxa that have animals",
    unit: "share of 1",
    range: [0, 1],
    whenMultiplied: "same",
    references: [MCINTOSH_1967],
    examples: [
      onRiffle(0.9262843327340334, "(100 - 30.528675045) / (100 - 100 / 4) = 0.926284333"),
      onDitch(0.834567809615435, "(50 - 22.181073013) / (50 - 50 / 3) = 0.834567810"),
    ],
    measure: mcintoshEvenness,
  }),
  diversityMetric({
    id: "margalef_richness",
    name: "Margalef's index",
    alsoCalled: ["Margalef's diversity", "Margalef's D"],
    summary: "Taxa richness set against the logarithm of the number of animals.",
    formula: "(S - 1) / ln N, with S the taxa richness",
    unit: "index",
    range: [0, Number.POSITIVE_INFINITY],
    whenMultiplied: "changes",
    references: [MARGALEF_1958],
    examples: [
      onRiffle(3.2572086142743886, "(16 - 1) / ln 100 = 3.257208614"),
      onDitch(2.0449777490826517, "(9 - 1) / ln 50 = 2.044977749"),
    ],
    measure: margalef,
  }),
  diversityMetric({
    id: "menhinick_richness",
    name: "Menhinick's index",
    summary: "Taxa richness set against the square root of the number of animals.",
    formula: "S / sqrt(N), with S the taxa richness",
    unit: "index",
    range: [0, Number.POSITIVE_INFINITY],
    whenMultiplied: "changes",
    references: [MENHINICK_1964],
    examples: [
      onRiffle(1.6, "16 / sqrt(100) = 1.6"),
      onDitch(1.2727922061357855, "9 / sqrt(50) = 1.272792206"),
    ],
    measure: menhinick,
  }),
  diversityMetric({
    id: "fisher_alpha",
    name: "Fisher's alpha",
    summary: "The parameter of the log series with as many taxa and animals as the sample.",
    formula: "the solution of S = a ln(1 + N / a), with S the taxa richness",
    unit: "index",
    range: [0, Number.POSITIVE_INFINITY],
    whenMultiplied: "changes",
    references: [FISHER_1943],
    examples: [
      onRiffle(5.3775921895814545, "5.377592190 x ln(1 + 100 / 5.377592190) is 16, so alpha = 5.377592190"),
      onDitch(3.2027239919643935, "3.202723992 x ln(1 + 50 / 3.202723992) is 9, so alpha = 3.202723992"),
      onSheet(
        [
          ["Baetis", 1],
          ["Physa", 1],
        ],
        null,
        "every animal is a taxon of its own: no finite solution",
      ),
    ],
    measure: fisherAlpha,
  }),
];
