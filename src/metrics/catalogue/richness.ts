import type { MetricEntry } from "../define.ts";
import {
  BARBOUR_1999,
  CHALFANT_2012,
  COMMON_FORM,
  GERRITSEN_2000,
  HILSENHOFF_1988,
  KARR_CHU_1999,
  KERANS_KARR_1994,
  STARK_MAXTED_2007,
} from "../references.ts";
import { onDitch, onRiffle, onSheet } from "../worked-sheets.ts";
import { familiesMetric, limitedTaxaMetric, taxaMetric } from "./taxa-entry.ts";

const EPT = ["Ephemeroptera", "Plecoptera", "Trichoptera"];

/** Richness of everything and of the mayflies, stoneflies and caddisflies together. */
export const RICHNESS: readonly MetricEntry[] = [
  taxaMetric({
    id: "taxa_richness",
    name: "Taxa richness",
    alsoCalled: ["total taxa", "number of taxa", "richness"],
    counted: "distinct taxa",
    remark: "With filter settings it counts the taxa of any group.",
    filter: {},
    needs: [],
    stress: "falls",
    references: [BARBOUR_1999],
    examples: [
      onRiffle(16, "16 rows, each a taxon of its own = 16"),
      onSheet(
        [
          ["Baetis", 2, 0],
          ["Baetis tricaudatus", 3],
        ],
        1,
        "the genus adds none beside its species: 0 + 1 = 1",
      ),
      onDitch(2, "Corbicula fluminea, Physa = 2", { settings: { within: "Mollusca" } }),
    ],
  }),
  familiesMetric({
    id: "family_richness",
    name: "Family richness",
    alsoCalled: ["total families", "number of families"],
    counted: "families",
    remark: "What was identified less far than family stands for itself.",
    filter: {},
    stress: "falls",
    references: [HILSENHOFF_1988, GERRITSEN_2000],
    examples: [
      onSheet(
        [
          ["Baetis", 4],
          ["Acentrella", 2],
          ["Epeorus", 1],
        ],
        2,
        "Baetidae, Heptageniidae = 2",
      ),
      onDitch(9, "nine genera and higher taxa of nine families = 9"),
    ],
  }),
  taxaMetric({
    id: "ept_richness",
    name: "EPT taxa",
    alsoCalled: ["EPT index", "EPT richness", "EPT taxa richness"],
    counted: "mayfly, stonefly and caddisfly taxa",
    filter: { within: EPT },
    stress: "falls",
    references: [BARBOUR_1999],
    examples: [
      onRiffle(8, "3 mayflies + 2 stoneflies + 3 caddisflies = 8"),
      onDitch(2, "Caenis, Hydroptila = 2"),
      onRiffle(7, "8 - Hydropsyche = 7", { settings: { except: ["Hydropsychidae"] } }),
    ],
  }),
  familiesMetric({
    id: "ept_family_richness",
    name: "EPT families",
    alsoCalled: ["EPT family index"],
    counted: "mayfly, stonefly and caddisfly families",
    filter: { within: EPT },
    stress: "falls",
    references: [GERRITSEN_2000],
    examples: [
      onRiffle(
        8,
        "Baetidae, Heptageniidae, Ephemerellidae, Pteronarcyidae, Chloroperlidae, Glossosomatidae, Hydropsychidae, Rhyacophilidae = 8",
      ),
      onDitch(2, "Caenidae, Hydroptilidae = 2"),
    ],
  }),
  taxaMetric({
    id: "ept_richness_without_hydropsychidae",
    name: "EPT taxa without Hydropsychidae",
    counted: "mayfly, stonefly and caddisfly taxa, net-spinning caddisflies left out",
    filter: { within: EPT, except: ["Hydropsychidae"] },
    stress: "falls",
    references: [COMMON_FORM],
    examples: [onRiffle(7, "8 EPT taxa - Hydropsyche = 7"), onDitch(2, "Caenis, Hydroptila = 2")],
  }),
  taxaMetric({
    id: "ept_richness_without_hydroptilidae",
    name: "EPT taxa without Hydroptilidae",
    counted: "mayfly, stonefly and caddisfly taxa, micro-caddisflies left out",
    remark:
      "Where a method leaves out two genera of them only, name those in the setting `except` of ept_richness.",
    filter: { within: EPT, except: ["Hydroptilidae"] },
    stress: "falls",
    references: [STARK_MAXTED_2007],
    examples: [onRiffle(8, "no micro-caddisfly among 8 EPT taxa = 8"), onDitch(1, "Caenis = 1")],
  }),
  limitedTaxaMetric({
    id: "sensitive_ept_richness",
    name: "Sensitive EPT taxa",
    alsoCalled: ["EPT taxa with tolerance 0-4", "modified EPT taxa"],
    side: "sensitive",
    counted: "mayfly, stonefly and caddisfly taxa on the sensitive side of a tolerance limit",
    remark: "The Pennsylvania freestone index takes values up to 4.",
    filter: { within: EPT },
    needs: ["taxonomy", "tolerance"],
    stress: "falls",
    references: [CHALFANT_2012],
    examples: [
      onRiffle(7, "of 8 EPT taxa only Baetis (5) is above 4: 8 - 1 = 7", { settings: { limit: 4 } }),
      onDitch(0, "Caenis 7 and Hydroptila 6 are above 4 = 0", { settings: { limit: 4 } }),
    ],
  }),
  limitedTaxaMetric({
    id: "intolerant_richness",
    name: "Intolerant taxa",
    alsoCalled: ["sensitive taxa"],
    side: "sensitive",
    counted: "taxa on the sensitive side of a tolerance limit that the set chooses",
    filter: {},
    needs: ["tolerance"],
    stress: "falls",
    references: [BARBOUR_1999, KARR_CHU_1999],
    examples: [
      onRiffle(
        7,
        "Epeorus 0, Ephemerella 1, Glossosoma 0, Hexatoma 2, Pteronarcys 0, Rhyacophila 1, Sweltsa 1 are at most 2 = 7",
        { settings: { limit: 2 } },
      ),
      onDitch(2, "Corbicula fluminea 6 and Hydroptila 6 are below 7 = 2", {
        settings: { limit: 7, limit_included: false },
      }),
    ],
  }),
  limitedTaxaMetric({
    id: "tolerant_richness",
    name: "Tolerant taxa",
    side: "tolerant",
    counted: "taxa on the tolerant side of a tolerance limit that the set chooses",
    filter: {},
    needs: ["tolerance"],
    stress: "rises",
    references: [COMMON_FORM, KERANS_KARR_1994],
    examples: [
      onRiffle(2, "Oligochaeta 8 and Pisidium 8 are at least 7 = 2", { settings: { limit: 7 } }),
      onDitch(7, "all but Corbicula fluminea 6 and Hydroptila 6: 9 - 2 = 7", { settings: { limit: 7 } }),
    ],
  }),
];
