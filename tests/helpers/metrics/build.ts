import type { MetricEntry, MetricExample, PreparedMetric } from "../../../src/metrics/define.ts";
import { prepareMetric } from "../../../src/metrics/prepare.ts";
import type { AttributeLookup, CompiledAttribute } from "../../../src/model/attribute-lookup.ts";
import type { Attribute, AttributeScheme } from "../../../src/model/attributes.ts";
import { ATTRIBUTES } from "../../../src/model/attributes.ts";
import type { Community, SampleContext } from "../../../src/model/community.ts";
import { compareCodePoints } from "../../../src/model/order.ts";
import type { TaxonTree } from "../../../src/model/taxon-tree.ts";
import { REAL_TREE } from "./real-tree.ts";

export type SheetEntry = readonly [taxon: string, count: number, richness?: number];

/** A community of a little sheet, in code point order as the road hands it over. */
export function communityOf(sheet: readonly SheetEntry[], tree: TaxonTree = REAL_TREE): Community {
  const rows = [...sheet].sort((a, b) => compareCodePoints(a[0], b[0]));
  const counts = Float64Array.from(rows, ([, count]) => count);
  return {
    taxa: Int32Array.from(rows, ([taxon]) => numberIn(tree, taxon)),
    counts,
    richness: Float64Array.from(rows, ([, , richness]) => richness ?? 1),
    total: counts.reduce((sum, count) => sum + count, 0),
  };
}

export const EMPTY: Community = communityOf([]);

export type ValuesByTaxon = Readonly<Record<string, string>>;

/**
 * An attribute compiled the slow way: for every taxon the value of the nearest of its line, itself first, that
 * has one. Numeric when every text is a number.
 */
export function attributeOf(
  attribute: Attribute,
  values: ValuesByTaxon,
  tree: TaxonTree = REAL_TREE,
  direction: AttributeScheme["direction"] = attribute === "tolerance" ? "higher-is-tolerant" : "",
): CompiledAttribute {
  const texts = Object.values(values);
  const numeric = attribute === "tolerance";
  const decimals = numeric ? Math.max(0, ...texts.map((text) => text.split(".")[1]?.length ?? 0)) : 0;
  const scale = 10 ** decimals;
  const categories = numeric ? [] : [...new Set(texts)].sort(compareCodePoints);
  const has = new Uint8Array(tree.size);
  const scaled = new Int32Array(tree.size);
  const category = new Int16Array(tree.size).fill(-1);
  const from = new Int32Array(tree.size).fill(-1);
  for (let taxon = 0; taxon < tree.size; taxon++) {
    const source = tree.lineage(taxon).find((at) => Object.hasOwn(values, tree.nameOf(at)));
    if (source === undefined) continue;
    const text = values[tree.nameOf(source)] ?? "";
    has[taxon] = 1;
    from[taxon] = source;
    if (numeric) scaled[taxon] = Math.round(Number(text) * scale);
    else category[taxon] = categories.indexOf(text);
  }
  return {
    scheme: {
      scheme: `test-${attribute}`,
      attribute,
      level: "",
      direction,
      region: "",
      sourceId: "",
      note: "",
    },
    has,
    scaled,
    scale,
    category,
    categories,
    from,
  };
}

export type AttributeValues = Readonly<Partial<Record<Attribute, ValuesByTaxon>>>;

export function attributesOf(values: AttributeValues, tree: TaxonTree = REAL_TREE): AttributeLookup {
  const lookup = new Map<Attribute, CompiledAttribute>();
  for (const attribute of ATTRIBUTES) {
    const table = values[attribute];
    if (table !== undefined) lookup.set(attribute, attributeOf(attribute, table, tree));
  }
  return lookup;
}

/** Prepares a metric that is expected to have no problems. */
export function ready(
  entry: MetricEntry,
  settings: Readonly<Record<string, unknown>> = {},
  attributes: AttributeLookup = new Map(),
  tree: TaxonTree = REAL_TREE,
): PreparedMetric {
  const prepared = prepareMetric(entry, settings, { tree, attributes });
  if ("problems" in prepared) throw new Error(`${entry.id}: ${prepared.problems.join("; ")}`);
  return prepared.metric;
}

/** The metric, community and context of a worked example. */
export function exampleOf(
  entry: MetricEntry,
  example: MetricExample,
): { metric: PreparedMetric; community: Community; context: SampleContext } {
  const sheetOf = (rows: MetricExample["sheet"]) =>
    rows.map(({ taxon, count, richness }): SheetEntry => [taxon, count, richness ?? 1]);
  const reference = example.reference === undefined ? undefined : communityOf(sheetOf(example.reference));
  return {
    metric: ready(entry, example.settings, attributesOf(example.attributes)),
    community: communityOf(sheetOf(example.sheet)),
    context: { ...example.context, reference },
  };
}

function numberIn(tree: TaxonTree, taxon: string): number {
  const number = tree.numberOf(taxon);
  if (number === undefined) throw new Error(`the tree has no ${taxon}`);
  return number;
}
