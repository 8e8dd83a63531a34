import { describe, expect, it } from "vitest";
import { indexScale, scaleEnds } from "../../src/report/index-scale.ts";
import { wordsOf } from "./page-words.ts";
import { reportSample } from "./report-sample.ts";

const scale = (...args: Parameters<typeof reportSample>) =>
  indexScale(reportSample(...args), "better")?.text ?? "";

describe("the index scale", () => {
  it("ends beyond open classes", () => {
    expect(scaleEnds(reportSample().classes, [65])).toEqual([31, 100]);
  });

  it("marks where the index stands, in percent of the picture", () => {
    // (65 - 31) / (100 - 31) of the 94 percent between the edges, behind the edge of 3.
    expect(scale()).toContain('<svg x="49.32%" y="20"');
    expect(scale()).toContain(
      'aria-label="Index 65, good, on a scale of poor below 40; fair from 40 to below 60',
    );
    expect(wordsOf(scale())).toContain("poor: below 40 fair: from 40 to below 60 good : from 60 up to 100");
  });

  it("is not drawn without an index or without classes", () => {
    expect(indexScale(reportSample({ index: undefined }), "better")).toBe(undefined);
    expect(indexScale(reportSample({ classes: [] }), "better")).toBe(undefined);
  });

  it("draws the interval as a line with ends, and says it", () => {
    const interval = {
      low: 58,
      high: 71,
      what: "90 percent interval",
      about: "",
      nextRating: "",
      support: 0.8,
    };
    const text = scale({ interval });
    const at = (value: number) => Math.round((3 + ((value - 31) / 69) * 94) * 100) / 100;
    expect(text).toContain(`<line x1="${at(58)}%" y1="72" x2="${at(71)}%" y2="72"`);
    expect(text.match(/<line /g)).toHaveLength(3);
    expect(text).toContain("90 percent interval from 58 to 71");
    expect(scale()).not.toContain("<line ");
  });

  it("puts a number in place of a name that does not fit, and explains it", () => {
    const classes = [
      { rating: "severely disturbed", lower: 0, upper: 1, span: "below 1", meaning: "" },
      { rating: "good", lower: 1, upper: 100, span: "from 1", meaning: "" },
    ];
    const text = wordsOf(scale({ classes }));
    expect(text).toContain("1 = severely disturbed: below 1");
    expect(text).not.toContain("2 = ");
  });
});
