import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { groupedCommunity, groupsAt, maskedCommunity } from "../../src/metrics/grouping.ts";
import { mostNumerous } from "../../src/metrics/measures/dominance.ts";
import { logFactorial } from "../../src/metrics/measures/log-factorial.ts";
import { classOf } from "../../src/metrics/measures/scores.ts";
import { findMetric } from "../../src/metrics/registry.ts";
import { valueAsNumber } from "../../src/model/metric-value.ts";
import { communityOf, ready, type SheetEntry } from "../helpers/metrics/build.ts";
import { REAL_TREE } from "../helpers/metrics/real-tree.ts";

describe("the logarithm of a factorial", () => {
  it("is that of the product for small numbers", () => {
    expect(logFactorial(0)).toBe(0);
    expect(logFactorial(1)).toBe(0);
    expect(logFactorial(5)).toBeCloseTo(Math.log(120), 14);
    expect(logFactorial(20)).toBeCloseTo(Math.log(2_432_902_008_176_640_000), 12);
  });

  it("goes on smoothly where the table ends: ln n! - ln (n - 1)! is ln n", () => {
    for (const n of [255, 256, 257, 258, 300, 1000, 1e5])
      expect(Math.abs(logFactorial(n) - logFactorial(n - 1) - Math.log(n))).toBeLessThan(
        1e-15 * logFactorial(n),
      );
  });

  it("has the value of tables at 1,000: 1000! is 4.0238726007709377e2567", () => {
    expect(logFactorial(1000)).toBeCloseTo(2567 * Math.LN10 + Math.log(4.023872600770938), 9);
  });
});

describe("the most numerous taxa", () => {
  const counts = fc.array(fc.integer({ min: 0, max: 6 }), { maxLength: 14 });

  it("are the first of the taxa sorted by number, equal ones in their order, taxa without animals never", () => {
    fc.assert(
      fc.property(counts, fc.integer({ min: 1, max: 6 }), (numbers, taxa) => {
        const community = {
          taxa: Int32Array.from(numbers.keys()),
          counts: Float64Array.from(numbers),
          richness: new Float64Array(numbers.length).fill(1),
          total: 0,
        };
        const found = new Int32Array(taxa);
        const size = mostNumerous(community, found);
        const expected = [...numbers.keys()]
          .filter((i) => (numbers[i] ?? 0) > 0)
          .sort((a, b) => (numbers[b] ?? 0) - (numbers[a] ?? 0) || a - b)
          .slice(0, taxa);
        expect([...found.slice(0, size)]).toEqual(expected);
      }),
      { seed: 3 },
    );
  });
});

describe("classes of abundance", () => {
  it("begin with their lowest number", () => {
    const starts = [1, 10, 100];
    expect([0, 0.5, 1, 9, 10, 99, 100, 5000].map((count) => classOf(count, starts))).toEqual([
      -1, -1, 0, 0, 1, 1, 2, 2,
    ]);
  });
});

describe("taxa put together at a rank", () => {
  const sheet: SheetEntry[] = [
    ["Acentrella", 1],
    ["Baetidae", 2, 0],
    ["Baetis", 4],
    ["Ephemeroptera", 8, 0],
    ["Physa", 16],
    ["Tanytarsus", 32, 3],
  ];
  const community = communityOf(sheet);
  const named = (grouped: ReturnType<typeof communityOf>) =>
    [...grouped.taxa].map((taxon, i) => [REAL_TREE.nameOf(taxon), grouped.counts[i], grouped.richness[i]]);

  it("add up their animals and are one taxon if any member is", () => {
    const all = new Uint8Array(REAL_TREE.size).fill(1);
    const grouped = groupedCommunity(community, all, groupsAt(REAL_TREE, "family"));
    expect(named(grouped)).toEqual([
      ["Baetidae", 7, 1],
      ["Ephemeroptera", 8, 0],
      ["Physidae", 16, 1],
      ["Chironomidae", 32, 1],
    ]);
    expect(grouped.total).toBe(63);
  });

  it("may be a part of the sample; a part that is the whole is the sample itself", () => {
    const mayflies = new Uint8Array(REAL_TREE.size);
    for (const taxon of community.taxa.slice(0, 4)) mayflies[taxon] = 1;
    expect(named(maskedCommunity(community, mayflies))).toEqual([
      ["Acentrella", 1, 1],
      ["Baetidae", 2, 0],
      ["Baetis", 4, 1],
      ["Ephemeroptera", 8, 0],
    ]);
    expect(maskedCommunity(community, mayflies).total).toBe(15);
    const all = new Uint8Array(REAL_TREE.size).fill(1);
    expect(maskedCommunity(community, all)).toBe(community);
  });

  it("serve dominance, diversity and richness alike", () => {
    const value = (metric: string, settings: object) => {
      const entry = findMetric(metric);
      if (entry === undefined) throw new Error(`no metric ${metric}`);
      return valueAsNumber(ready(entry, { ...settings }).evaluate(community, {}));
    };
    expect(value("taxa_richness", { grouped_at: "family" })).toBe(3);
    expect(value("taxa_richness", { grouped_at: "order", within: "Ephemeroptera" })).toBe(1);
    // Ephemeroptera 15 of 63 animals by order, Diptera 32.
    expect(value("percent_two_dominant_taxa", { grouped_at: "order" })).toBeCloseTo((100 * 48) / 63, 12);
    expect(value("hill_0", { grouped_at: "order" })).toBe(3);
  });
});
