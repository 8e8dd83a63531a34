import { describe, expect, it } from "vitest";
import { packageRoot } from "../../src/files/package-root.ts";
import { prepareMetric } from "../../src/metrics/prepare.ts";
import { findMetric } from "../../src/metrics/registry.ts";
import type { CompiledAttribute } from "../../src/model/attribute-lookup.ts";
import type { Attribute } from "../../src/model/attributes.ts";
import { loadSharedTables } from "../../src/reference/shared-tables.ts";
import { compileAttribute } from "../../src/taxa/attribute-lookup.ts";

const SHARED = loadSharedTables(`${packageRoot()}/reference-tables`);

function setupWith(tolerance: string) {
  const attributes = new Map<Attribute, CompiledAttribute>();
  const schemes = [
    tolerance,
    "feeding-group",
    "feeding-group-secondary",
    "habit",
    "habit-secondary",
    "life-cycle",
    "origin",
  ];
  for (const scheme of schemes) {
    const table = SHARED.loadAttribute(scheme);
    attributes.set(table.scheme.attribute, compileAttribute(table, SHARED.tree));
  }
  return { tree: SHARED.tree, attributes };
}

type Use = readonly [metric: string, settings?: Readonly<Record<string, unknown>>];

const CHIRONOMIDAE_OUT = { except: "Chironomidae" };

/** The metrics of published methods, each as a name of the catalogue with settings and no code. */
const METHODS: Readonly<Record<string, { readonly tolerance: string; readonly metrics: readonly Use[] }>> = {
  "Puget lowland, genus level": {
    tolerance: "rbp1999-northwest",
    metrics: [
      ["taxa_richness"],
      ["ephemeroptera_richness"],
      ["plecoptera_richness"],
      ["trichoptera_richness"],
      ["long_lived_richness"],
      ["intolerant_richness", { limit: 1 }],
      ["percent_tolerant", { limit: 8 }],
      ["percent_predators"],
      ["clinger_richness", { with_secondary: true }],
      ["percent_three_dominant_taxa"],
    ],
  },
  "Puget lowland, species level, midges left out of tolerance": {
    tolerance: "rbp1999-northwest",
    metrics: [
      ["intolerant_richness", { limit: 1, ...CHIRONOMIDAE_OUT }],
      ["percent_tolerant", { limit: 8, of: CHIRONOMIDAE_OUT }],
      ["percent_tolerant", { limit: 8, ...CHIRONOMIDAE_OUT }],
      ["long_lived_richness", { within: ["Elmidae", "Pteronarcyidae", "Perlidae"] }],
    ],
  },
  "Hilsenhoff 1987, 1988 and 1998": {
    tolerance: "hilsenhoff-1988-family",
    metrics: [
      ["tolerance_index", { within: "Arthropoda" }],
      ["tolerance_index_10_max", { within: "Arthropoda" }],
      ["tolerance_index", { within: "Arthropoda", max_per_taxon: 10 }],
    ],
  },
  "BMWP and ASPT": {
    tolerance: "bmwp-1983",
    metrics: [["sum_of_scores"], ["number_of_scoring_taxa"], ["average_score_per_taxon"]],
  },
  "SIGNAL 2": {
    tolerance: "signal2-2003",
    metrics: [["average_score_per_taxon"], ["signal_weighted"]],
  },
  "New Zealand": {
    tolerance: "mci-hardbottom-2007",
    metrics: [["mci"], ["tolerance_index"], ["sqmci"], ["ept_richness_without_hydroptilidae"]],
  },
  "Rapid bioassessment 1989 with a reference sample": {
    tolerance: "rbp1999-midwest",
    metrics: [
      ["taxa_richness"],
      ["tolerance_index"],
      ["scraper_to_filterer_ratio", { when_none_below: "above-alone" }],
      ["ept_to_chironomidae_ratio", { when_none_below: "above-alone" }],
      ["percent_dominant_taxon"],
      ["ept_richness"],
      ["community_loss"],
      ["shredder_to_total_ratio"],
    ],
  },
  "West Virginia, family": {
    tolerance: "hilsenhoff-1988-family",
    metrics: [
      ["family_richness"],
      ["ept_family_richness"],
      ["percent_ept"],
      ["percent_chironomidae"],
      ["percent_two_dominant_taxa"],
      ["tolerance_index"],
    ],
  },
  "Virginia, family": {
    tolerance: "hilsenhoff-1988-family",
    metrics: [
      ["family_richness"],
      ["ept_family_richness"],
      ["percent_ephemeroptera"],
      ["percent_plecoptera_and_trichoptera_without_hydropsychidae"],
      ["percent_scrapers"],
      ["percent_chironomidae"],
      ["percent_two_dominant_taxa", { grouped_at: "family" }],
      ["tolerance_index"],
    ],
  },
  "Pennsylvania freestone": {
    tolerance: "rbp1999-northwest",
    metrics: [
      ["taxa_richness"],
      ["sensitive_ept_richness", { limit: 4 }],
      ["becks_index_v3"],
      ["tolerance_index"],
      ["shannon_diversity_e"],
      ["percent_intolerant", { limit: 3 }],
    ],
  },
  "New York": {
    tolerance: "rbp1999-northwest",
    metrics: [["taxa_richness"], ["ept_richness"], ["tolerance_index"], ["percent_model_affinity"]],
  },
  Texas: {
    tolerance: "rbp1999-southeast",
    metrics: [
      ["percent_chironomidae"],
      ["percent_predators"],
      ["percent_elmidae"],
      ["percent_hydropsychidae_of_trichoptera"],
      ["individuals_ratio", { above: { tolerance_below: 6 }, below: { tolerance_at_least: 6 } }],
      ["non_insect_richness"],
      ["percent_gatherers"],
    ],
  },
  "Florida index": {
    tolerance: "rbp1999-southeast",
    metrics: [
      [
        "taxa_points",
        {
          classes: [
            { points: 2, within: ["Plecoptera"] },
            { points: 1, within: ["Gammarus", "Hyalella"] },
          ],
        },
      ],
    ],
  },
};

describe.each(Object.entries(METHODS))("%s", (_method, { tolerance, metrics }) => {
  const setup = setupWith(tolerance);

  it.each(metrics.map(([metric, settings]) => [metric, settings ?? {}] as const))(
    "asks for %s %j",
    (metric, settings) => {
      const entry = findMetric(metric);
      if (entry === undefined) throw new Error(`no metric ${metric}`);
      const prepared = prepareMetric(entry, settings, setup);
      expect("problems" in prepared ? prepared.problems : []).toEqual([]);
    },
  );
});
