import { describe, expect, it } from "vitest";
import { MOST_RESAMPLES, resamplingPlan } from "../../../src/scoring/intervals/plan.ts";

describe("a plan", () => {
  it("has a documented default for what it does not say", () => {
    expect(resamplingPlan({ resamples: 100 })).toEqual({
      resamples: 100,
      confidence: 0.9,
      interval: "mean",
      supportLimit: undefined,
      field: "none",
    });
  });

  it("keeps what it says", () => {
    const asked = {
      resamples: 1,
      confidence: 0.8,
      interval: "another-draw",
      supportLimit: 0.7,
      field: "both",
    } as const;
    expect(resamplingPlan(asked)).toEqual(asked);
  });

  it("takes from one to a million resamples, whole ones", () => {
    expect(MOST_RESAMPLES).toBe(1_000_000);
    for (const resamples of [1, 2, 1_000_000])
      expect(resamplingPlan({ resamples }).resamples).toBe(resamples);
    for (const resamples of [0, -1, 1.5, 1_000_001, Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => resamplingPlan({ resamples })).toThrow(
        `not a number of resamples from 1 to 1000000: ${resamples}`,
      );
  });

  it("takes a confidence above 0 and below 1, so that an interval has two ends", () => {
    for (const confidence of [0.001, 0.5, 0.999])
      expect(resamplingPlan({ resamples: 10, confidence }).confidence).toBe(confidence);
    for (const confidence of [0, 1, -0.1, 1.1, Number.NaN])
      expect(() => resamplingPlan({ resamples: 10, confidence })).toThrow(
        `not a confidence above 0 and below 1: ${confidence}`,
      );
  });

  it("takes any share as the limit of support, none and all of it too", () => {
    for (const supportLimit of [0, 0.5, 1])
      expect(resamplingPlan({ resamples: 10, supportLimit }).supportLimit).toBe(supportLimit);
    for (const supportLimit of [-0.01, 1.01, 80, Number.NaN])
      expect(() => resamplingPlan({ resamples: 10, supportLimit })).toThrow(
        `not a share from 0 to 1: ${supportLimit}`,
      );
  });
});
