import { describe, expect, it } from "vitest";
import { prepareMetric } from "../../src/metrics/prepare.ts";
import { findMetric } from "../../src/metrics/registry.ts";
import type { AttributeLookup } from "../../src/model/attribute-lookup.ts";
import { TaxonTree } from "../../src/model/taxon-tree.ts";
import { attributesOf } from "../helpers/metrics/build.ts";
import { REAL_TREE } from "../helpers/metrics/real-tree.ts";

const ATTRIBUTES = attributesOf({
  tolerance: { Baetis: "4", Physa: "8.5" },
  feeding_group: { Baetis: "collector-gatherer", Physa: "scraper", Sweltsa: "predator" },
});

function problems(
  metric: string,
  settings: Record<string, unknown>,
  attributes: AttributeLookup = ATTRIBUTES,
  tree: TaxonTree = REAL_TREE,
): readonly string[] {
  const entry = findMetric(metric);
  if (entry === undefined) throw new Error(`no metric ${metric}`);
  const prepared = prepareMetric(entry, settings, { tree, attributes });
  return "problems" in prepared ? prepared.problems : [];
}

describe("settings of a metric", () => {
  it("are taken when they are right", () => {
    expect(problems("taxa_richness", {})).toEqual([]);
    expect(problems("taxa_richness", { within: "Diptera", except: ["Chironomidae", "Simuliidae"] })).toEqual(
      [],
    );
    expect(problems("percent_tolerant", { limit: 7, of: { except: "Chironomidae" } })).toEqual([]);
  });

  it("with a name that the metric does not have get the closest names", () => {
    expect(problems("taxa_richness", { witin: "Diptera" })).toEqual([
      'unknown setting "witin"; did you mean "within"?',
    ]);
    const [problem] = problems("percent_tolerant", { limit: 7, threshold: 6 });
    expect(problem).toMatch(/^unknown setting "threshold"; it has within, except, .*limit_included$/);
    expect(problems("percent_individuals", { of: { witin: "Diptera" } })).toEqual([
      'unknown setting "witin" in "of"',
    ]);
  });

  it("of the wrong kind are named by their path, with what they must be", () => {
    expect(problems("percent_tolerant", {})).toEqual(['setting "limit" is missing; it must be a number']);
    expect(problems("percent_tolerant", { limit: "7" })).toEqual(['setting "limit" must be a number']);
    expect(problems("percent_tolerant", { limit: Number.NaN })).toEqual(['setting "limit" must be a number']);
    expect(problems("percent_tolerant", { limit: 7, limit_included: 1 })).toEqual([
      'setting "limit_included" must be true or false',
    ]);
    expect(problems("expected_richness", { animals: 1.5 })).toEqual([
      'setting "animals" must be a whole number',
    ]);
    expect(problems("expected_richness", { animals: 0 })).toEqual(['setting "animals" must be at least 1']);
    expect(problems("taxa_richness", { within: [] })).toHaveLength(1);
    expect(problems("taxa_richness", { within: "" })).toHaveLength(1);
    expect(problems("taxa_richness", { within: 3 })).toEqual([
      'setting "within" must be a name or a list of names',
    ]);
    expect(
      problems("individuals_ratio", { above: { within: "Diptera" }, below: { tolerance_at_most: "x" } }),
    ).toEqual(['setting "below.tolerance_at_most" must be a number']);
    expect(problems("ept_to_chironomidae_ratio", { when_none_below: "infinite" })).toEqual([
      'setting "when_none_below" must be one of missing, above-alone, zero',
    ]);
    expect(problems("taxa_richness", { grouped_at: "famly" })[0]).toMatch(
      /^setting "grouped_at" must be one of kingdom,/,
    );
  });

  it("are all reported, not the first only", () => {
    expect(problems("percent_tolerant", { limit: "7", within: 3, colour: 1 })).toHaveLength(3);
  });

  it("may be named like a property of every object", () => {
    expect(problems("taxa_richness", JSON.parse('{"__proto__": 1}'))).toHaveLength(1);
    expect(problems("taxa_richness", { constructor: 1 })).toHaveLength(1);
  });
});

