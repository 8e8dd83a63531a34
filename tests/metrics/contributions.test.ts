import { describe, expect, it } from "vitest";
import type { Contribution } from "../../src/metrics/define.ts";
import { findMetric } from "../../src/metrics/registry.ts";
import { DITCH, SHEET_ATTRIBUTES } from "../../src/metrics/worked-sheets.ts";
import type { SampleContext } from "../../src/model/community.ts";
import { attributesOf, communityOf, ready, type SheetEntry } from "../helpers/metrics/build.ts";
import { REAL_TREE } from "../helpers/metrics/real-tree.ts";

const SAMPLE: SheetEntry[] = [
  ["Baetidae", 2, 0],
  ["Baetis", 18],
  ["Chironomus", 5],
  ["Corydalus", 0],
  ["Hydrachnidia", 3],
  ["Hydropsyche", 14],
];

/** The contributions of a metric as short lines: "Baetis 18 counted 5 from Baetis". */
function lines(
  metric: string,
  settings = {},
  sheet: readonly SheetEntry[] = SAMPLE,
  context: SampleContext = {},
): string[] {
  const entry = findMetric(metric);
  if (entry === undefined) throw new Error(`no metric ${metric}`);
  const attributes = attributesOf({
    ...SHEET_ATTRIBUTES,
    tolerance: { ...SHEET_ATTRIBUTES.tolerance, Insecta: "5.5" },
  });
  return ready(entry, settings, attributes).contributions(communityOf(sheet), context).map(lineOf);
}

function lineOf({ taxon, count, counted, value, valueFrom, why }: Contribution): string {
  return [
    REAL_TREE.nameOf(taxon),
    String(count),
    counted ? "counted" : "not counted",
    value,
    valueFrom === undefined ? undefined : `from ${REAL_TREE.nameOf(valueFrom)}`,
    why === undefined ? undefined : `(${why})`,
  ]
    .filter((part) => part !== undefined)
    .join(" ");
}

