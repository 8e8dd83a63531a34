import * as z from "zod";
import type { MetricEntry, MetricExample, MetricNeed, MetricReference } from "../define.ts";
import { defineMetric } from "../define.ts";
import type { TaxonFilter } from "../filter.ts";
import { filterSetting, told } from "../filter-settings.ts";
import { ratioForm, WHEN_NONE_BELOW } from "../forms/ratio-form.ts";
import { BARBOUR_1999, COMMON_FORM, PLAFKIN_1989, STREAMKEEPERS } from "../references.ts";
import { onDitch, onRiffle } from "../worked-sheets.ts";
import { percentMetric } from "./percent-entry.ts";

const EPT = ["Ephemeroptera", "Plecoptera", "Trichoptera"];

const whenNoneBelow = told(
  z.enum(WHEN_NONE_BELOW, { error: `must be one of ${WHEN_NONE_BELOW.join(", ")}` }).default("missing"),
  WHEN_NONE_BELOW.join(", "),
  "the answer when nothing stands below the line: no value, what stands above by itself, or 0",
);

const freeShape = {
  above: told(filterSetting, "a filter, required", "what stands above the line"),
  below: told(filterSetting, "a filter, required", "what stands below the line"),
  when_none_below: whenNoneBelow,
};

interface RatioSpec {
  readonly id: string;
  readonly name: string;
  readonly summary: string;
  readonly formula: string;
  readonly above: TaxonFilter;
  readonly below: TaxonFilter;
  readonly needs: readonly MetricNeed[];
  readonly stress: "falls" | "rises" | "varies";
  readonly references: readonly MetricReference[];
  readonly examples: readonly MetricExample[];
}

const RATIO_FACTS = {
  unit: "ratio",
  range: [0, Number.POSITIVE_INFINITY],
  whenEmpty: "missing",
  // With `above-alone` a sample without the lower group does change.
  whenMultiplied: "same",
} as const;

function ratioMetric(spec: RatioSpec): MetricEntry {
  const { above, below, ...facts } = spec;
  return defineMetric({
    ...RATIO_FACTS,
    ...facts,
    settings: z.strictObject({ when_none_below: whenNoneBelow }),
    measure: (chosen, kit) => ratioForm(kit, "animals", [above], [below], chosen.when_none_below),
  });
}

