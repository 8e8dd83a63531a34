/** One metric of a sample, as a page shows it. */
export interface ReportMetric {
  readonly id: string;
  readonly name: string;
  readonly unit: string;
  readonly value: number | undefined;
  readonly whyMissing: string;
  readonly score: number | undefined;
  /** The worst and the best score that its thresholds give; undefined when it counts as it is. */
  readonly scores: { readonly worst: number; readonly best: number } | undefined;
  /** Its thresholds in the sample's stratum, in words, from low to high. */
  readonly thresholds: readonly string[];
}

/** One taxon of a sample after the draw. */
export interface ReportTaxon {
  readonly taxon: string;
  /** Its everyday group: "mayflies". */
  readonly group: string;
  readonly count: number;
  /** Percent of the animals scored. */
  readonly share: number;
  /** Value of the set's tolerance table; undefined where it has none. */
  readonly tolerance: number | undefined;
}

/** A class of the rating, from worst to best on the index scale. */
export interface ReportClass {
  readonly rating: string;
  readonly lower: number | undefined;
  readonly upper: number | undefined;
  /** Its limits in words: "from 60 to below 80". */
  readonly span: string;
  readonly meaning: string;
}

export interface ReportSample {
  readonly sampleId: string;
  readonly siteId: string;
  readonly collectedOn: string;
  readonly waterbody: string;
  readonly stratum: string;
  readonly status: "scored" | "flagged" | "held-back" | "refused";
  readonly index: number | undefined;
  readonly rating: string;
  /** How far the index lies from the nearest other class. */
  readonly next: { readonly distance: number; readonly limit: number; readonly rating: string } | undefined;
  /** Classes of its stratum, from low to high. */
  readonly classes: readonly ReportClass[];
  readonly counted: number | undefined;
  readonly scored: number | undefined;
  /** Share of the sample that was sorted, 0 to 1. */
  readonly fractionSorted: number | undefined;
  /** How it was brought to its count, in a sentence; empty when it was stopped before. */
  readonly draw: string;
  /** The field sample that it repeats; empty for others. */
  readonly duplicateOf: string;
  readonly metrics: readonly ReportMetric[];
  readonly taxa: readonly ReportTaxon[];
  /** What was found about it: errors, warnings and notes. */
  readonly doubts: readonly {
    readonly severity: "error" | "warning" | "note";
    readonly code: string;
    readonly message: string;
    readonly place: string;
  }[];
  /** In degrees, blurred where protected animals live; undefined when the log gives none. */
  readonly place:
    | { readonly latitude: number; readonly longitude: number; readonly isBlurred: boolean }
    | undefined;
}

/** A run, as pages show it. */
export interface ReportRun {
  /** The folder as the user named it. */
  readonly name: string;
  /** Identity of what scored it; only scores of one set are put together. */
  readonly set: {
    readonly id: string;
    readonly version: string;
    readonly hash: string;
    readonly title: string;
    readonly summary: string;
    readonly calibratedFor: string;
    /** How it was checked, in a line. */
    readonly verification: string;
    readonly cautions: readonly string[];
    readonly higherIs: "better" | "worse";
    /** Which way the tolerance values go; empty where the set has none. */
    readonly tolerance: "higher-is-tolerant" | "higher-is-sensitive" | "";
  };
  readonly seed: string;
  readonly inputs: readonly { readonly file: string; readonly sha256: string; readonly rows: number }[];
  readonly samples: readonly ReportSample[];
}
