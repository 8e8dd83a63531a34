import { describe, expect, it } from "vitest";
import type { MetricEntry, MetricExample } from "../../../src/metrics/define.ts";
import { METRICS } from "../../../src/metrics/registry.ts";
import { exactOf, fraction } from "../../../src/model/exact.ts";
import { exactValue, missingValue, realValue } from "../../../src/model/metric-value.ts";
import type { ArithmeticPart } from "../../../src/pipeline/explain/arithmetic.ts";
import { arithmeticOf } from "../../../src/pipeline/explain/arithmetic.ts";
import { exampleOf } from "../../helpers/metrics/build.ts";

const part = (count: number, more: Partial<ArithmeticPart> = {}): ArithmeticPart => ({
  count,
  richness: 1,
  counted: true,
  value: "",
  why: "",
  ...more,
});
const formulaOf = (id: string) => METRICS.find((metric) => metric.id === id)?.formula ?? "";

describe("the line of arithmetic", () => {
  it("adds up taxa, alike ones together", () => {
    const parts = [
      part(3),
      part(4),
      part(0),
      part(9, { counted: false, richness: 0 }),
      part(5, { richness: 2 }),
    ];
    const line = arithmeticOf(formulaOf("taxa_richness"), exactValue(exactOf(5)), parts, {});
    expect(line).toBe("3 x 1 + 2 = 5");
  });

  it("divides animals by all animals", () => {
    const parts = [part(19), part(66, { counted: false })];
    const line = arithmeticOf(formulaOf("percent_dominant_taxon"), exactValue(fraction(1900, 85)), parts, {});
    expect(line).toBe("100 x 19 / 85 = 22.3529411765");
  });

  it("leaves what is outside the whole out of the whole", () => {
    const parts = [
      part(3),
      part(7, { counted: false }),
      part(90, { counted: false, why: "outside the whole: x" }),
    ];
    const line = arithmeticOf("100 x animals that pass / caddisflies", exactValue(exactOf(30)), parts, {});
    expect(line).toBe("100 x 3 / 10 = 30");
  });

  it("weights values by animals, and by those that enter", () => {
    const parts = [
      part(18, { value: "5" }),
      part(4, { value: "2.5" }),
      part(30, { counted: false, why: "no tolerance value" }),
    ];
    const mean = arithmeticOf(formulaOf("tolerance_index"), exactValue(fraction(100, 22)), parts, {});
    expect(mean).toBe("100 / 22 = 4.54545454545");
    const most = [part(18, { value: "5", why: "10 of 18 animals enter" }), part(4, { value: "2.5" })];
    const tenMax = arithmeticOf(formulaOf("tolerance_index_10_max"), exactValue(fraction(60, 14)), most, {});
    expect(tenMax).toBe("60 / 14 = 4.28571428571");
  });

  it("puts the animals above the line over those below", () => {
    const parts = [part(12, { why: "above the line" }), part(8, { why: "below the line" })];
    const line = arithmeticOf(formulaOf("ept_to_chironomidae_ratio"), exactValue(fraction(12, 8)), parts, {});
    expect(line).toBe("12 / 8 = 1.5");
  });

  it("expands to the whole sample and to a square metre", () => {
    const parts = [part(300)];
    const context = { fractionSorted: 0.25, areaSampledM2: 0.5 };
    const total = arithmeticOf(formulaOf("estimated_total"), exactValue(exactOf(1200)), parts, context);
    expect(total).toBe("300 / 0.25 = 1200");
    const density = arithmeticOf(formulaOf("density_per_m2"), exactValue(exactOf(2400)), parts, context);
    expect(density).toBe("300 / 0.25 / 0.5 = 2400");
  });

  it("says nothing rather than something that does not come to the value", () => {
    const parts = [part(3), part(4)];
    expect(arithmeticOf(formulaOf("taxa_richness"), exactValue(exactOf(3)), parts, {})).toBeUndefined();
    expect(arithmeticOf(formulaOf("shannon_diversity_e"), realValue(1.5), parts, {})).toBeUndefined();
    expect(arithmeticOf(formulaOf("fisher_alpha"), realValue(1.5), parts, {})).toBeUndefined();
    expect(arithmeticOf(formulaOf("tolerance_index"), missingValue("none"), parts, {})).toBeUndefined();
    expect(arithmeticOf("a formula nobody knows", exactValue(exactOf(2)), parts, {})).toBeUndefined();
  });
});

/** The parts of a worked example, as explain takes them from the metric. */
function lineOf(entry: MetricEntry, example: MetricExample): string | undefined {
  const { metric, community, context } = exampleOf(entry, example);
  const raw = metric.evaluate(community, context);
  const richness = new Map([...community.taxa].map((taxon, at) => [taxon, community.richness[at] ?? 0]));
  const parts = metric.contributions(community, context).map((one) => ({
    ...one,
    richness: richness.get(one.taxon) ?? 0,
    value: one.value ?? "",
    why: one.why ?? "",
  }));
  return arithmeticOf(entry.formula, raw, parts, context);
}

describe("the worked examples of the catalogue", () => {
  const exact = METRICS.flatMap((entry) =>
    entry.examples.map((example, at) => [`${entry.id} ${at + 1}`, entry, example] as const),
  );

  it.each(exact)("%s: a line, where there is one, ends with the value", (_, entry, example) => {
    const line = lineOf(entry, example);
    if (line === undefined) return;
    expect(Number(line.split(" = ").at(-1))).toBeCloseTo(example.value ?? Number.NaN, 9);
  });

  it("have lines for all metrics but those that take more than one", () => {
    const without = METRICS.filter((entry) =>
      entry.examples.every((example) => lineOf(entry, example) === undefined),
    ).map((entry) => entry.id);
    // Series, solutions by trial and comparisons with a second list: a page each.
    expect(without).toEqual([
      "brillouin_diversity",
      "mcintosh_diversity",
      "mcintosh_evenness",
      "fisher_alpha",
      "expected_richness",
      "expected_richness_standard_error",
      "chao1",
      "chao1_standard_error",
      "ace",
      "percent_similarity",
      "bray_curtis_dissimilarity",
      "jaccard_similarity",
      "sorensen_similarity",
      "community_loss",
    ]);
  });
});
