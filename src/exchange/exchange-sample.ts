import type { LifeStage } from "../model/life-stage.ts";
import type { FactTexts } from "../model/sample-facts.ts";

/** Animals of one sample under one name, stage and part of the work, all with the same fate. */
export interface ExchangeRecord {
  /** The normalised name of the sheet: it stays what it is when the taxonomy changes, and so do ids made of it. */
  readonly key: string;
  /** Names as written on the sheets. */
  readonly written: readonly string[];
  /** The taxon of the tree; of a name that stands for none (a slash group) the lowest taxon that holds it. */
  readonly taxon: string;
  readonly rank: string;
  /** The bench's own name where it is no taxon of the tree ("Baetis sp. A"); empty otherwise. */
  readonly operational: string;
  /** Names of the kingdom, phylum, class, order, family and genus, as far as they are known. */
  readonly lineage: ReadonlyMap<string, string>;
  readonly stage: LifeStage;
  /** Found in the search for large and rare animals. */
  readonly largeRare: boolean;
  readonly fate: "counts" | "excluded" | "released";
  /** Why its animals do not count; empty when they do. */
  readonly why: string;
  /** Doubts about the name, in words. */
  readonly doubts: readonly string[];
  /** Animals as identified, before any draw. */
  readonly count: number;
  /** The count was expanded from a part of the sample: an estimate. */
  readonly isExpanded: boolean;
  readonly identifiedBy: readonly string[];
  /** Year-month-day. */
  readonly identifiedOn: readonly string[];
}

/** One metric of a sample. */
export interface ExchangeMetric {
  readonly id: string;
  readonly name: string;
  readonly unit: string;
  readonly value: number | undefined;
  readonly whyMissing: string;
  readonly score: number | undefined;
}

/** A sample as exchange tables see it. A sample that was not scored has neither records nor metrics. */
export interface ExchangeSample {
  readonly sampleId: string;
  readonly siteId: string;
  readonly collectedOn: string;
  readonly stratum: string;
  /** Columns of the sample log by name. */
  readonly facts: FactTexts;
  readonly status: "scored" | "flagged" | "held-back" | "refused";
  readonly flags: readonly string[];
  /** Protected animals were found at its site, in this sample or in another. */
  readonly isProtectedSite: boolean;
  readonly records: readonly ExchangeRecord[];
  readonly metrics: readonly ExchangeMetric[];
  readonly counted: number | undefined;
  readonly scored: number | undefined;
  /** Animals that the draw was to leave; undefined when nothing was to be drawn. */
  readonly drawTarget: number | undefined;
  readonly fractionSorted: number | undefined;
  readonly index: number | undefined;
  readonly rating: string;
}

/** What holds for all samples of an export. */
export interface ExchangeRun {
  readonly set: {
    readonly id: string;
    readonly version: string;
    readonly title: string;
    readonly hash: string;
    readonly verification: string;
  };
  readonly seed: string;
  /** Year-month-day on which the scores were worked out; empty when the run does not say. */
  readonly calculatedOn: string;
  /** Give the places of protected animals as exactly as the log has them. */
  readonly exactPlaces: boolean;
}
