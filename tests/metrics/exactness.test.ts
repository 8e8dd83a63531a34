import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findMetric } from "../../src/metrics/registry.ts";
import type { Community } from "../../src/model/community.ts";
import {
  add,
  compareExact,
  equalExact,
  exactOf,
  fraction,
  parseDecimal,
  roundExact,
} from "../../src/model/exact.ts";
import type { MetricValue } from "../../src/model/metric-value.ts";
import { attributesOf, communityOf, ready, type SheetEntry } from "../helpers/metrics/build.ts";
import { shuffled } from "../helpers/metrics/random-communities.ts";

const ATTRIBUTES = attributesOf({
  tolerance: { Baetis: "3.7", Epeorus: "0.1", Ephemerella: "4.013", Physa: "8.25", Sweltsa: "2" },
});

function prepared(metric: string, settings = {}) {
  const entry = findMetric(metric);
  if (entry === undefined) throw new Error(`no metric ${metric}`);
  return ready(entry, settings, ATTRIBUTES);
}

function exact(value: MetricValue) {
  if (value.kind !== "exact") throw new Error(`not exact: ${JSON.stringify(value)}`);
  return value.value;
}

const TAXA = ["Baetis", "Chironomus", "Epeorus", "Ephemerella", "Physa", "Sweltsa"];
const counts = fc.array(fc.integer({ min: 0, max: 1000 }), { minLength: 6, maxLength: 6 });

function sheet(numbers: readonly number[]): Community {
  return communityOf(TAXA.map((taxon, i): SheetEntry => [taxon, numbers[i] ?? 0]));
}

describe("values that decide something are fractions of whole numbers", () => {
  it("for every metric whose formula is rational", () => {
    const exactIds = [
      ["taxa_richness", {}],
      ["percent_ept", {}],
      ["percent_dominant_taxon", {}],
      ["tolerance_index", {}],
      ["average_score_per_taxon", {}],
      ["ept_to_chironomidae_ratio", {}],
      ["simpson_sum_of_squares", {}],
      ["chao1", {}],
      ["percent_model_affinity", {}],
      ["becks_index_v3", {}],
    ] as const;
    for (const [id, settings] of exactIds)
      expect(prepared(id, settings).evaluate(sheet([3, 1, 4, 1, 5, 9]), {}).kind, id).toBe("exact");
    for (const id of ["shannon_diversity_e", "margalef_richness", "fisher_alpha", "ace"])
      expect(prepared(id).evaluate(sheet([3, 1, 4, 1, 5, 9]), {}).kind, id).toBe("real");
  });

  it("a mean tolerance at its limit is at the limit in every order of rows", () => {
    // 160 x 4.013 + 40 x 4.013 = 802.6 over 200 animals is 4.013 exactly.
    const limit = parseDecimal("4.013") ?? fraction(0);
    const community = communityOf([["Ephemerella", 200]]);
    expect(equalExact(exact(prepared("tolerance_index").evaluate(community, {})), limit)).toBe(true);
    // 3.7 x 10 + 0.1 x 10 + 8.25 x 4 over 24: 71 / 24.
    const mixed = communityOf([
      ["Baetis", 10],
      ["Epeorus", 10],
      ["Physa", 4],
    ]);
    const value = exact(prepared("tolerance_index").evaluate(mixed, {}));
    expect(equalExact(value, fraction(71, 24))).toBe(true);
    expect(
      equalExact(exact(prepared("tolerance_index").evaluate(shuffled(mixed), {})), fraction(71, 24)),
    ).toBe(true);
  });

  it("751 / 200 rounds to 3.76, which floating point would make 3.75 or 3.76 by chance", () => {
    const entry = findMetric("tolerance_index");
    if (entry === undefined) throw new Error("no metric");
    const values = attributesOf({ tolerance: { Baetis: "3", Sweltsa: "4" } });
    // 3 x 49 + 4 x 151 = 751 over 200.
    const community = communityOf([
      ["Baetis", 49],
      ["Sweltsa", 151],
    ]);
    const value = exact(ready(entry, {}, values).evaluate(community, {}));
    expect(equalExact(value, fraction(751, 200))).toBe(true);
    expect(equalExact(roundExact(value, 2), fraction(376, 100))).toBe(true);
  });

  it("stay exact beyond 53 bits", () => {
    const huge = communityOf([
      ["Baetis", 9_000_000_000_000_000],
      ["Physa", 3_000_000_000_000_000],
    ]);
    expect(equalExact(exact(prepared("percent_ept").evaluate(huge, {})), fraction(75))).toBe(true);
    expect(equalExact(exact(prepared("percent_dominant_taxon").evaluate(huge, {})), fraction(75))).toBe(true);
    // (3 x 3.7 + 8.25) / 4 = 19.35 / 4
    expect(equalExact(exact(prepared("tolerance_index").evaluate(huge, {})), fraction(1935, 400))).toBe(true);
    expect(equalExact(exact(prepared("simpson_sum_of_squares").evaluate(huge, {})), fraction(10, 16))).toBe(
      true,
    );
  });

  it("stay exact where a count is within 53 bits and a hundred times it is not, or the part is not", () => {
    const large = communityOf([
      ["Baetis", 3_000_000_000_000_001],
      ["Epeorus", 1_000_000_000_000_000],
      ["Physa", 4_000_000_000_000_001],
    ]);
    const share = (metric: string, settings = {}) => exact(prepared(metric, settings).evaluate(large, {}));
    const percent = { num: 300_000_000_000_000_100n, den: 8_000_000_000_000_002n };
    const dominant = { num: 400_000_000_000_000_100n, den: 8_000_000_000_000_002n };
    expect(equalExact(share("percent_individuals", { within: "Baetidae" }), percent)).toBe(true);
    expect(equalExact(share("percent_dominant_taxon"), dominant)).toBe(true);
    const huge = communityOf([
      ["Baetis", 9_007_199_254_740_991],
      ["Epeorus", 2],
    ]);
    const sum = exact(prepared("individuals").evaluate(huge, {}));
    expect(equalExact(sum, { num: 9_007_199_254_740_993n, den: 1n })).toBe(true);
    const all = exact(prepared("percent_ept").evaluate(huge, {}));
    expect(equalExact(all, fraction(100))).toBe(true);
  });

  it("percentages of parts add up to the percentage of the whole", () => {
    fc.assert(
      fc.property(counts, (numbers) => {
        const community = sheet(numbers);
        if (community.total === 0) return;
        const part = (within: string) =>
          exact(prepared("percent_individuals", { within }).evaluate(community, {}));
        const sum = ["Ephemeroptera", "Plecoptera", "Diptera", "Mollusca"].map(part).reduce(add);
        expect(equalExact(sum, fraction(100))).toBe(true);
      }),
      { numRuns: 60, seed: 1 },
    );
  });

  it("a mean tolerance lies between the lowest and the highest value, an average score too", () => {
    fc.assert(
      fc.property(counts, (numbers) => {
        const community = sheet(numbers);
        for (const id of ["tolerance_index", "tolerance_index_10_max", "average_score_per_taxon"]) {
          const value = prepared(id).evaluate(community, {});
          if (value.kind !== "exact") continue;
          expect(compareExact(value.value, exactOf(0.1))).toBeGreaterThanOrEqual(0);
          expect(compareExact(value.value, exactOf(8.25))).toBeLessThanOrEqual(0);
        }
      }),
      { numRuns: 60, seed: 2 },
    );
  });
});

