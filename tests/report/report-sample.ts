import type { ReportDetail, ReportRun, ReportSample } from "../../src/report/report-data.ts";

/** A sample with its details. */
export type WholeSample = ReportSample & ReportDetail;

/** A sample of an invented site. */
export function reportSample(over: Partial<WholeSample> = {}): WholeSample {
  return {
    sampleId: "V1-2023",
    siteId: "V1",
    collectedOn: "2023-05-16",
    waterbody: "Vennaloo River",
    stratum: "valley",
    status: "scored",
    index: 65,
    rating: "good",
    next: { distance: 5, limit: 60, rating: "fair" },
    classes: [
      { rating: "poor", lower: undefined, upper: 40, span: "below 40", meaning: "Tolerant animals only." },
      { rating: "fair", lower: 40, upper: 60, span: "from 40 to below 60", meaning: "" },
      { rating: "good", lower: 60, upper: 100, span: "from 60 up to 100", meaning: "A few are missing." },
    ],
    counted: 330,
    scored: 200,
    fractionSorted: 0.2,
    draw: "Of these, 200 were drawn at random.",
    duplicateOf: "",
    replicateOf: "",
    interval: undefined,
    doubtCodes: [],
    whyNot: "",
    metrics: [
      {
        id: "taxa_richness",
        name: "Taxa richness",
        unit: "taxa",
        value: 26,
        whyMissing: "",
        interval: undefined,
        score: 7.5,
        scale: {
          steps: [{ lower: 8, upper: 34, scoreAtLower: 0, scoreAtUpper: 10 }],
          at: 26,
          what: "",
          worst: 0,
          best: 10,
        },
        thresholds: ["from 8 up to 34 scores 0 to 10"],
      },
    ],
    taxa: [
      { taxon: "Chironomidae", group: "non-biting midges", count: 150, share: 75, tolerance: 6 },
      { taxon: "Leuctra", group: "stoneflies", count: 50, share: 25, tolerance: 0 },
    ],
    doubts: [],
    place: { latitude: -47.168, longitude: -124.273, isBlurred: false },
    ...over,
  };
}

/** A run of some samples. */
export function reportRun(samples: readonly WholeSample[], over: Partial<ReportRun> = {}): ReportRun {
  return {
    name: "run-2023",
    set: {
      id: "vennaloo-demo",
      version: "1.0.0",
      hash: "ab".repeat(32),
      title: "Demonstration index",
      summary: "Made up.",
      calibratedFor: "Nothing.",
      verification: "invented: not for any real stream",
      cautions: ["For learning only."],
      higherIs: "better",
      tolerance: "higher-is-tolerant",
    },
    seed: "1",
    inputs: [{ file: "sheet.csv", sha256: "cd".repeat(32), rows: 9 }],
    samples,
    detailOf: (sample) => {
      const found = samples.find((one) => one === sample);
      if (found === undefined) throw new Error("a sample of another run");
      return found;
    },
    ...over,
  };
}
