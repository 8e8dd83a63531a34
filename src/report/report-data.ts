/** The thresholds of a metric on the line of its values. */
export interface MetricScale {
  /** From low to high, moved by the sample's covariate where the set says so; a side left out is open. */
  readonly steps: readonly {
    readonly lower: number | undefined;
    readonly upper: number | undefined;
    readonly scoreAtLower: number;
    readonly scoreAtUpper: number;
  }[];
  /** The number that was compared with them: the value itself, adjusted, or a percentage of the reference sample's. */
  readonly at: number | undefined;
  /** What that number is where it is not the plain value; empty otherwise. */
  readonly what: string;
  /** The worst and the best score that they give. */
  readonly worst: number;
  readonly best: number;
}

/** One metric of a sample, as a page shows it. */
export interface ReportMetric {
  readonly id: string;
  readonly name: string;
  readonly unit: string;
  readonly value: number | undefined;
  readonly whyMissing: string;
  /** Ends of its interval, where resamples were drawn. */
  readonly interval: { readonly low: number; readonly high: number } | undefined;
  readonly score: number | undefined;
  /** Its thresholds as they lie for this sample; undefined when it counts as it is. */
  readonly scale: MetricScale | undefined;
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

/** How far a sample's index could have come out otherwise. */
export interface ReportInterval {
  readonly low: number;
  readonly high: number;
  /** Its confidence in words: "90 percent interval". */
  readonly what: string;
  /** What it is about and what its spread comes from, in a sentence. */
  readonly about: string;
  /** Share of the resamples that got the same rating, 0 to 1; undefined where there is no rating. */
  readonly support: number | undefined;
  /** The rating that is most likely after the one given; empty where no resample has another. */
  readonly nextRating: string;
}

/** What the lists of a report need of a sample. */
export interface ReportSample {
  readonly sampleId: string;
  readonly siteId: string;
  readonly collectedOn: string;
  readonly waterbody: string;
  readonly stratum: string;
  readonly status: "scored" | "flagged" | "held-back" | "refused";
  readonly index: number | undefined;
  readonly rating: string;
  /** Undefined when the run was made without resamples, or there is no index. */
  readonly interval: ReportInterval | undefined;
  /** How far the index lies from the nearest other class. */
  readonly next: { readonly distance: number; readonly limit: number; readonly rating: string } | undefined;
  /** Classes of its stratum, from low to high. */
  readonly classes: readonly ReportClass[];
  /** Animals scored. */
  readonly scored: number | undefined;
  /** The field sample that it repeats; empty for others. */
  readonly duplicateOf: string;
  /** The sample whose replicate it is; empty for others. */
  readonly replicateOf: string;
  /** Codes of errors and warnings, each once. */
  readonly doubtCodes: readonly string[];
  /** Why it was refused or held back, with places; empty for others. */
  readonly whyNot: string;
  /** In degrees, blurred where protected animals live; undefined when the log gives none. */
  readonly place:
    | { readonly latitude: number; readonly longitude: number; readonly isBlurred: boolean }
    | undefined;
}

/** What the page of a site shows of a sample beside that. */
export interface ReportDetail {
  /** Animals that count, before any draw. */
  readonly counted: number | undefined;
  /** Share of the sample that was sorted, 0 to 1. */
  readonly fractionSorted: number | undefined;
  /** How it was brought to its count, in a sentence; empty when it was stopped before. */
  readonly draw: string;
  readonly metrics: readonly ReportMetric[];
  readonly taxa: readonly ReportTaxon[];
  /** What was found about it: errors, warnings and notes. */
  readonly doubts: readonly {
    readonly severity: "error" | "warning" | "note";
    readonly code: string;
    readonly message: string;
    readonly place: string;
  }[];
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
  /** Works out one of its samples once more: the details of all together would not fit into small memories. */
  readonly detailOf: (sample: ReportSample) => ReportDetail;
}