describe("fractional counts, as parents distributed among their children leave them", () => {
  // Ten animals of a parent shared between 20 and 10 of its children: 6 2/3 and 3 1/3.
  const shared = communityOf([
    ["Baetis", 20 + 20 / 3],
    ["Epeorus", 10 + 10 / 3],
    ["Physa", 40],
  ]);

  it("give a share that is in truth at a limit at the limit", () => {
    // (26 2/3 + 13 1/3) of 80 animals: exactly half.
    expect(equalExact(exact(prepared("percent_ept").evaluate(shared, {})), fraction(50))).toBe(true);
    expect(equalExact(exact(prepared("percent_ept").evaluate(shuffled(shared), {})), fraction(50))).toBe(
      true,
    );
    expect(equalExact(exact(prepared("percent_dominant_taxon").evaluate(shared, {})), fraction(50))).toBe(
      true,
    );
    // 26 2/3 : 13 1/3 is 2 : 1.
    const ratio = prepared("individuals_ratio", {
      above: { within: "Baetis" },
      below: { within: "Epeorus" },
    });
    expect(equalExact(exact(ratio.evaluate(shared, {})), fraction(2))).toBe(true);
  });

  it("give a mean tolerance rounded to nine decimals", () => {
    // (26 2/3 x 3.7 + 13 1/3 x 0.1 + 40 x 8.25) / 80 = 430 / 80 = 5.375
    expect(equalExact(exact(prepared("tolerance_index").evaluate(shared, {})), fraction(5375, 1000))).toBe(
      true,
    );
    // without Physa (26 2/3 x 3.7 + 13 1/3 x 0.1) / 40 = 100 / 40
    const mayflies = prepared("tolerance_index", { within: "Ephemeroptera" });
    expect(equalExact(exact(mayflies.evaluate(shared, {})), fraction(25, 10))).toBe(true);
  });

  it("give no value where whole animals are needed, with the reason", () => {
    const ids = ["brillouin_diversity", "chao1", "chao1_standard_error", "ace"];
    const finite = ["simpson_finite_sum", "simpson_one_minus_finite_sum", "simpson_one_over_finite_sum"];
    for (const id of [...ids, ...finite])
      expect(prepared(id).evaluate(shared, {}), id).toEqual({
        kind: "missing",
        why: "it needs whole numbers of animals, and parents were distributed among their children",
      });
    expect(prepared("expected_richness", { animals: 10 }).evaluate(shared, {}).kind).toBe("missing");
    // Squared shares need no whole animals: (1/3)^2 + (1/6)^2 + (1/2)^2 = 14 / 36, rounded to nine decimals.
    expect(
      equalExact(
        exact(prepared("simpson_sum_of_squares").evaluate(shared, {})),
        roundExact(fraction(14, 36), 9),
      ),
    ).toBe(true);
  });
});
