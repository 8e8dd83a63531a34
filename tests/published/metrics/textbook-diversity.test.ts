import { describe, expect, it } from "vitest";
import { findMetric } from "../../../src/metrics/registry.ts";
import type { SampleContext } from "../../../src/model/community.ts";
import { valueAsNumber } from "../../../src/model/metric-value.ts";
import { communityOf, ready, type SheetEntry } from "../../helpers/metrics/build.ts";

const TAXA = ["Baetis", "Caenis", "Epeorus", "Physa", "Sialis"];

function valueOfCounts(metric: string, counts: readonly number[], context: SampleContext = {}): number {
  const entry = findMetric(metric);
  if (entry === undefined) throw new Error(`no metric ${metric}`);
  const community = communityOf(counts.map((count, i): SheetEntry => [TAXA[i] ?? "", count]));
  return valueAsNumber(ready(entry).evaluate(community, context)) ?? Number.NaN;
}

describe("worked examples of textbooks and courses", () => {
  it("Shannon and evenness of five species", () => {
    // https://www.easycalculation.com/statistics/learn-shannon-wiener-diversity.php prints H 1.07 and evenness
    // 0.66: each p ln p was rounded to two decimals before the sum, unrounded H is 1.0581.
    const counts = [60, 10, 25, 1, 4];
    expect(valueOfCounts("shannon_diversity_e", counts)).toBeCloseTo(1.0581, 4);
    expect(Math.abs(valueOfCounts("shannon_diversity_e", counts) - 1.07)).toBeLessThan(0.015);
    expect(valueOfCounts("pielou_evenness", counts)).toBeCloseTo(0.66, 2);
  });

  it("Simpson's sum of squares of three species", () => {
    // Exercise set with 6, 12 and 42 animals: D = 0.54,
    // https://app.formative.com/library/5f90a49f906f07e4305911f9/616dc7faa28f1c875a04dd5d
    expect(valueOfCounts("simpson_sum_of_squares", [6, 12, 42])).toBe(0.54);
  });

  it("Simpson's 1 - D without replacement", () => {
    // Sum n(n - 1) = 4586 and N(N - 1) = 11130 give 0.588,
    // https://qcebiologyrevision.com/year12/unit3topic1/biodiversity/simpsons-diversity-index/6
    // The counts behind the sums are not printed there; these four have the same sums.
    const counts = [49, 47, 9, 1];
    expect(counts.reduce((sum, n) => sum + n * (n - 1), 0)).toBe(4586);
    expect(valueOfCounts("simpson_one_minus_finite_sum", counts)).toBeCloseTo(0.588, 3);
  });

  it("evenness of three species from H = 0.707", () => {
    // https://assignmentexpert.com/homework-answers/biology/ecology/question-189201 : 0.707 / ln 3 = 0.64.
    // Counts of ours with nearly that H.
    expect(valueOfCounts("shannon_diversity_e", [72, 24, 4])).toBeCloseTo(0.708, 3);
    expect(valueOfCounts("pielou_evenness", [72, 24, 4])).toBeCloseTo(0.64, 2);
  });

  it.each([
    [[5, 5, 5, 5], 0.602, 1],
    [[1, 1, 1, 17], 0.255, 0.42],
  ])("Zar's nesting sites of sparrows %j", (counts, shannon, evenness) => {
    // Zar, J.H., Biostatistical Analysis, indices of diversity for nominal data; from memory.
    expect(valueOfCounts("shannon_diversity_10", counts)).toBeCloseTo(shannon, 3);
    expect(valueOfCounts("pielou_evenness", counts)).toBeCloseTo(evenness, 2);
  });

  it("animals of the whole sample from a quarter of it", () => {
    // 300 picked from a quarter are 1200: "Calculation of Metrics" hand-out, University of Vermont EPSCoR streams
    // project, item 1, https://online.documentine.com/immature-to-total-ratio-calculator/2/calculation-of-metrics-apps-epscor-w3-uvm-edu.html
    expect(valueOfCounts("estimated_total", [200, 100], { fractionSorted: 0.25 })).toBe(1200);
  });

  it("richness of two replicates and their mean, not the richness of both together", () => {
    // Same hand-out, item 2: young animals of a genus add no taxon beside its species; 1 and 2, mean
    // 1.5. The hand-out has Ephemerella and two of its species in the place of Baetis.
    const richness = (sheet: readonly SheetEntry[]) => {
      const entry = findMetric("taxa_richness");
      if (entry === undefined) throw new Error("no metric");
      return valueAsNumber(ready(entry).evaluate(communityOf(sheet), {})) ?? Number.NaN;
    };
    const first = richness([
      ["Baetis", 2, 0],
      ["Baetis tricaudatus", 3],
    ]);
    const second = richness([
      ["Baetis tricaudatus", 4],
      ["Baetis flavistriga", 2],
    ]);
    expect([first, second, (first + second) / 2]).toEqual([1, 2, 1.5]);
  });
});
