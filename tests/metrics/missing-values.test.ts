import { describe, expect, it } from "vitest";
import { findMetric, METRICS } from "../../src/metrics/registry.ts";
import type { SampleContext } from "../../src/model/community.ts";
import type { MetricValue } from "../../src/model/metric-value.ts";
import { valueAsNumber } from "../../src/model/metric-value.ts";
import { attributesOf, communityOf, EMPTY, ready, type SheetEntry } from "../helpers/metrics/build.ts";
import { ORACLE_SETTINGS } from "../helpers/metrics/oracle.ts";
import { VALUES } from "../helpers/metrics/oracle-taxa.ts";

const ATTRIBUTES = attributesOf(VALUES);

function evaluate(
  metric: string,
  settings: Record<string, unknown>,
  sheet: readonly SheetEntry[],
  context: SampleContext = {},
): MetricValue {
  const entry = findMetric(metric);
  if (entry === undefined) throw new Error(`no metric ${metric}`);
  return ready(entry, settings, ATTRIBUTES).evaluate(communityOf(sheet), context);
}

function whyOf(value: MetricValue): string | number | undefined {
  return value.kind === "missing" ? value.why : valueAsNumber(value);
}

describe("a value that cannot be worked out says why", () => {
  it("of a sample without animals for every metric that has no value there", () => {
    const context = { reference: communityOf([["Baetis", 1]]), fractionSorted: 0.5, areaSampledM2: 1 };
    for (const entry of METRICS) {
      if (entry.whenEmpty === "zero") continue;
      const value = ready(entry, ORACLE_SETTINGS[entry.id] ?? {}, ATTRIBUTES).evaluate(EMPTY, context);
      expect(whyOf(value), entry.id).toMatch(
        /^(the sample has no (animal|taxon)( \(.+\))?|no animal has a tolerance value|no taxon of the sample has a score|nothing stands below the line of the ratio: no (animals|taxa) \(.+\))$/,
      );
    }
  });

  const one: SheetEntry[] = [["Baetis", 1]];
  const alike: SheetEntry[] = [["Baetis", 4]];
  const each: SheetEntry[] = [
    ["Baetis", 1],
    ["Physa", 1],
  ];
  const parentOnly: SheetEntry[] = [["Baetidae", 3, 0]];

  it.each<[string, SheetEntry[], string]>([
    ["pielou_evenness", alike, "evenness needs two taxa"],
    ["mcintosh_evenness", alike, "evenness needs two taxa"],
    ["mcintosh_diversity", one, "it needs two animals"],
    ["margalef_richness", one, "it needs two animals"],
    ["fisher_alpha", each, "every animal is a taxon of its own"],
    ["fisher_alpha", parentOnly, "the sample has no taxon"],
    ["ace", each, "every rare taxon has one animal, so its coverage is nil"],
    ["simpson_finite_sum", one, "it needs two animals"],
    ["simpson_one_over_finite_sum", each, "no two animals are of one taxon"],
    ["percent_ept_taxa", parentOnly, "the sample has no taxon"],
  ])("of %s", (metric, sheet, why) => {
    expect(whyOf(evaluate(metric, {}, sheet))).toBe(why);
  });

  it("naming the taxa that were looked at", () => {
    expect(whyOf(evaluate("percent_dominant_taxon", { within: "Mollusca" }, alike))).toBe(
      "the sample has no animal (within Mollusca)",
    );
    expect(whyOf(evaluate("percent_dominant_taxon", {}, []))).toBe("the sample has no animal");
    expect(whyOf(evaluate("percent_individuals", { of: { within: "Mollusca" } }, alike))).toBe(
      "the sample has no animal (within Mollusca)",
    );
    expect(whyOf(evaluate("percent_taxa", { of: { within: "Mollusca" } }, alike))).toBe(
      "the sample has no taxon (within Mollusca)",
    );
    expect(whyOf(evaluate("ept_to_chironomidae_ratio", { when_none_below: "missing" }, alike))).toBe(
      "nothing stands below the line of the ratio: no animals (within Chironomidae)",
    );
  });

  it("of a comparison with a reference sample", () => {
    const against = (
      metric: string,
      sheet: readonly SheetEntry[],
      reference: readonly SheetEntry[] | undefined,
    ) =>
      whyOf(
        evaluate(metric, {}, sheet, {
          reference: reference === undefined ? undefined : communityOf(reference),
        }),
      );
    for (const metric of ["jaccard_similarity", "sorensen_similarity", "community_loss"]) {
      expect(against(metric, alike, undefined)).toBe("no reference sample is known for this sample");
      expect(against(metric, alike, parentOnly)).toBe("the reference sample has no taxon");
      expect(against(metric, parentOnly, alike)).toBe("the sample has no taxon");
    }
    for (const metric of ["bray_curtis_dissimilarity", "percent_similarity"]) {
      expect(against(metric, alike, [["Baetis", 0]])).toBe("the reference sample has no animal");
      expect(against(metric, [["Baetis", 0]], alike)).toBe("the sample has no animal");
    }
  });

  it("of an abundance whose fraction sorted or area is unknown or impossible", () => {
    const known = { fractionSorted: 0.5, areaSampledM2: 2 };
    const per = (context: SampleContext) => whyOf(evaluate("density_per_m2", {}, alike, context));
    expect(per(known)).toBe(4);
    expect(per({ fractionSorted: 0.5 })).toBe("the area sampled is not known");
    expect(per({ ...known, areaSampledM2: 0 })).toBe("the area sampled is not known");
    expect(per({ ...known, areaSampledM2: -1 })).toBe("the area sampled is not known");
    for (const fractionSorted of [undefined, 0, -0.5])
      expect(per({ ...known, fractionSorted })).toBe(
        "the fraction of the sample that was sorted is not known",
      );
  });

  it("where counts are fractional and no animal has a value", () => {
    // A parent's ten animals shared between two children that have no tolerance value.
    const shared: SheetEntry[] = [
      ["Limnephilidae", 1 + 10 / 3],
      ["Sialis", 2 + 20 / 3],
    ];
    expect(whyOf(evaluate("tolerance_index", {}, shared))).toBe("no animal has a tolerance value");
  });
});

describe("a ratio with nothing below its line", () => {
  const sheet: SheetEntry[] = [["Simulium", 4, 3]];
  const settings = { above: { within: "Diptera" }, below: { within: "Mollusca" } };

  it.each([
    ["individuals_ratio", "above-alone", 4],
    ["individuals_ratio", "zero", 0],
    ["taxa_ratio", "above-alone", 3],
    ["taxa_ratio", "zero", 0],
  ])("of %s is %s when the set says so", (metric, whenNone, expected) => {
    expect(whyOf(evaluate(metric, { ...settings, when_none_below: whenNone }, sheet))).toBe(expected);
  });

  it.each([
    ["individuals_ratio", "nothing stands below the line of the ratio: no animals (within Mollusca)"],
    ["taxa_ratio", "nothing stands below the line of the ratio: no taxa (within Mollusca)"],
  ])("of %s is missing otherwise", (metric, why) => {
    expect(whyOf(evaluate(metric, { ...settings, when_none_below: "missing" }, sheet))).toBe(why);
  });
});
