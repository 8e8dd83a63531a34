import type * as z from "zod";
import type { AttributeLookup, CompiledAttribute } from "../model/attribute-lookup.ts";
import type { Attribute } from "../model/attributes.ts";
import type { Community, SampleContext } from "../model/community.ts";
import type { MetricValue } from "../model/metric-value.ts";
import { READ_ONCE } from "../model/read-once.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import type { CompiledFilter, TaxonFilter } from "./filter.ts";
import type { LeanForm } from "./lean.ts";
import type { RareTaxa } from "./measures/rare-taxa.ts";
import { describeSettingProblems } from "./setting-problems.ts";

/** What a metric is worked out from; known once for a batch. */
export interface MetricSetup {
  readonly tree: TaxonTree;
  readonly attributes: AttributeLookup;
}

/** One taxon's part in a metric, for a reviewer who wants to redo the number by hand. */
export interface Contribution {
  /** Number of the taxon in the tree. */
  readonly taxon: number;
  readonly count: number;
  /** Whether it takes part; `why` says why not. */
  readonly counted: boolean;
  /** Its attribute value as written, where the metric uses one. */
  readonly value?: string | undefined;
  /** The taxon whose row gave that value. */
  readonly valueFrom?: number | undefined;
  /** Why it takes no part, or what is special about its part. */
  readonly why?: string | undefined;
}

/** A metric made ready for a tree, its attributes and its settings; worked out once for every sample. */
export interface PreparedMetric {
  evaluate(community: Community, context: SampleContext): MetricValue;
  contributions(community: Community, context: SampleContext): Contribution[];
  /** What it is made of, for working it out thousands of times; undefined for metrics without such a form. */
  readonly lean?: LeanForm | undefined;
  /** For numbers of taxa: how many of the taxa it counts were met once and twice. */
  rareTaxa?(community: Community): RareTaxa;
  /** The attributes it reads; animals without a value in one of them are reported. */
  readonly attributes: readonly Attribute[];
}

/** What a metric cannot be worked out without. An attribute is named as in the attribute tables. */
export type MetricNeed = "counts" | "taxonomy" | "area" | "fraction-sorted" | "reference-sample" | Attribute;

/** Where the definition comes from. `seen`: the definition was read in the document; `memory`: it was recalled. */
export interface MetricReference {
  readonly citation: string;
  readonly year: number;
  readonly verified: "seen" | "memory";
}

/** One row of the sheet of an example. */
export interface ExampleRow {
  readonly taxon: string;
  readonly count: number;
  /** Taxa that the row stands for; 1 when left out, 0 for an ambiguous parent. */
  readonly richness?: number | undefined;
}

/** A worked value: a little sheet, what is known of its taxa, the value and the arithmetic that leads to it. */
export interface MetricExample {
  /** Name of one of the standard sheets of the reference page; empty for a sheet of its own. */
  readonly sheetName: string;
  readonly sheet: readonly ExampleRow[];
  /** Values of the example's taxa by attribute; made up for the arithmetic. */
  readonly attributes: Readonly<Partial<Record<Attribute, Readonly<Record<string, string>>>>>;
  readonly settings: Readonly<Record<string, unknown>>;
  readonly context: Omit<SampleContext, "reference">;
  /** The sheet of the reference sample, where the metric compares with one. */
  readonly reference?: readonly ExampleRow[] | undefined;
  /** The value, or null when there is none. */
  readonly value: number | null;
  /** The arithmetic in a line. It ends with `= VALUE`, or says why there is none. */
  readonly working: string;
}

/** What a user may ask about a metric. */
export interface MetricDescription {
  /** Stable: users write it in their sets; never renamed. Lower case words joined by underscores. */
  readonly id: string;
  /** Name in the trade. */
  readonly name: string;
  /** Other names under which it is met. */
  readonly alsoCalled?: readonly string[] | undefined;
  readonly summary: string;
  readonly formula: string;
  readonly unit: string;
  /** Smallest and largest value that can occur; `Infinity` where there is no end. */
  readonly range: readonly [number, number];
  /** What a sample without animals gives. */
  readonly whenEmpty: "missing" | "zero";
  readonly needs: readonly MetricNeed[];
  /** What it usually does when a stream gets worse. */
  readonly stress: "falls" | "rises" | "varies";
  /** What becomes of it when every count is multiplied by the same whole number. */
  readonly whenMultiplied: "same" | "proportional" | "changes";
  readonly references: readonly MetricReference[];
  readonly examples: readonly MetricExample[];
}

/** What `prepareMetric` gives: the metric, or everything that stands against it, in words. */
export type Preparation = { readonly metric: PreparedMetric } | { readonly problems: readonly string[] };

/** What a measure needs while it is made ready; whatever is wrong is reported to it and not thrown. */
export interface PrepareKit {
  readonly tree: TaxonTree;
  /** Taxa that pass all filters. */
  filter(...filters: readonly TaxonFilter[]): CompiledFilter;
  /** A compiled attribute; an empty one after reporting that the set names no table for it. */
  attribute(attribute: Attribute): CompiledAttribute;
  /** The attribute without a report when there is none. */
  optionalAttribute(attribute: Attribute): CompiledAttribute | undefined;
  /** The number of a taxon; undefined after reporting that the tree does not have it. */
  taxon(name: string): number | undefined;
  problem(text: string): void;
  readonly problems: readonly string[];
}

/** One entry of the catalogue: everything that listing, documenting, checking and working out a metric needs. */
export interface MetricEntry extends MetricDescription {
  /** Settings that a set may give, with their defaults. */
  readonly settings: z.ZodObject;
  prepare(settings: Readonly<Record<string, unknown>>, kit: PrepareKit): Preparation;
}

/** An entry as it is written in a file of the catalogue. */
export interface MetricSpec<Shape extends z.ZodRawShape> extends MetricDescription {
  readonly settings: z.ZodObject<Shape, z.core.$strict>;
  readonly measure: (
    settings: z.output<z.ZodObject<Shape, z.core.$strict>>,
    kit: PrepareKit,
  ) => PreparedMetric;
}

/** Makes an entry of the catalogue; the settings are checked before the measure sees them. */
export function defineMetric<Shape extends z.ZodRawShape>(spec: MetricSpec<Shape>): MetricEntry {
  const { measure, settings: schema, ...description } = spec;
  return {
    ...description,
    settings: schema,
    prepare(settings, kit) {
      const parsed = schema.safeParse(settings, READ_ONCE);
      if (!parsed.success) return { problems: describeSettingProblems(parsed.error, schema, settings) };
      const metric = measure(parsed.data, kit);
      return kit.problems.length > 0 ? { problems: [...kit.problems] } : { metric };
    },
  };
}