describe("what made a number, taxon by taxon", () => {
  it("of a richness: parents add nothing, rare finds do", () => {
    expect(lines("taxa_richness")).toEqual([
      "Baetidae 2 not counted (adds no taxon: finer taxa of it are in the sample)",
      "Baetis 18 counted",
      "Chironomus 5 counted",
      "Corydalus 0 counted",
      "Hydrachnidia 3 counted",
      "Hydropsyche 14 counted",
    ]);
  });

  it("of a richness by families", () => {
    expect(lines("ept_family_richness", {}, [...SAMPLE, ["Acentrella", 1]])).toEqual([
      "Acentrella 1 counted (stands for Baetidae)",
      "Baetidae 2 not counted (adds no taxon: finer taxa of it are in the sample)",
      "Baetis 18 not counted (in Baetidae, which is counted already)",
      "Chironomus 5 not counted (not within Ephemeroptera, Plecoptera or Trichoptera)",
      "Corydalus 0 not counted (not within Ephemeroptera, Plecoptera or Trichoptera)",
      "Hydrachnidia 3 not counted (not within Ephemeroptera, Plecoptera or Trichoptera)",
      "Hydropsyche 14 counted (stands for Hydropsychidae)",
    ]);
  });

  it("of a richness in which a row stands for several taxa", () => {
    expect(lines("taxa_richness", {}, [["Ephemeroptera", 47, 5]])).toEqual([
      "Ephemeroptera 47 counted (stands for 5 taxa)",
    ]);
  });

  it("of a mean tolerance: values, where they come from, and what has none", () => {
    expect(lines("tolerance_index")).toEqual([
      "Baetidae 2 counted 5.5 from Insecta",
      "Baetis 18 counted 5 from Baetis",
      "Chironomus 5 counted 10 from Chironomus",
      "Corydalus 0 not counted 5.5 from Insecta (no animals: found in the search for large and rare ones only)",
      "Hydrachnidia 3 not counted (no tolerance value in test-tolerance)",
      "Hydropsyche 14 counted 4 from Hydropsyche",
    ]);
    expect(lines("tolerance_index_10_max")[1]).toBe(
      "Baetis 18 counted 5 from Baetis (10 of 18 animals enter)",
    );
  });

  it("of a percentage: which condition fails", () => {
    expect(lines("percent_ept_without_hydropsychidae").slice(-2)).toEqual([
      "Hydrachnidia 3 not counted (not within Ephemeroptera, Plecoptera or Trichoptera)",
      "Hydropsyche 14 not counted (within Hydropsychidae, which is left out)",
    ]);
    expect(lines("percent_tolerant", { limit: 7 }).slice(1, 3)).toEqual([
      "Baetis 18 not counted 5 from Baetis (tolerance 5 is not at least 7)",
      "Chironomus 5 counted 10 from Chironomus",
    ]);
    expect(lines("percent_predators").slice(-2)).toEqual([
      "Hydrachnidia 3 counted predator from Hydrachnidia",
      "Hydropsyche 14 not counted collector-filterer from Hydropsyche (feeding group collector-filterer)",
    ]);
    expect(lines("percent_hydropsychidae_of_trichoptera")[1]).toBe(
      "Baetis 18 not counted (outside the whole: not within Trichoptera)",
    );
  });

  it("of dominance, ties by name", () => {
    const sheet: SheetEntry[] = [
      ["Glossosoma", 7],
      ["Simulium", 7],
      ["Baetis", 3],
    ];
    expect(lines("percent_dominant_taxon", {}, sheet)).toEqual([
      "Baetis 3 not counted (not among the most numerous; part of the whole)",
      "Glossosoma 7 counted",
      "Simulium 7 not counted (not among the most numerous; part of the whole)",
    ]);
  });

  it("of a ratio, above and below the line", () => {
    expect(lines("ept_to_chironomidae_ratio").slice(1, 4)).toEqual([
      "Baetis 18 counted (above the line)",
      "Chironomus 5 counted (below the line)",
      "Corydalus 0 not counted (not within Ephemeroptera, Plecoptera or Trichoptera; not within Chironomidae)",
    ]);
  });

  it("of scores, classes and points", () => {
    expect(lines("sum_of_scores", { within: "Chironomidae" })[2]).toBe(
      "Chironomus 5 counted 10 from Chironomus",
    );
    expect(lines("sqmci")[2]).toBe(
      "Chironomus 5 counted 10 from Chironomus (weight 5 by its class of abundance)",
    );
    expect(lines("sqmci")[3]).toBe(
      "Corydalus 0 not counted 5.5 from Insecta (fewer animals than the lowest class of abundance)",
    );
    expect(
      lines("sum_of_abundance_class_scores", { class_starts: [1, 10], scores: { Baetidae: [4, 6] } }).slice(
        0,
        3,
      ),
    ).toEqual([
      "Baetidae 2 not counted (adds no taxon: finer taxa of it are in the sample)",
      "Baetis 18 counted 6",
      "Chironomus 5 not counted (no scores among those of the set)",
    ]);
    expect(lines("becks_index", { class_1_at_most: 4, class_2_at_most: 5 }).slice(1, 3)).toEqual([
      "Baetis 18 counted 5 from Baetis (1 point)",
      "Chironomus 5 not counted 10 from Chironomus (in none of the classes that bring points)",
    ]);
  });

  it("of the likeness to a model and to a reference sample", () => {
    expect(lines("percent_model_affinity").slice(1, 4)).toEqual([
      "Baetis 18 counted Ephemeroptera (40 percent in the model)",
      "Chironomus 5 counted Chironomidae (20 percent in the model)",
      "Corydalus 0 not counted (no animals: found in the search for large and rare ones only)",
    ]);
    const reference = communityOf([
      ["Baetis", 7],
      ["Sweltsa", 2],
    ]);
    const found = lines(
      "community_loss",
      {},
      [
        ["Baetis", 1],
        ["Physa", 2],
      ],
      { reference },
    );
    expect(found).toEqual([
      "Baetis 1 counted (7 in the reference sample)",
      "Physa 2 counted (not in the reference sample)",
      "Sweltsa 0 counted (only in the reference sample, 2 there)",
    ]);
  });

  it("of diversity, of which a parent beside its children is a part", () => {
    expect(lines("shannon_diversity_e").slice(0, 4)).toEqual([
      "Baetidae 2 counted (adds no taxon: finer taxa of it are in the sample)",
      "Baetis 18 counted",
      "Chironomus 5 counted",
      "Corydalus 0 counted (no animals: adds to taxa richness only)",
    ]);
  });

  it("can be added up again to the number itself", () => {
    // Ditch: the sum of count x value over the sum of counts of the counted rows is 418 / 50.
    const entry = findMetric("tolerance_index");
    if (entry === undefined) throw new Error("no metric");
    const rows = ready(entry, {}, attributesOf(SHEET_ATTRIBUTES)).contributions(
      communityOf(DITCH.map(({ taxon, count }): SheetEntry => [taxon, count])),
      {},
    );
    const counted = rows.filter((row) => row.counted);
    expect(counted.reduce((sum, row) => sum + row.count * Number(row.value), 0)).toBe(418);
    expect(counted.reduce((sum, row) => sum + row.count, 0)).toBe(50);
  });
});
