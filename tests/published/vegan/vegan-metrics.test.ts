import { readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { findMetric } from "../../../src/metrics/registry.ts";
import type { Community } from "../../../src/model/community.ts";
import { valueAsNumber } from "../../../src/model/metric-value.ts";
import { communityOf, ready, type SheetEntry } from "../../helpers/metrics/build.ts";

function read(file: string): Buffer {
  return readFileSync(new URL(file, import.meta.url));
}

function rowsOf(file: string): Record<string, string>[] {
  return parse(read(file), { columns: true });
}

const SAMPLES = new Map<string, Community>();
{
  const sheets = new Map<string, SheetEntry[]>();
  for (const { sample_id = "", taxon = "", count } of rowsOf("counts.csv")) {
    const sheet = sheets.get(sample_id) ?? [];
    sheet.push([taxon, Number(count)]);
    sheets.set(sample_id, sheet);
  }
  for (const [id, sheet] of sheets) SAMPLES.set(id, communityOf(sheet));
}

const EXPECTED: Record<string, number | string | null>[] = JSON.parse(read("expected.json").toString("utf8"));

function sample(id: string): Community {
  const community = SAMPLES.get(id);
  if (community === undefined) throw new Error(`no sample ${id}`);
  return community;
}

function metricValue(metric: string, community: Community, settings = {}, reference?: Community) {
  const entry = findMetric(metric);
  if (entry === undefined) throw new Error(`no metric ${metric}`);
  return valueAsNumber(ready(entry, settings).evaluate(community, { reference }));
}

/** Our metric for each column of expected.json, and how close it must come (relative, absolute below 1). */
const COLUMNS: readonly (readonly [column: string, metric: string, settings: object, within: number])[] = [
  ["individuals", "individuals", {}, 1e-9],
  ["richness", "taxa_richness", {}, 1e-9],
  ["richness", "hill_0", {}, 1e-9],
  ["shannon_e", "shannon_diversity_e", {}, 1e-9],
  ["shannon_2", "shannon_diversity_2", {}, 1e-9],
  ["shannon_10", "shannon_diversity_10", {}, 1e-9],
  ["simpson_one_minus_d", "simpson_one_minus_sum_of_squares", {}, 1e-9],
  ["simpson_inverse", "simpson_one_over_sum_of_squares", {}, 1e-9],
  ["simpson_unbiased_one_minus_d", "simpson_one_minus_finite_sum", {}, 1e-9],
  ["pielou", "pielou_evenness", {}, 1e-9],
  ["margalef", "margalef_richness", {}, 1e-9],
  ["menhinick", "menhinick_richness", {}, 1e-9],
  ["berger_parker", "berger_parker_dominance", {}, 1e-9],
  ["brillouin", "brillouin_diversity", {}, 1e-9],
  ["fisher_alpha", "fisher_alpha", {}, 1e-4],
  ["chao1", "chao1", {}, 1e-9],
  ["chao1_se", "chao1_standard_error", {}, 1e-9],
  ["ace", "ace", {}, 1e-9],
  ["hill_1", "hill_1", {}, 1e-9],
  ["hill_2", "hill_2", {}, 1e-9],
  ...[10, 50, 100, 200].flatMap((animals) => [
    [`expected_richness_${animals}`, "expected_richness", { animals }, 1e-9] as const,
    [`expected_richness_${animals}_se`, "expected_richness_standard_error", { animals }, 1e-9] as const,
  ]),
];

describe("diversity() and its relatives of vegan 2.6.4, thirty samples", () => {
  it("knows every column of the file", () => {
    const columns = new Set(EXPECTED.flatMap((row) => Object.keys(row)));
    columns.delete("sample_id");
    expect([...columns].sort()).toEqual([...new Set(COLUMNS.map(([column]) => column))].sort());
    expect(EXPECTED).toHaveLength(30);
  });

  it.each(COLUMNS)("%s is %s %o", (column, metric, settings, within) => {
    let compared = 0;
    for (const row of EXPECTED) {
      const expected = row[column];
      if (expected === undefined) continue;
      const value = metricValue(metric, sample(String(row.sample_id)), settings);
      if (expected === null) {
        expect(value).toBe(undefined);
        continue;
      }
      compared++;
      const close = within * Math.max(1, Math.abs(Number(expected)));
      expect(Math.abs((value ?? Number.NaN) - Number(expected)), String(row.sample_id)).toBeLessThanOrEqual(
        close,
      );
    }
    expect(compared).toBeGreaterThanOrEqual(5);
  });
});

describe("vegdist() of vegan 2.6.4, neighbouring samples", () => {
  const pairs = rowsOf("pairs.csv");

  it("has 29 pairs", () => {
    expect(pairs).toHaveLength(29);
  });

  it.each(pairs.map(({ a, b, bray_curtis, jaccard_presence }) => [a, b, bray_curtis, jaccard_presence]))(
    "%s and %s",
    (a = "", b = "", bray = "", jaccard = "") => {
      const found = metricValue("bray_curtis_dissimilarity", sample(a), {}, sample(b)) ?? Number.NaN;
      expect(Math.abs(found - Number(bray))).toBeLessThanOrEqual(1e-9);
      const likeness = metricValue("jaccard_similarity", sample(a), {}, sample(b)) ?? Number.NaN;
      expect(Math.abs(1 - likeness - Number(jaccard))).toBeLessThanOrEqual(1e-9);
    },
  );
});
