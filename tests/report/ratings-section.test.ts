import { describe, expect, it } from "vitest";
import { describeRatings, drawRatings } from "../../src/report/ratings-chart.ts";
import { ratingCounts } from "../../src/report/ratings-section.ts";
import { reportRun, reportSample } from "./report-sample.ts";

const samples = [
  reportSample({ stratum: "valley" }),
  reportSample({ stratum: "valley" }),
  reportSample({ stratum: "upland", rating: "poor", index: 20 }),
  reportSample({ stratum: "upland", rating: "", index: undefined, status: "refused" }),
];
const run = reportRun(samples);
const counts = ratingCounts(samples.map((sample) => ({ run, sample })));

describe("ratings by stratum", () => {
  it("are counted from the best class to the worst, then what has none", () => {
    expect(counts.strata).toEqual(["upland", "valley"]);
    expect(counts.ratings.map(({ rating }) => rating)).toEqual(["good", "fair", "poor", "refused"]);
    expect(counts.counts).toEqual([
      [0, 2],
      [0, 0],
      [1, 0],
      [1, 0],
    ]);
  });

  it("turn round where a low index is the good one", () => {
    const turned = { ...run, set: { ...run.set, higherIs: "worse" as const } };
    const { ratings } = ratingCounts(samples.map((sample) => ({ run: turned, sample })));
    expect(ratings.map(({ rating }) => rating)).toEqual(["poor", "fair", "good", "refused"]);
  });

  it("are told in words", () => {
    expect(describeRatings(counts)).toBe(
      "Ratings of 4 samples by stratum. upland: 1 poor, 1 refused; valley: 2 good.",
    );
  });

  it("are drawn with their numbers in them, never by colour alone, the same each time", () => {
    for (const size of ["broad", "narrow"] as const) {
      const svg = drawRatings(counts, "r", size);
      expect(svg).toMatch(/>2 good</);
      expect(svg).toMatch(/>1 poor</);
      expect(drawRatings(counts, "r", size)).toBe(svg);
    }
  });

  it("leave names in braces as they are", () => {
    const odd = { ...counts, ratings: counts.ratings.map((one) => ({ ...one, rating: `{b}${one.rating}` })) };
    expect(drawRatings(odd, "r", "broad")).not.toContain(">r<");
  });
});