describe("filters", () => {
  it("naming a taxon that the tree does not have get the closest names", () => {
    expect(problems("ept_richness", { except: "Hydropsychide" })).toEqual([
      'the tree of taxa has no "Hydropsychide"; did you mean "Hydropsychidae" or "Hydropsyche" or "Hydropsychinae"?',
    ]);
    expect(problems("taxa_richness", { within: "__proto__" })).toEqual([
      'the tree of taxa has no "__proto__"',
    ]);
  });

  it("naming a category that no taxon has get the closest ones", () => {
    expect(problems("taxa_richness", { feeding_group: "predater" })).toEqual([
      'no taxon has the feeding group "predater"; did you mean "predator"?',
    ]);
  });

  it("that no taxon of the whole tree passes are reported", () => {
    expect(problems("taxa_richness", { tolerance_at_most: 3 })).toEqual([
      "no taxon of the whole tree passes the filter (tolerance at most 3); check its names and the attribute table",
    ]);
    expect(problems("ept_richness", { within: "Mollusca" })).toEqual([
      "no taxon of the whole tree passes the filter (within Ephemeroptera, Plecoptera or Trichoptera, within Mollusca); check its names and the attribute table",
    ]);
  });

  it("reading an attribute for which the set names no table are reported once", () => {
    expect(problems("tolerance_index", {}, new Map())).toEqual([
      'it needs the attribute "tolerance", and the set names no table for it',
    ]);
    expect(problems("long_lived_richness", {})).toContain(
      'it needs the attribute "life_cycle", and the set names no table for it',
    );
    expect(problems("scraper_richness", { with_secondary: true })).toEqual([
      'it needs the attribute "feeding_group_secondary", and the set names no table for it',
    ]);
    expect(problems("taxa_richness", { tolerance_above: 1, tolerance_below: 9 }, new Map())).toEqual([
      'it needs the attribute "tolerance", and the set names no table for it',
    ]);
    // A category is not called unknown when there is no table that could have it.
    expect(problems("taxa_richness", { habit: "clinger" }, new Map())).toEqual([
      'it needs the attribute "habit", and the set names no table for it',
    ]);
    expect(problems("taxa_richness", { habit: "clinger", with_secondary: true }, new Map())).toEqual([
      'it needs the attribute "habit", and the set names no table for it',
      'it needs the attribute "habit_secondary", and the set names no table for it',
    ]);
    // Origins have no second table.
    const origins = attributesOf({ origin: { Physa: "native" } });
    expect(problems("taxa_richness", { origin: "native", with_secondary: true }, origins)).toEqual([]);
  });

  it("of a metric that looks for several categories may name some that the table does not have", () => {
    const origins = (values: Record<string, string>) => attributesOf({ origin: values });
    expect(problems("nonnative_richness", {}, origins({ Physa: "invasive" }))).toEqual([]);
    expect(problems("nonnative_richness", {}, origins({ Physa: "native" }))).toContain(
      'no taxon has the origin "nonnative"; did you mean "native"?',
    );
    // What a set asks for must all be there.
    expect(
      problems("taxa_richness", { origin: ["invasive", "nonnative"] }, origins({ Physa: "invasive" })),
    ).toEqual(['no taxon has the origin "nonnative"']);
  });

  it("with a choice of conditions are told in words", () => {
    expect(
      problems("taxa_richness", {
        within: "Mollusca",
        any_of: [
          { within: "Diptera", tolerance_below: 9 },
          { feeding_group: ["predator", "scraper"], within: "Insecta" },
        ],
      }),
    ).toEqual([
      "no taxon of the whole tree passes the filter (within Mollusca, within Diptera and tolerance below 9 or within Insecta and feeding group predator or scraper); check its names and the attribute table",
    ]);
  });

  it("of an entry whose group the tree does not have are reported", () => {
    const tree = TaxonTree.fromRows([
      { taxon: "Animalia", rank: "kingdom", parent: "" },
      { taxon: "mayfly", rank: "order", parent: "Animalia" },
    ]);
    expect(problems("ephemeroptera_richness", {}, new Map(), tree)).toEqual([
      'the tree of taxa has no "Ephemeroptera"',
    ]);
    expect(problems("taxa_richness", { within: "mayfly" }, new Map(), tree)).toEqual([]);
  });
});

describe("settings that do not fit together", () => {
  it.each([
    [
      "weighted_average_score",
      {
        classes: [
          { from: 5, weight: 2 },
          { from: 1, weight: 1 },
        ],
      },
      /"classes" must stand in rising order/,
    ],
    [
      "sum_of_abundance_class_scores",
      { class_starts: [1, 10], scores: { Baetis: [1] } },
      /"Baetis" has 1 scores for 2 classes/,
    ],
    [
      "sum_of_abundance_class_scores",
      { class_starts: [1], scores: { Betis: [1] } },
      /no "Betis"; did you mean "Baetis"/,
    ],
    [
      "sum_of_abundance_class_scores",
      { class_starts: [1, 1], scores: { Baetis: [1, 2] } },
      /^setting "class_starts" must stand in rising order$/,
    ],
    ["becks_index", { class_1_at_most: 9, class_2_at_most: 4 }, /"class_2_at_most" must be above/],
    ["becks_index", { class_1_at_most: 4, class_2_at_most: 4 }, /"class_2_at_most" must be above/],
    [
      "percent_model_affinity",
      {
        model: [
          { percent: 60, within: "Diptera" },
          { percent: 41, within: "Mollusca" },
        ],
      },
      /more than 100 percent/,
    ],
  ])("of %s", (metric, settings, expected) => {
    const found = problems(metric, settings);
    expect(found.join("\n")).toMatch(expected);
  });

  it("but a model whose groups add up to 100 percent does", () => {
    const model = [
      { percent: 60, within: "Diptera" },
      { percent: 40, within: "Mollusca" },
    ];
    expect(problems("percent_model_affinity", { model })).toEqual([]);
  });

  it("of Beck's index with a scheme that runs the other way", () => {
    const tolerance = ATTRIBUTES.get("tolerance");
    if (tolerance === undefined) throw new Error("no tolerance");
    const turned = new Map([
      [
        "tolerance" as const,
        { ...tolerance, scheme: { ...tolerance.scheme, direction: "higher-is-sensitive" as const } },
      ],
    ]);
    expect(problems("becks_index", { class_1_at_most: 4, class_2_at_most: 9 }, turned)).toEqual([
      "it needs low values for sensitive taxa, and test-tolerance has high ones",
    ]);
  });
});
