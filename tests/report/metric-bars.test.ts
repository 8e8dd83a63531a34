import { describe, expect, it } from "vitest";
import { metricBars, thresholdBar } from "../../src/report/metric-bars.ts";
import type { MetricScale, ReportMetric } from "../../src/report/report-data.ts";
import { wordsOf } from "./page-words.ts";
import { reportSample } from "./report-sample.ts";

const [RICHNESS] = reportSample().metrics;
if (RICHNESS === undefined) throw new Error("no metric");
const metric = (over: Partial<ReportMetric> = {}): ReportMetric => ({ ...RICHNESS, ...over });
const LINE = RICHNESS.scale;
if (LINE === undefined) throw new Error("no thresholds");
const scaled = (over: Partial<MetricScale>) =>
  thresholdBar(metric({ scale: { ...LINE, ...over } }))?.text ?? "";
/** Place and width of the filled part, in percent. */
const filled = (text: string) =>
  text.match(/<rect x="([\d.]+)%" y="\d+" width="([\d.]+)%" height="\d+" class="fill"/)?.slice(1);
const thresholds = (text: string) => [...text.matchAll(/<line x1="([\d.]+)%"/g)].map(([, at]) => Number(at));

describe("the bar of a metric", () => {
  it("is filled from the worst end up to the value, with its thresholds across it", () => {
    // (26 - 8) / (34 - 8) of 94 percent.
    expect(filled(scaled({}))).toEqual(["3", "65.08"]);
    expect(thresholds(scaled({}))).toEqual([3, 97]);
  });

  it("is turned where low values are the good ones, so that the best always lies to the right", () => {
    const falling = [{ lower: 15, upper: 60, scoreAtLower: 10, scoreAtUpper: 0 }];
    // (60 - 27) / (60 - 15) of 94 percent.
    expect(filled(scaled({ steps: falling, at: 27 }))).toEqual(["3", "68.93"]);
    expect(scaled({ steps: falling, at: 27 })).toContain("lower is better");
    // A set where a low index is the good one: low scores are the best.
    const bad = [{ lower: 0, upper: 10, scoreAtLower: 0, scoreAtUpper: 10 }];
    expect(filled(scaled({ steps: bad, at: 2, worst: 10, best: 0 }))).toEqual(["3", "75.2"]);
  });

  it("shows every step, with room beyond open ends", () => {
    const steps = [
      { lower: undefined, upper: 10, scoreAtLower: 1, scoreAtUpper: 1 },
      { lower: 10, upper: 20, scoreAtLower: 3, scoreAtUpper: 3 },
      { lower: 20, upper: undefined, scoreAtLower: 5, scoreAtUpper: 5 },
    ];
    // From 8.5 to 21.5: 10 and 20 lie 1.5 and 11.5 of 13 from the left.
    expect(thresholds(scaled({ steps, at: 15, worst: 1, best: 5 }))).toEqual([13.85, 86.15]);
    expect(filled(scaled({ steps, at: 15, worst: 1, best: 5 }))).toEqual(["3", "47"]);
  });

  it("is not filled where the best lies in the middle, nor without a value", () => {
    const steps = [
      { lower: 0, upper: 5, scoreAtLower: 0, scoreAtUpper: 10 },
      { lower: 5, upper: 10, scoreAtLower: 10, scoreAtUpper: 0 },
    ];
    expect(filled(scaled({ steps, at: 3 }))).toBe(undefined);
    expect(scaled({ steps, at: 3 })).toContain("the best lies between");
    expect(filled(scaled({ at: undefined }))).toBe(undefined);
    expect(scaled({ at: undefined })).toContain("no value");
  });

  it("shows the interval of the value below it, unless the line is of something else", () => {
    const sure = metric({ interval: { low: 21, high: 30 } });
    const text = thresholdBar(sure)?.text ?? "";
    // (21 - 8) / 26 and (30 - 8) / 26 of 94 percent.
    expect(text).toContain('<line x1="50%" y1="40" x2="82.54%" y2="40"');
    expect(text).toContain("interval from 21 to 30");
    expect(wordsOf(metricBars([sure], "Metrics")?.text ?? "")).toContain("Interval: 21 to 30.");
    const share = metric({
      interval: { low: 21, high: 30 },
      scale: { ...LINE, what: "percent of the reference" },
    });
    expect(thresholdBar(share)?.text).not.toContain("reach");
  });

  it("is not drawn where every value gets one score or the value counts as it is", () => {
    expect(thresholdBar(metric({ scale: undefined }))).toBe(undefined);
    expect(scaled({ worst: 5, best: 5 })).toBe("");
  });
});

describe("the table of metrics", () => {
  it("gives value, score and thresholds in words beside each bar", () => {
    expect(wordsOf(metricBars([metric()], "Metrics")?.text ?? "")).toContain(
      "Taxa richness 26 taxa 7.5 of 10 8 34 26 From 8 up to 34 scores 0 to 10.",
    );
  });

  it("says why a value is missing, and what was compared where it is not the plain value", () => {
    const missing = metric({ value: undefined, score: undefined, whyMissing: "no area in the log" });
    expect(wordsOf(metricBars([missing], "Metrics")?.text ?? "")).toContain("No area in the log. From 8");
    const share = metric({ scale: { ...LINE, what: "percent of the reference sample" } });
    expect(wordsOf(metricBars([share], "Metrics")?.text ?? "")).toContain(
      "They are for percent of the reference sample.",
    );
  });

  it("is left out of a sample without metrics", () => {
    expect(metricBars([], "Metrics")).toBe(undefined);
  });
});
