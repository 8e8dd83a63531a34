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

describe("what made a number, where taxa are chosen and put together", () => {
  const GROUPED: SheetEntry[] = [
    ["Acentrella", 4],
    ["Baetidae", 1, 0],
    ["Baetis", 3],
    ["Corydalus", 0],
    ["Glossosoma", 5],
    ["Physa", 2],
  ];

  it("of dominance by families: the group that an animal is in", () => {
    expect(lines("percent_dominant_taxon", { within: "Insecta", grouped_at: "family" }, GROUPED)).toEqual([
      "Acentrella 4 counted (in Baetidae)",
      "Baetidae 1 counted",
      "Baetis 3 counted (in Baetidae)",
      "Corydalus 0 not counted (no animals: found in the search for large and rare ones only)",
      "Glossosoma 5 not counted (in Glossosomatidae, not among the most numerous; part of the whole)",
      "Physa 2 not counted (not within Insecta)",
    ]);
    expect(lines("percent_two_dominant_taxa", { has_value: "tolerance" }, GROUPED).slice(1)).toEqual([
      "Baetidae 1 not counted 5.5 from Insecta (not among the 2 most numerous; part of the whole)",
      "Baetis 3 not counted 5 from Baetis (not among the 2 most numerous; part of the whole)",
      "Corydalus 0 not counted 5.5 from Insecta (no animals: found in the search for large and rare ones only)",
      "Glossosoma 5 counted 0 from Glossosoma",
      "Physa 2 not counted 8 from Physa (not among the 2 most numerous; part of the whole)",
    ]);
  });

  it("of diversity by families, with everything that is special about an entry", () => {
    expect(
      lines("shannon_diversity_e", { except: "Mollusca", grouped_at: "family" }, [
        ...GROUPED,
        ["Sialis", 0, 0],
        ["Trichoptera", 2, 0],
      ]),
    ).toEqual([
      "Acentrella 4 counted (in Baetidae)",
      "Baetidae 1 counted (adds no taxon: finer taxa of it are in the sample)",
      "Baetis 3 counted (in Baetidae)",
      "Corydalus 0 counted (in Corydalidae; no animals: adds to taxa richness only)",
      "Glossosoma 5 counted (in Glossosomatidae)",
      "Physa 2 not counted (within Mollusca, which is left out)",
      "Sialis 0 not counted (neither animals nor a taxon)",
      "Trichoptera 2 counted (adds no taxon: finer taxa of it are in the sample)",
    ]);
    expect(lines("shannon_diversity_e", { tolerance_at_least: 5 }, GROUPED)[2]).toBe(
      "Baetis 3 counted 5 from Baetis",
    );
  });

  it("of richness by families: a taxon identified to family stands for itself", () => {
    expect(
      lines("taxa_richness", { grouped_at: "family", tolerance_at_most: 6 }, [
        ["Baetidae", 1],
        ["Glossosoma", 5],
      ]),
    ).toEqual([
      "Baetidae 1 counted 5.5 from Insecta",
      "Glossosoma 5 counted 0 from Glossosoma (stands for Glossosomatidae)",
    ]);
  });

  it("of an abundance and of the share of taxa", () => {
    expect(lines("individuals", { tolerance_above: 5 }, GROUPED).slice(1, 4)).toEqual([
      "Baetidae 1 counted 5.5 from Insecta",
      "Baetis 3 not counted 5 from Baetis (tolerance 5 is not above 5)",
      "Corydalus 0 not counted 5.5 from Insecta (no animals: found in the search for large and rare ones only)",
    ]);
    expect(lines("individuals", {}, GROUPED)[0]).toBe("Acentrella 4 counted");
    expect(lines("percent_taxa", { within: "Ephemeroptera", of: { within: "Insecta" } }, GROUPED)).toEqual([
      "Acentrella 4 counted",
      "Baetidae 1 not counted (adds no taxon: finer taxa of it are in the sample)",
      "Baetis 3 counted",
      "Corydalus 0 not counted (not within Ephemeroptera)",
      "Glossosoma 5 not counted (not within Ephemeroptera)",
      "Physa 2 not counted (outside the whole: not within Insecta)",
    ]);
    expect(lines("percent_tolerant_taxa", { limit: 8 }, GROUPED).slice(-2)).toEqual([
      "Glossosoma 5 not counted 0 from Glossosoma (tolerance 0 is not at least 8)",
      "Physa 2 counted 8 from Physa",
    ]);
  });

  it("of ratios: both sides, no animals, and numbers of taxa", () => {
    const settings = { above: { within: "Insecta" }, below: { tolerance_at_least: 5 } };
    expect(lines("individuals_ratio", settings, GROUPED)).toEqual([
      "Acentrella 4 counted 5.5 from Insecta (above and below the line)",
      "Baetidae 1 counted 5.5 from Insecta (above and below the line)",
      "Baetis 3 counted 5 from Baetis (above and below the line)",
      "Corydalus 0 not counted 5.5 from Insecta (above and below the line, adds nothing)",
      "Glossosoma 5 counted 0 from Glossosoma (above the line)",
      "Physa 2 counted 8 from Physa (below the line)",
    ]);
    expect(lines("taxa_ratio", settings, GROUPED).slice(1, 4)).toEqual([
      "Baetidae 1 not counted 5.5 from Insecta (above and below the line, adds nothing)",
      "Baetis 3 counted 5 from Baetis (above and below the line)",
      "Corydalus 0 counted 5.5 from Insecta (above and below the line)",
    ]);
  });

  it("of scores: what has none, what is chosen, what has too few animals", () => {
    expect(lines("sum_of_scores", { within: ["Ephemeroptera", "Hydrachnidia"] })).toEqual([
      "Baetidae 2 not counted 5.5 from Insecta (adds no taxon: finer taxa of it are in the sample)",
      "Baetis 18 counted 5 from Baetis",
      "Chironomus 5 not counted 10 from Chironomus (not within Ephemeroptera or Hydrachnidia)",
      "Corydalus 0 not counted 5.5 from Insecta (not within Ephemeroptera or Hydrachnidia)",
      "Hydrachnidia 3 not counted (no score in test-tolerance)",
      "Hydropsyche 14 not counted 4 from Hydropsyche (not within Ephemeroptera or Hydrachnidia)",
    ]);
    expect(lines("sqmci")[4]).toBe("Hydrachnidia 3 not counted (no score in test-tolerance)");
    expect(
      lines("sum_of_abundance_class_scores", {
        class_starts: [1, 10],
        scores: { Corydalus: [4, 6], Baetidae: [1, 2], Baetis: [3, 7.5] },
      }).slice(1, 4),
    ).toEqual([
      "Baetis 18 counted 7.5",
      "Chironomus 5 not counted (no scores among those of the set)",
      "Corydalus 0 not counted (fewer animals than the lowest class of abundance)",
    ]);
  });

  it("of points: how many, and how often", () => {
    const classes = [
      { points: 1, within: "Ephemeroptera" },
      { points: 2.5, within: "Mollusca" },
    ];
    const sheet: SheetEntry[] = [
      ["Baetidae", 2, 0],
      ["Ephemerellidae", 9, 3],
      ["Physa", 1],
    ];
    expect(lines("taxa_points", { classes }, sheet)).toEqual([
      "Baetidae 2 not counted (adds no taxon: finer taxa of it are in the sample)",
      "Ephemerellidae 9 counted (3 x 1 point)",
      "Physa 1 counted (2.5 points)",
    ]);
    expect(lines("taxa_points", { classes, each: "row" }, sheet)[1]).toBe(
      "Ephemerellidae 9 counted (1 point)",
    );
    expect(lines("becks_index", { class_1_at_most: 4, class_2_at_most: 5 }, [["Glossosoma", 1]])).toEqual([
      "Glossosoma 1 counted 0 from Glossosoma (2 points)",
    ]);
  });

  it("of a mean of which ten animals of a taxon enter: ten are all of ten", () => {
    expect(lines("tolerance_index_10_max", {}, [["Baetis", 10]])).toEqual([
      "Baetis 10 counted 5 from Baetis",
    ]);
  });

  it("of the likeness to a model: what is in none of its groups", () => {
    expect(lines("percent_model_affinity", {}, [["Physa", 1]])[0]).toMatch(
      /^Physa 1 counted other \(\d+ percent in the model\)$/,
    );
  });

  it("of the likeness to a reference sample by families, or to none", () => {
    const sheet: SheetEntry[] = [
      ["Acentrella", 4],
      ["Physa", 2],
    ];
    const reference = communityOf([
      ["Baetis", 7],
      ["Baetidae", 1, 0],
      ["Physella", 3],
    ]);
    const settings = { within: "Insecta", grouped_at: "family" };
    expect(lines("jaccard_similarity", settings, sheet, { reference })).toEqual([
      "Acentrella 4 counted (Baetidae: 8 in the reference sample)",
      "Physa 2 not counted (not within Insecta)",
    ]);
    expect(lines("jaccard_similarity", settings, sheet)).toEqual([
      "Acentrella 4 counted (Baetidae: not in the reference sample)",
      "Physa 2 not counted (not within Insecta)",
    ]);
  });

  it("of any of several conditions: the first that fails of each, once", () => {
    const any_of = [
      { within: "Diptera", tolerance_below: 6 },
      { within: "Diptera", habit: "clinger" },
    ];
    expect(
      lines("individuals", { any_of }, [
        ["Chironomus", 5],
        ["Physa", 2],
      ]),
    ).toEqual([
      "Chironomus 5 not counted 10 from Chironomus (tolerance 10 is not below 6; habit burrower)",
      "Physa 2 not counted 8 from Physa (not within Diptera)",
    ]);
  });

  it("of every other condition", () => {
    const why = (settings: object) => lines("taxa_richness", settings, [["Baetidae", 2]])[0];
    expect(why({ identified_to: "genus" })).toBe("Baetidae 2 not counted (identified to family only)");
    expect(why({ has_value: "feeding_group" })).toBe(
      "Baetidae 2 not counted (no feeding group value in test-feeding_group)",
    );
    expect(why({ feeding_group: "scraper" })).toBe(
      "Baetidae 2 not counted (no feeding group in test-feeding_group)",
    );
    expect(lines("taxa_richness", { tolerance_at_most: 4 }, [["Hydrachnidia", 2]])[0]).toBe(
      "Hydrachnidia 2 not counted (no tolerance value in test-tolerance)",
    );
  });
});
