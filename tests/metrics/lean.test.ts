import { describe, expect, it } from "vitest";
import type { LeanForm, WhenNoneBelow } from "../../src/metrics/lean.ts";
import { findMetric, METRICS } from "../../src/metrics/registry.ts";
import type { Community } from "../../src/model/community.ts";
import { valueAsNumber } from "../../src/model/metric-value.ts";
import { attributesOf, communityOf, EMPTY, ready } from "../helpers/metrics/build.ts";
import { ORACLE_SETTINGS } from "../helpers/metrics/oracle.ts";
import { VALUES } from "../helpers/metrics/oracle-taxa.ts";
import { randomCommunities } from "../helpers/metrics/random-communities.ts";

interface Row {
  readonly taxon: number;
  readonly count: number;
  readonly richness: number;
}

function rowsOf(community: Community): Row[] {
  return [...community.taxa].map((taxon, i) => ({
    taxon,
    count: community.counts[i] ?? 0,
    richness: community.richness[i] ?? 0,
  }));
}

function sum<T>(list: readonly T[], of: (one: T) => number): number {
  return list.reduce((all, one) => all + of(one), 0);
}

function quotient(above: number, below: number, whenNone: WhenNoneBelow): number | undefined {
  if (below !== 0) return above / below;
  switch (whenNone) {
    case "missing":
      return undefined;
    case "zero":
      return 0;
    case "above-alone":
      return above;
    default:
      throw new Error(`not a way to deal with nothing below: ${whenNone}`);
  }
}

/** Animals of the groups of a mask, or of its taxa where none are put together. */
function piles(rows: readonly Row[], mask: Uint8Array, groups: Int32Array | undefined): number[] {
  const animals = new Map<number, number>();
  for (const { taxon, count } of rows) {
    if (mask[taxon] !== 1) continue;
    const group = groups === undefined ? taxon : (groups[taxon] ?? -1);
    animals.set(group, (animals.get(group) ?? 0) + count);
  }
  return [...animals.values()].filter((count) => count > 0);
}

/** A lean form worked out by its words, in the plainest way. */
function worked(form: LeanForm, rows: readonly Row[]): number | undefined {
  switch (form.kind) {
    case "animals": {
      const entering = ({ count }: Row) => Math.min(count, form.most);
      const above = sum(rows, (row) => entering(row) * (form.above[row.taxon] ?? 0));
      const below = sum(rows, (row) => entering(row) * (form.below?.[row.taxon] ?? 1));
      return quotient(above * form.aboveTimes, below * form.belowTimes, form.whenNoneBelow);
    }
    case "taxa": {
      const counted = rows.filter(({ taxon, richness }) => form.mask[taxon] === 1 && richness > 0);
      const { groups } = form;
      if (groups === undefined) return sum(counted, ({ richness }) => richness);
      return new Set(counted.map(({ taxon }) => groups[taxon])).size;
    }
    case "taxa-quotient": {
      const above = sum(rows, ({ taxon, richness }) => richness * (form.above[taxon] ?? 0));
      const below = sum(rows, ({ taxon, richness }) => richness * (form.below?.[taxon] ?? 1));
      return quotient(form.times * above, below, form.whenNoneBelow);
    }
    case "taxa-sum": {
      const counted = rows.filter(
        ({ taxon, richness }) => richness > 0 && !Number.isNaN(form.weights[taxon] ?? Number.NaN),
      );
      const times = ({ richness }: Row) =>
        ({ taxon: richness, row: Math.min(1, richness), presence: 1 })[form.each];
      const all = sum(counted, (row) => (times(row) * (form.weights[row.taxon] ?? 0)) / form.scale);
      const number = sum(counted, times);
      if (form.result === "number") return number;
      return form.result === "sum" ? all : quotient(all * form.times, number, "missing");
    }
    case "dominants": {
      const sizes = piles(rows, form.mask, form.groups).sort((a, b) => b - a);
      const dominant = sum(sizes.slice(0, form.taxaTogether), (count) => count);
      const all = sum(sizes, (count) => count);
      return quotient(form.times * dominant, all, "missing");
    }
    case "shannon": {
      const sizes = piles(rows, form.mask, form.groups);
      const all = sum(sizes, (count) => count);
      if (all === 0) return undefined;
      return -sum(sizes, (count) => (count / all) * Math.log(count / all)) / Math.log(form.base);
    }
  }
}

