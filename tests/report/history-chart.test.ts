import { describe, expect, it } from "vitest";
import { describeHistory, drawHistory, historyCaption } from "../../src/report/history-chart.ts";
import { reportSample } from "./report-sample.ts";

const history = {
  name: "V1",
  days: [
    { day: "2022-05-01", samples: [reportSample({ index: 50 }), reportSample({ index: 60 })] },
    { day: "2023-05-01", samples: [reportSample({ index: undefined })] },
  ],
  classes: reportSample().classes,
};
const interval = {
  low: 58,
  high: 71,
  what: "90 percent interval",
  about: "",
  nextRating: "",
  support: undefined,
};
const withInterval = {
  ...history,
  days: [
    { day: "2021-05-01", samples: [reportSample({ index: 65, interval })] },
    { day: "2024-05-01", samples: [reportSample({ index: 45 })] },
  ],
};

describe("the history of a site", () => {
  it("is told in words, with the range of several samples and the interval of one", () => {
    expect(describeHistory(history)).toBe(
      "Index of V1 over time. 2022-05-01: 55 (mean of 2, from 50 to 60); 2023-05-01: no index.",
    );
    expect(describeHistory(withInterval)).toBe(
      "Index of V1 over time. 2021-05-01: 65 (interval from 58 to 71); 2024-05-01: 45.",
    );
  });

  it("explains only what is drawn", () => {
    expect(historyCaption(history)).toContain("from the least to the most");
    expect(historyCaption(history)).not.toContain("interval");
    expect(historyCaption(withInterval)).toContain("the interval of its index");
  });

  it("is the same picture each time, names the classes, and draws a bar where something reaches", () => {
    const svg = drawHistory(history, "h");
    expect(svg).toContain("60 good");
    expect(svg).not.toMatch(/<style|zr\d/);
    expect(drawHistory(history, "h")).toBe(svg);
    const bars = (picture: string) => picture.match(/stroke="#2b8cc4" stroke-width="2"/g)?.length ?? 0;
    // An upright line and its two ends.
    expect(bars(svg)).toBe(3);
    expect(bars(drawHistory(withInterval, "h"))).toBe(3);
    const plain = {
      ...history,
      days: withInterval.days.map((one) => ({ ...one, samples: [reportSample()] })),
    };
    expect(bars(drawHistory(plain, "h"))).toBe(0);
  });

  it("draws the limits first, so that none runs through a figure", () => {
    const svg = drawHistory(history, "h");
    expect(svg.lastIndexOf("stroke-dasharray")).toBeGreaterThan(0);
    expect(svg.lastIndexOf("stroke-dasharray")).toBeLessThan(svg.indexOf(">55</text>"));
  });

  it("puts days at their places in time, the same in every time zone", () => {
    const days = ["2020-01-01", "2020-02-01", "2024-01-01"].map((day) => ({
      day,
      samples: [reportSample()],
    }));
    const svg = drawHistory({ ...history, days }, "h");
    const dots = [
      ...svg.matchAll(
        /d="M1 0A1 1 0 1 1 1 -0\.1A1 1 0 0 1 1 0" transform="matrix\([\d.]+,0,0,[\d.]+,([\d.]+),/g,
      ),
    ].map(([, x]) => Number(x));
    expect(dots).toHaveLength(3);
    const [first = 0, second = 0, third = 0] = dots;
    // 31 of 1461 days.
    expect((second - first) / (third - first)).toBeCloseTo(31 / 1461, 2);
  });

  it("is drawn also where a day is no whole date", () => {
    const days = ["2020", "2021"].map((day) => ({ day, samples: [reportSample()] }));
    expect(drawHistory({ ...history, days }, "h")).toContain("2021");
  });
});
