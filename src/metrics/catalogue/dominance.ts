import * as z from "zod";
import type { MetricEntry, MetricExample } from "../define.ts";
import { defineMetric } from "../define.ts";
import { filterShape, groupedAt, told } from "../filter-settings.ts";
import { dominanceForm } from "../forms/dominance-form.ts";
import { BARBOUR_1999, BERGER_PARKER_1970, FORE_1996, GERRITSEN_2000, STREAMKEEPERS } from "../references.ts";
import { onDitch, onRiffle } from "../worked-sheets.ts";

const settings = z.strictObject({ ...filterShape, grouped_at: groupedAt });

function topMetric(
  taxa: number,
  id: string,
  name: string,
  references: MetricEntry["references"],
  examples: readonly MetricExample[],
  alsoCalled: readonly string[] = [],
): MetricEntry {
  return defineMetric({
    ...DOMINANCE_FACTS,
    id,
    name,
    alsoCalled,
    summary: `Share of all animals that belong to the ${taxa === 1 ? "most numerous taxon" : `${taxa} most numerous taxa`}.`,
    formula:
      taxa === 1
        ? "100 x animals of the most numerous taxon / all animals"
        : `100 x animals of the ${taxa} most numerous taxa / all animals`,
    references,
    examples,
    settings,
    measure: (chosen, kit) => dominanceForm(kit, taxa, [chosen], chosen.grouped_at, 100),
  });
}

const DOMINANCE_FACTS = {
  unit: "percent",
  range: [0, 100],
  whenEmpty: "missing",
  needs: ["counts"],
  stress: "rises",
  whenMultiplied: "same",
} as const;

/** Shares of the most numerous taxa. Life stages of a taxon are one taxon before this. */
export const DOMINANCE: readonly MetricEntry[] = [
  topMetric(
    1,
    "percent_dominant_taxon",
    "Percent dominant taxon",
    [BARBOUR_1999],
    [
      onRiffle(18, "Baetis 18: 100 x 18 / 100 = 18"),
      onDitch(32, "Chironomus 16: 100 x 16 / 50 = 32"),
      onRiffle(33, "by order, Ephemeroptera 18 + 6 + 9 lead: 100 x 33 / 100 = 33", {
        settings: { grouped_at: "order" },
      }),
    ],
    ["percent dominance", "percent contribution of the dominant taxon"],
  ),
  topMetric(
    2,
    "percent_two_dominant_taxa",
    "Percent two dominant taxa",
    [BARBOUR_1999, GERRITSEN_2000],
    [
      onRiffle(32, "Baetis 18 + Hydropsyche 14: 100 x 32 / 100 = 32"),
      onDitch(56, "Chironomus 16 + Oligochaeta 12: 100 x 28 / 50 = 56"),
    ],
  ),
  topMetric(
    3,
    "percent_three_dominant_taxa",
    "Percent three dominant taxa",
    [BARBOUR_1999, FORE_1996],
    [
      onRiffle(41, "Baetis 18 + Hydropsyche 14 + Ephemerella 9: 100 x 41 / 100 = 41"),
      onDitch(68, "Chironomus 16 + Oligochaeta 12 + Physa 6: 100 x 34 / 50 = 68"),
    ],
  ),
  topMetric(
    4,
    "percent_four_dominant_taxa",
    "Percent four dominant taxa",
    [BARBOUR_1999],
    [
      onRiffle(49, "41 + Optioservus 8: 100 x 49 / 100 = 49"),
      onDitch(78, "34 + Caecidotea 5: 100 x 39 / 50 = 78"),
    ],
  ),
  topMetric(
    5,
    "percent_five_dominant_taxa",
    "Percent five dominant taxa",
    [BARBOUR_1999],
    [
      onRiffle(56, "49 + Glossosoma 7, level with Simulium 7, of which one enters: 100 x 56 / 100 = 56"),
      onDitch(86, "39 + Corbicula fluminea 4: 100 x 43 / 50 = 86"),
    ],
  ),
  defineMetric({
    ...DOMINANCE_FACTS,
    id: "percent_dominant_taxa",
    name: "Percent dominant taxa",
    summary: "Share of all animals that belong to the most numerous taxa, as many as the set says.",
    formula: "100 x animals of the most numerous taxa / all animals",
    references: [BARBOUR_1999],
    examples: [
      onRiffle(63, "56 + the other of Glossosoma 7 and Simulium 7: 100 x 63 / 100 = 63", {
        settings: { taxa: 6 },
      }),
      onDitch(100, "all nine taxa: 100 x 50 / 50 = 100", { settings: { taxa: 9 } }),
    ],
    settings: z.strictObject({
      ...filterShape,
      grouped_at: groupedAt,
      taxa: told(
        z
          .int({ error: "must be a whole number" })
          .min(1, { error: "must be at least 1" })
          .max(100, { error: "must be at most 100" }),
        "whole number, required",
        "how many of the most numerous taxa are taken together",
      ),
    }),
    measure: (chosen, kit) => dominanceForm(kit, chosen.taxa, [chosen], chosen.grouped_at, 100),
  }),
  defineMetric({
    ...DOMINANCE_FACTS,
    id: "berger_parker_dominance",
    name: "Berger-Parker dominance",
    alsoCalled: ["predominant taxon ratio", "predominant ratio"],
    summary: "Share, from 0 to 1, of the most numerous taxon.",
    formula: "d = n(max) / N",
    unit: "share of 1",
    range: [0, 1],
    references: [BERGER_PARKER_1970, STREAMKEEPERS],
    examples: [onRiffle(0.18, "Baetis: 18 / 100 = 0.18"), onDitch(0.32, "Chironomus: 16 / 50 = 0.32")],
    settings,
    measure: (chosen, kit) => dominanceForm(kit, 1, [chosen], chosen.grouped_at, 1),
  }),
];
