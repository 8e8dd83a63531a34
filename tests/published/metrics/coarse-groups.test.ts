import { describe, expect, it } from "vitest";
import { findMetric } from "../../../src/metrics/registry.ts";
import type { CompiledAttribute } from "../../../src/model/attribute-lookup.ts";
import type { Attribute } from "../../../src/model/attributes.ts";
import type { Community, SampleContext } from "../../../src/model/community.ts";
import { valueAsNumber } from "../../../src/model/metric-value.ts";
import type { TaxonTree } from "../../../src/model/taxon-tree.ts";
import { attributeOf, communityOf, ready, type SheetEntry } from "../../helpers/metrics/build.ts";
import { flatTree } from "../../helpers/metrics/little-tree.ts";

type GroupRow = readonly [group: string, category: 1 | 2 | 3, count: number, taxa: number];

/** A tally by groups: a flat tree, and 3, 2 or 1 points for the groups of category 1, 2 and 3. */
class Tally {
  readonly #tree: TaxonTree;
  readonly #community: Community;
  readonly #attributes: ReadonlyMap<Attribute, CompiledAttribute>;

  constructor(rows: readonly GroupRow[]) {
    this.#tree = flatTree([...new Set([...rows.map(([group]) => group), "mayfly", "stonefly", "caddisfly"])]);
    this.#community = communityOf(
      rows.map(([group, , count, taxa]): SheetEntry => [group, count, taxa]),
      this.#tree,
    );
    const points = Object.fromEntries(rows.map(([group, category]) => [group, String(4 - category)]));
    this.#attributes = new Map([
      ["tolerance", attributeOf("tolerance", points, this.#tree, "higher-is-sensitive")],
    ]);
  }

  value(metric: string, settings: object = {}, context: SampleContext = {}): number {
    const entry = findMetric(metric);
    if (entry === undefined) throw new Error(`no metric ${metric}`);
    const prepared = ready(entry, { ...settings }, this.#attributes, this.#tree);
    return valueAsNumber(prepared.evaluate(this.#community, context)) ?? Number.NaN;
  }
}

const EPT = { within: ["mayfly", "stonefly", "caddisfly"] };

/**
 * Pacific Streamkeepers (British Columbia), Module 4 Stream Invertebrate Survey Interpretation, records 55
 * (Nile Creek, 2013-07-17) and 73 (Alexander Creek), https://streamkeepers.info/. Printed there: abundance,
 * density, tolerance index by groups present, EPT taxa by the column of taxa, both ratios and all taxa.
 */
describe("Streamkeepers records", () => {
  it("record 55", () => {
    const tally = new Tally([
      ["caddisfly", 1, 10, 2],
      ["mayfly", 1, 47, 5],
      ["stonefly", 1, 10, 1],
      ["cranefly", 2, 1, 1],
      ["watersnipe", 2, 3, 1],
      ["planarian", 3, 1, 1],
      ["water mite", 3, 3, 1],
    ]);
    expect(tally.value("individuals")).toBe(75);
    const wholeSample = { fraction_if_unknown: 1 };
    expect(tally.value("density_per_m2", wholeSample, { areaSampledM2: 0.09 })).toBeCloseTo(833.33, 2);
    expect(tally.value("pollution_tolerance_index")).toBe(15);
    expect(tally.value("taxa_richness", EPT)).toBe(8);
    expect(tally.value("fraction_of_individuals", EPT)).toBeCloseTo(0.89, 2);
    expect(tally.value("taxa_richness")).toBe(12);
    expect(tally.value("berger_parker_dominance")).toBeCloseTo(0.6267, 4);
  });

  it("record 73", () => {
    const tally = new Tally([
      ["caddisfly", 1, 274, 5],
      ["mayfly", 1, 262, 6],
      ["riffle beetle", 1, 2, 1],
      ["stonefly", 1, 321, 5],
      ["aquatic beetle", 2, 3, 1],
      ["aquatic worm", 3, 20, 1],
      ["midge", 3, 66, 2],
      ["planarian", 3, 25, 1],
      ["water mite", 3, 21, 2],
    ]);
    expect(tally.value("individuals")).toBe(994);
    const wholeSample = { fraction_if_unknown: 1 };
    expect(tally.value("density_per_m2", wholeSample, { areaSampledM2: 0.27 })).toBeCloseTo(3681.48, 2);
    expect(tally.value("pollution_tolerance_index")).toBe(18);
    expect(tally.value("taxa_richness", EPT)).toBe(16);
    expect(tally.value("fraction_of_individuals", EPT)).toBeCloseTo(0.86, 2);
    expect(tally.value("taxa_richness")).toBe(24);
    expect(tally.value("berger_parker_dominance")).toBeCloseTo(0.3229, 4);
  });
});

/**
 * A solved classroom sheet of the 3-2-1 scheme of the Izaak Walton stream study: three sensitive groups (mayfly,
 * stonefly, water penny) and two somewhat sensitive ones give 9 + 4 = 13. Read from a scan, in which the names of
 * the two are not legible: the two here are ours.
 */
it("3-2-1 pollution tolerance index of a worked sheet", () => {
  const rows: GroupRow[] = [
    ["mayfly", 1, 1, 1],
    ["stonefly", 1, 1, 1],
    ["water penny", 1, 1, 1],
    ["scud", 2, 1, 1],
    ["dragonfly", 2, 1, 1],
  ];
  expect(new Tally(rows).value("pollution_tolerance_index")).toBe(13);
});

/**
 * SIGNAL without weights: National Waterbug Blitz, worked example at the agreed level,
 * https://www.waterbugblitz.org.au/signalt (method: Chessman 2003). Grades 8 7 7 5 4 4 2 2 give 4.875.
 */
it("average grade of the SIGNAL example", () => {
  const grades = {
    "blond sprawler": "8",
    gripops: "7",
    Atalophlebia: "7",
    caenids: "5",
    "glass shrimp": "4",
    chironomids: "4",
    worms: "2",
    "Physa acuta": "2",
  };
  const tree = flatTree(Object.keys(grades));
  const attributes = new Map([
    ["tolerance" as const, attributeOf("tolerance", grades, tree, "higher-is-sensitive")],
  ]);
  // Abundance plays no part, so any numbers will do.
  const community = communityOf(
    Object.keys(grades).map((group, i): SheetEntry => [group, i * i + 1]),
    tree,
  );
  const score = (metric: string) => {
    const entry = findMetric(metric);
    if (entry === undefined) throw new Error(`no metric ${metric}`);
    return ready(entry, {}, attributes, tree).evaluate(community, {});
  };
  expect(score("average_score_per_taxon")).toEqual({ kind: "exact", value: { num: 39, den: 8 } });
  expect(39 / 8).toBe(4.875);
  expect(score("number_of_scoring_taxa")).toEqual({ kind: "exact", value: { num: 8, den: 1 } });
});