const ATTRIBUTES = attributesOf(VALUES);
const SAMPLES = [EMPTY, communityOf([["Corydalus", 0]]), ...randomCommunities(150, "lean forms")];

function agrees(metric: string, settings: Readonly<Record<string, unknown>>): void {
  const entry = findMetric(metric);
  if (entry === undefined) throw new Error(`no metric ${metric}`);
  const prepared = ready(entry, settings, ATTRIBUTES);
  const { lean } = prepared;
  if (lean === undefined) throw new Error(`${metric} has no lean form`);
  for (const community of SAMPLES) {
    const value = valueAsNumber(prepared.evaluate(community, {}));
    const found = worked(lean, rowsOf(community));
    if (value === undefined) expect(found).toBe(undefined);
    else
      expect(Math.abs((found ?? Number.NaN) - value)).toBeLessThanOrEqual(
        1e-9 * Math.max(1, Math.abs(value)),
      );
  }
}

/** Metrics whose value hangs on more than such sums. */
const WITHOUT: ReadonlySet<string> = new Set([
  "weighted_average_score",
  "signal_weighted",
  "sqmci",
  "sum_of_abundance_class_scores",
  "average_abundance_class_score",
  "pielou_evenness",
  "brillouin_diversity",
  "mcintosh_diversity",
  "mcintosh_evenness",
  "margalef_richness",
  "menhinick_richness",
  "fisher_alpha",
  "simpson_sum_of_squares",
  "simpson_finite_sum",
  "simpson_one_minus_sum_of_squares",
  "simpson_one_minus_finite_sum",
  "simpson_one_over_sum_of_squares",
  "simpson_one_over_finite_sum",
  "hill_0",
  "hill_1",
  "hill_2",
  "expected_richness",
  "expected_richness_standard_error",
  "chao1",
  "chao1_standard_error",
  "ace",
  "percent_model_affinity",
  "percent_similarity",
  "bray_curtis_dissimilarity",
  "jaccard_similarity",
  "sorensen_similarity",
  "community_loss",
  "individuals",
  "estimated_total",
  "density_per_m2",
]);

describe("what a metric is made of gives the same value as the metric", () => {
  it.each(METRICS.map(({ id }) => id).filter((id) => !WITHOUT.has(id)))("for %s", (id) => {
    agrees(id, ORACLE_SETTINGS[id] ?? {});
  });

  it.each([...WITHOUT])("but %s is worked out by itself", (id) => {
    const entry = findMetric(id);
    if (entry === undefined) throw new Error(`no metric ${id}`);
    expect(ready(entry, ORACLE_SETTINGS[id] ?? {}, ATTRIBUTES).lean).toBe(undefined);
  });

  it.each<[string, Record<string, unknown>]>([
    ["taxa_richness", { within: "Insecta", grouped_at: "order" }],
    ["shannon_diversity_2", { except: "Chironomidae", grouped_at: "family" }],
    ["percent_two_dominant_taxa", { within: "Insecta", grouped_at: "order" }],
    ["percent_individuals", { within: "Ephemeroptera", of: { within: "Insecta" } }],
    ["ept_to_chironomidae_ratio", { when_none_below: "above-alone" }],
    ["ept_to_chironomidae_ratio", { when_none_below: "zero" }],
    ["taxa_ratio", { above: { within: "Diptera" }, below: { within: "Mollusca" }, when_none_below: "zero" }],
    [
      "taxa_ratio",
      { above: { within: "Diptera" }, below: { within: "Mollusca" }, when_none_below: "above-alone" },
    ],
    ["taxa_points", { classes: [{ points: 3, within: "Ephemeroptera" }], each: "row" }],
    ["taxa_points", { classes: [{ points: 3, within: "Ephemeroptera" }], each: "taxon" }],
    ["sum_of_scores", { within: "Insecta" }],
    ["tolerance_index", { within: "Insecta", max_per_taxon: 3 }],
  ])("for %s with settings of a set", (metric, settings) => {
    agrees(metric, settings);
  });
});