/** Ratios with a stated answer for a zero below, and the shares from 0 to 1 that never meet one. */
export const RATIOS: readonly MetricEntry[] = [
  defineMetric({
    ...RATIO_FACTS,
    id: "individuals_ratio",
    name: "Ratio of individuals",
    summary: "Animals of one group divided by animals of another, both chosen by the set.",
    formula: "animals that pass `above` / animals that pass `below`",
    needs: ["counts"],
    stress: "varies",
    references: [PLAFKIN_1989],
    examples: [
      onRiffle(1.32, "mayflies 33 / caddisflies 25 = 1.32", {
        settings: { above: { within: "Ephemeroptera" }, below: { within: "Trichoptera" } },
      }),
      onDitch(3, "no stonefly below, so mayflies alone: 3 = 3", {
        settings: {
          above: { within: "Ephemeroptera" },
          below: { within: "Plecoptera" },
          when_none_below: "above-alone",
        },
      }),
      onDitch(null, "no stonefly below: missing", {
        settings: { above: { within: "Ephemeroptera" }, below: { within: "Plecoptera" } },
      }),
    ],
    settings: z.strictObject(freeShape),
    measure: (chosen, kit) =>
      ratioForm(kit, "animals", [chosen.above], [chosen.below], chosen.when_none_below),
  }),
  defineMetric({
    ...RATIO_FACTS,
    id: "taxa_ratio",
    name: "Ratio of taxa",
    summary: "Taxa of one group divided by taxa of another, both chosen by the set.",
    formula: "taxa that pass `above` / taxa that pass `below`",
    needs: [],
    stress: "varies",
    references: [PLAFKIN_1989],
    examples: [
      onRiffle(1.5, "3 mayfly taxa / 2 stonefly taxa = 1.5", {
        settings: { above: { within: "Ephemeroptera" }, below: { within: "Plecoptera" } },
      }),
      onDitch(0.5, "1 caddisfly taxon / 2 molluscs = 0.5", {
        settings: { above: { within: "Trichoptera" }, below: { within: "Mollusca" } },
      }),
    ],
    settings: z.strictObject(freeShape),
    measure: (chosen, kit) => ratioForm(kit, "taxa", [chosen.above], [chosen.below], chosen.when_none_below),
  }),
  ratioMetric({
    id: "ept_to_chironomidae_ratio",
    name: "Ratio of EPT to Chironomidae",
    summary: "Mayflies, stoneflies and caddisflies together divided by non-biting midges.",
    formula: "EPT animals / Chironomidae",
    above: { within: EPT },
    below: { within: ["Chironomidae"] },
    needs: ["counts", "taxonomy"],
    stress: "falls",
    references: [PLAFKIN_1989],
    examples: [onRiffle(6.5, "65 / 10 = 6.5"), onDitch(0.3125, "5 / 16 = 0.3125")],
  }),
  ratioMetric({
    id: "scraper_to_filterer_ratio",
    name: "Ratio of scrapers to filterers",
    summary: "Scrapers divided by filterers.",
    formula: "scrapers / collector-filterers",
    above: { feeding_group: ["scraper"] },
    below: { feeding_group: ["collector-filterer"] },
    needs: ["counts", "feeding_group"],
    stress: "varies",
    references: [PLAFKIN_1989],
    examples: [onRiffle(21 / 26, "21 / 26 = 0.807692308"), onDitch(1.5, "6 / 4 = 1.5")],
  }),
  percentMetric({
    id: "shredder_to_total_ratio",
    name: "Ratio of shredders to all animals",
    counted: "shredders, from 0 to 1",
    filter: { feeding_group: ["shredder"] },
    needs: ["counts", "feeding_group"],
    times: 1,
    stress: "falls",
    references: [PLAFKIN_1989],
    examples: [onRiffle(0.02, "2 / 100 = 0.02"), onDitch(0, "0 / 50 = 0")],
  }),
  percentMetric({
    id: "ept_to_total_ratio",
    name: "EPT to total ratio",
    counted: "mayflies, stoneflies or caddisflies, from 0 to 1",
    filter: { within: EPT },
    times: 1,
    stress: "falls",
    references: [STREAMKEEPERS],
    examples: [onRiffle(0.65, "65 / 100 = 0.65"), onDitch(0.1, "5 / 50 = 0.1")],
  }),
  percentMetric({
    id: "ept_share_of_ept_and_chironomidae",
    name: "EPT / (EPT + Chironomidae)",
    alsoCalled: ["EPT to EPT plus Chironomidae ratio"],
    counted: "mayflies, stoneflies or caddisflies, from 0 to 1",
    filter: { within: EPT },
    of: { within: [...EPT, "Chironomidae"] },
    ofWords: "EPT and Chironomidae together",
    times: 1,
    stress: "falls",
    references: [PLAFKIN_1989, COMMON_FORM],
    examples: [
      onRiffle(65 / 75, "65 / (65 + 10) = 0.866666667"),
      onDitch(5 / 21, "5 / (5 + 16) = 0.238095238"),
    ],
  }),
  percentMetric({
    id: "scraper_share_of_scrapers_and_filterers",
    name: "Scrapers / (scrapers + filterers)",
    counted: "scrapers, from 0 to 1",
    filter: { feeding_group: ["scraper"] },
    of: { feeding_group: ["scraper", "collector-filterer"] },
    ofWords: "scrapers and filterers together",
    needs: ["counts", "feeding_group"],
    times: 1,
    stress: "varies",
    references: [COMMON_FORM],
    examples: [onRiffle(21 / 47, "21 / (21 + 26) = 0.446808511"), onDitch(0.6, "6 / (6 + 4) = 0.6")],
  }),
  percentMetric({
    id: "percent_hydropsychidae_of_trichoptera",
    name: "Percent of Trichoptera as Hydropsychidae",
    alsoCalled: ["Hydropsychidae to Trichoptera"],
    counted: "Hydropsychidae",
    filter: { within: ["Hydropsychidae"] },
    of: { within: ["Trichoptera"] },
    ofWords: "all caddisflies",
    stress: "rises",
    references: [BARBOUR_1999],
    examples: [onRiffle(56, "100 x 14 / 25 = 56"), onDitch(0, "100 x 0 / 2 = 0")],
  }),
  percentMetric({
    id: "percent_baetidae_of_ephemeroptera",
    name: "Percent of Ephemeroptera as Baetidae",
    alsoCalled: ["Baetidae to Ephemeroptera"],
    counted: "Baetidae",
    filter: { within: ["Baetidae"] },
    of: { within: ["Ephemeroptera"] },
    ofWords: "all mayflies",
    stress: "rises",
    references: [COMMON_FORM],
    examples: [onRiffle(1800 / 33, "100 x 18 / 33 = 54.545454545"), onDitch(0, "100 x 0 / 3 = 0")],
  }),
  percentMetric({
    id: "percent_tanytarsini_of_chironomidae",
    name: "Percent of Chironomidae as Tanytarsini",
    counted: "of the tribe Tanytarsini",
    filter: { within: ["Tanytarsini"] },
    of: { within: ["Chironomidae"] },
    ofWords: "all non-biting midges",
    stress: "falls",
    references: [COMMON_FORM],
    examples: [onRiffle(40, "100 x 4 / 10 = 40"), onDitch(0, "100 x 0 / 16 = 0")],
  }),
  percentMetric({
    id: "percent_orthocladiinae_of_chironomidae",
    name: "Percent of Chironomidae as Orthocladiinae",
    counted: "of the subfamily Orthocladiinae",
    filter: { within: ["Orthocladiinae"] },
    of: { within: ["Chironomidae"] },
    ofWords: "all non-biting midges",
    stress: "varies",
    references: [COMMON_FORM],
    examples: [onRiffle(60, "100 x 6 / 10 = 60"), onDitch(0, "100 x 0 / 16 = 0")],
  }),
];
