import type { Finding, Place } from "../../findings/finding.ts";
import type { Attribute } from "../../model/attributes.ts";
import type { LifeStage } from "../../model/life-stage.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";
import type { ReferenceSet } from "../../reference/set.ts";
import type { DrawResult, SampleScore } from "../result.ts";
import type { IndexStory } from "./index-story.ts";
import type { MetricStory } from "./metric-story.ts";

/** One row of the sheets and what became of its animals. */
export interface RowStory {
  readonly place: Place;
  /** The name as written. */
  readonly written: string;
  readonly stage: LifeStage;
  readonly count: number;
  /** The large/rare search, not the grids. */
  readonly largeRare: boolean;
  /** The jar, where the sheet has one. */
  readonly container: string;
  /** The taxon it was taken as; empty for a name that is not known. */
  readonly taxon: string;
  /** How the name was found, and every doubt about it, in words. */
  readonly how: string;
  readonly fate: "counts" | "excluded" | "released" | "refused";
  /** Why its animals do not count; empty when they do. */
  readonly why: string;
}

/** Animals of one name and stage before and after the draw. */
export interface PileStory {
  /** The name as the sheet has it. The draw orders by its normalised form. */
  readonly name: string;
  readonly stage: LifeStage;
  readonly largeRare: boolean;
  readonly before: number;
  readonly after: number;
}

/** How the sample was brought to its fixed count. */
export interface DrawStory {
  readonly result: DrawResult;
  /** Animals of the main part before and after. */
  readonly before: number;
  readonly after: number;
  readonly fractionSorted: number | undefined;
  readonly estimatedTotal: number | undefined;
  readonly piles: readonly PileStory[];
}

/** One attribute value of a taxon and where it comes from. */
export interface AttributeTrail {
  readonly attribute: Attribute;
  readonly scheme: string;
  /** As written in the table; empty where no rank of the taxon's line has one. */
  readonly value: string;
  /** The taxon whose row gave it. */
  readonly from: string;
  readonly sourceId: string;
  /** `seen` in its source, recalled from `memory`, or the `set`'s own; empty without a value. */
  readonly verified: string;
}

/** One taxon at the set's level. */
export interface TaxonStory {
  readonly taxon: string;
  /** Names of the sheets that were counted as it, where they differ. */
  readonly madeOf: readonly string[];
  /** Animals after the draw, before and after the parent rule. */
  readonly before: number;
  readonly after: number;
  /** Percent of the animals. */
  readonly share: number | undefined;
  /** What it adds to richness, and why. */
  readonly richness: number;
  readonly why: string;
  readonly attributes: readonly AttributeTrail[];
}

/** Animals that the parent rule moved; `to` is empty for animals left out. */
export interface MoveStory {
  readonly from: string;
  readonly to: string;
  readonly animals: number;
}

/** A taxon that the set's list scores as another one (a family split after the list was made). */
export interface MergeStory {
  readonly taxon: string;
  readonly scoredAs: string;
}

/** Everything that happened to one sample, in the order in which it happened. */
export interface SampleStory {
  readonly sampleId: string;
  readonly set: ReferenceSet;
  readonly facts: SampleFacts | undefined;
  readonly score: SampleScore;
  /** Findings about the sample. */
  readonly findings: readonly Finding[];
  readonly rows: readonly RowStory[];
  /** Undefined when the sample was stopped before. */
  readonly draw: DrawStory | undefined;
  /** What was done with ambiguous parents, and whether over the sample or the batch. */
  readonly parents: string;
  readonly taxa: readonly TaxonStory[];
  readonly merges: readonly MergeStory[];
  readonly moves: readonly MoveStory[];
  readonly metrics: readonly MetricStory[];
  /** Undefined when the sample was stopped, or only metrics were asked for. */
  readonly index: IndexStory | undefined;
}
