import { describe, expect, it } from "vitest";
import { findMetric } from "../../src/metrics/registry.ts";
import type { SampleContext } from "../../src/model/community.ts";
import { valueAsNumber } from "../../src/model/metric-value.ts";
import { attributesOf, communityOf, ready, type SheetEntry } from "../helpers/metrics/build.ts";

const ATTRIBUTES = attributesOf({ tolerance: { Baetis: "4", Physa: "8" } });

function evaluate(metric: string, sheet: readonly SheetEntry[], settings = {}, context: SampleContext = {}) {
  const entry = findMetric(metric);
  if (entry === undefined) throw new Error(`no metric ${metric}`);
  return ready(entry, settings, ATTRIBUTES).evaluate(communityOf(sheet), context);
}

function value(metric: string, sheet: readonly SheetEntry[], settings = {}, context: SampleContext = {}) {
  return valueAsNumber(evaluate(metric, sheet, settings, context));
}

/** Where methods differ, the catalogue has one answer each (or a setting), fixed here. */
describe("animals without a tolerance value", () => {
  const sheet: SheetEntry[] = [
    ["Baetis", 3],
    ["Hydrachnidia", 6],
    ["Physa", 1],
  ];

  it("are in neither sum of a mean tolerance", () => {
    expect(value("tolerance_index", sheet)).toBe(5); // (3 x 4 + 1 x 8) / 4
  });

  it("stay in the whole of a percentage", () => {
    expect(value("percent_tolerant", sheet, { limit: 8 })).toBe(10); // 1 of 10
    expect(value("percent_tolerant_taxa", sheet, { limit: 8 })).toBeCloseTo(100 / 3, 12);
  });

  it("may be taken out of the whole by the set", () => {
    expect(value("percent_tolerant", sheet, { limit: 8, of: { has_value: "tolerance" } })).toBe(25);
  });

  it("are not among the scoring taxa", () => {
    expect(value("number_of_scoring_taxa", sheet)).toBe(2);
    expect(value("average_score_per_taxon", sheet)).toBe(6);
  });

  it("alone give no mean tolerance, and 0 scores", () => {
    const mites: SheetEntry[] = [["Hydrachnidia", 6]];
    expect(evaluate("tolerance_index", mites)).toEqual({
      kind: "missing",
      why: "no animal has a tolerance value",
    });
    expect(value("sum_of_scores", mites)).toBe(0);
    expect(evaluate("average_score_per_taxon", mites).kind).toBe("missing");
  });
});

describe("taxa found only in the search for large and rare animals", () => {
  const sheet: SheetEntry[] = [
    ["Baetis", 10],
    ["Corydalus", 0],
  ];

  it("are taxa of richness and nothing of percentages, means, dominance and evenness", () => {
    expect(value("taxa_richness", sheet)).toBe(2);
    expect(value("percent_dominant_taxon", sheet)).toBe(100);
    expect(value("percent_five_dominant_taxa", sheet)).toBe(100);
    expect(value("shannon_diversity_e", sheet)).toBe(0);
    expect(value("hill_0", sheet)).toBe(1);
    expect(evaluate("pielou_evenness", sheet).kind).toBe("missing");
  });

  it("count in the S of Margalef, Menhinick and Fisher, which is taxa richness", () => {
    expect(value("margalef_richness", sheet)).toBeCloseTo(1 / Math.log(10), 12);
    expect(value("menhinick_richness", sheet)).toBeCloseTo(2 / Math.sqrt(10), 12);
  });

  it("alone leave percentages without a value", () => {
    expect(evaluate("percent_ept", [["Corydalus", 0]])).toEqual({
      kind: "missing",
      why: "the sample has no animal",
    });
    expect(value("taxa_richness", [["Corydalus", 0]])).toBe(1);
  });
});

describe("an ambiguous parent beside its child", () => {
  const sheet: SheetEntry[] = [
    ["Baetidae", 6, 0],
    ["Baetis", 4],
    ["Physa", 10],
  ];

  it("adds animals and no taxon", () => {
    expect(value("ept_richness", sheet)).toBe(1);
    expect(value("percent_ept", sheet)).toBe(50);
    expect(value("percent_ept_taxa", sheet)).toBe(50);
  });

  it("is a name of its own in dominance, unless taxa are put together", () => {
    expect(value("percent_dominant_taxon", sheet)).toBe(50);
    expect(value("percent_two_dominant_taxa", sheet)).toBe(80);
    expect(value("percent_two_dominant_taxa", sheet, { grouped_at: "family" })).toBe(100);
  });

  it("is no scoring taxon", () => {
    const scores = attributesOf({ tolerance: { Baetidae: "4", Physa: "8" } });
    const entry = findMetric("number_of_scoring_taxa");
    if (entry === undefined) throw new Error("no metric");
    expect(valueAsNumber(ready(entry, {}, scores).evaluate(communityOf(sheet), {}))).toBe(2);
  });
});

