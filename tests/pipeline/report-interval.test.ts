import { describe, expect, it } from "vitest";
import { endsOf, reportInterval } from "../../src/pipeline/report-interval.ts";
import type { ScoreInterval } from "../../src/pipeline/result.ts";

const interval: ScoreInterval = {
  of: "mean",
  confidence: 0.9,
  resamples: 1000,
  sources: ["subsampling", "clumping"],
  low: 55.2,
  high: 70.1,
  support: 0.94,
  ratings: [],
  next: { rating: "fair", share: 0.06 },
  metrics: [],
};

describe("an interval in words", () => {
  it("says what it is about, what its spread comes from and what is not in it", () => {
    expect(reportInterval(interval)).toEqual({
      low: 55.2,
      high: 70.1,
      what: "90 percent interval",
      about:
        "The interval is about the mean index over all possible counts of this size from the same jar. Its spread comes from subsampling, clumping in the tray, worked out from 1000 repeated draws. Errors of identification and of the thresholds are not in it.",
      support: 0.94,
      nextRating: "fair",
    });
    expect(reportInterval({ ...interval, of: "another-draw" })?.about).toContain(
      "another count of this size",
    );
    expect(reportInterval({ ...interval, confidence: 0.29 })?.what).toBe("29 percent interval");
  });

  it("names what is likely next, or that it is no rating, or nothing", () => {
    expect(reportInterval({ ...interval, next: { rating: "", share: 0.1 } })?.nextRating).toBe("no rating");
    expect(reportInterval({ ...interval, next: undefined })?.nextRating).toBe("");
  });

  it("is none without two ends", () => {
    expect(reportInterval(undefined)).toBe(undefined);
    expect(reportInterval({ ...interval, low: undefined })).toBe(undefined);
    expect(endsOf({ low: 1, high: undefined })).toBe(undefined);
    expect(endsOf({ low: 0, high: 0 })).toEqual({ low: 0, high: 0 });
  });
});