describe("a row that stands for several taxa", () => {
  it("counts them in richness and in points, and once in scores", () => {
    const sheet: SheetEntry[] = [["Baetis", 47, 5]];
    expect(value("taxa_richness", sheet)).toBe(5);
    expect(value("sum_of_scores", sheet)).toBe(4);
    expect(value("becks_index", sheet, { class_1_at_most: 4, class_2_at_most: 5 })).toBe(10);
  });
});

describe("a ratio with nothing below", () => {
  const sheet: SheetEntry[] = [["Baetis", 7]];
  const why = "nothing stands below the line of the ratio: no animals (within Chironomidae)";

  it.each([
    ["missing", undefined],
    ["above-alone", 7],
    ["zero", 0],
  ])("is %s as the set says", (when_none_below, expected) => {
    expect(value("ept_to_chironomidae_ratio", sheet, { when_none_below })).toBe(expected);
  });

  it("is missing when the set says nothing, with the reason", () => {
    expect(evaluate("ept_to_chironomidae_ratio", sheet)).toEqual({ kind: "missing", why });
    expect(value("ept_share_of_ept_and_chironomidae", sheet)).toBe(1);
  });
});

describe("numbers of the whole sample", () => {
  const sheet: SheetEntry[] = [
    ["Baetis", 150],
    ["Physa", 50],
  ];

  it("use the total built stage by stage before the simple fraction", () => {
    // 195 animals in 8 of 30 grids and 12 in 10 of 30 parts of a ninth, of 4 of 30 grids of the first tray, are
    // 5775 stage by stage; the simple fraction would say 5589. Worked by hand.
    const context = { estimatedTotal: 5775, fractionSorted: 207 / 5589, areaSampledM2: 3 };
    expect(value("estimated_total", sheet, {}, context)).toBe(5775);
    expect(value("estimated_total", sheet, { within: "Mollusca" }, context)).toBe(1443.75);
    expect(value("density_per_m2", sheet, {}, context)).toBe(1925);
  });

  it("have no trace of the decimals of a fraction: 200 in 4 of 30 grids are 1500", () => {
    expect(evaluate("estimated_total", sheet, {}, { fractionSorted: 4 / 30 })).toEqual({
      kind: "exact",
      value: { num: 1500, den: 1 },
    });
  });

  it("are missing, not 0, while fraction or area is not known, and 0 when no animal was found", () => {
    expect(evaluate("estimated_total", sheet)).toEqual({
      kind: "missing",
      why: "the fraction of the sample that was sorted is not known",
    });
    expect(evaluate("density_per_m2", sheet, {}, { fractionSorted: 1 })).toEqual({
      kind: "missing",
      why: "the area sampled is not known",
    });
    expect(evaluate("density_per_m2", sheet, {}, { fractionSorted: 1, areaSampledM2: 0 }).kind).toBe(
      "missing",
    );
    expect(value("density_per_m2", [], {}, { fractionSorted: 0.5, areaSampledM2: 1 })).toBe(0);
    expect(value("estimated_total", [], {}, { estimatedTotal: 0 })).toBe(0);
  });
});

describe("a comparison with the reference sample", () => {
  it("has no value while there is none", () => {
    for (const metric of [
      "community_loss",
      "bray_curtis_dissimilarity",
      "jaccard_similarity",
      "percent_similarity",
    ])
      expect(evaluate(metric, [["Baetis", 1]])).toEqual({
        kind: "missing",
        why: "no reference sample is known for this sample",
      });
  });

  it("sees both samples through the same filter and rank", () => {
    const reference = communityOf([
      ["Acentrella", 3],
      ["Physa", 9],
    ]);
    const sheet: SheetEntry[] = [["Baetis", 3]];
    expect(value("jaccard_similarity", sheet, {}, { reference })).toBe(0);
    expect(value("jaccard_similarity", sheet, { grouped_at: "family" }, { reference })).toBe(0.5);
    expect(
      value("bray_curtis_dissimilarity", sheet, { grouped_at: "family", within: "Insecta" }, { reference }),
    ).toBe(0);
  });
});
