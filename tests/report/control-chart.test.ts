import { describe, expect, it } from "vitest";
import type { ControlChart } from "../../src/quality/control-chart.ts";
import { describeControlChart, drawControlChart } from "../../src/report/control-chart.ts";

const CHART: ControlChart = {
  person: "ana",
  figure: "Sorting efficiency",
  limit: 90,
  side: "at-least",
  points: [
    { sampleId: "A", date: "2024-05-02", value: 96, outcome: "pass" },
    { sampleId: "B", date: "2024-05-09", value: 250 / 3, outcome: "fail" },
    { sampleId: "C", date: "2024-05-16", value: undefined, outcome: "not-computable" },
    { sampleId: "D", date: "", value: 90, outcome: "pass" },
  ],
  mean: 89.8,
  failures: 1,
};

describe("drawControlChart", () => {
  it("draws the same picture every time, whatever was drawn before", () => {
    const first = drawControlChart(CHART, "a");
    drawControlChart({ ...CHART, points: CHART.points.slice(0, 2) }, "b");
    expect(drawControlChart(CHART, "a")).toBe(first);
  });

  it("names its parts after the id, so that several stand on one page", () => {
    const svg = drawControlChart(CHART, "chart-7");
    const ids = [...svg.matchAll(/\bid="([^"]+)"/g)].map((match) => match[1] ?? "");
    expect(ids.every((id) => id.startsWith("chart-7-"))).toBe(true);
    for (const [, used] of svg.matchAll(/url\(#([^)]+)\)/g)) expect(ids).toContain(used);
  });

  it("marks the point that failed by shape and by name, not by colour alone", () => {
    const svg = drawControlChart(CHART, "a");
    expect(svg).toContain("B: 83.33");
    expect(svg.match(/d="M0 -1L1 0L0 1L-1 0Z"/g)).toHaveLength(1);
    expect(svg.match(/d="M1 0A1 1 0 1 1 1 -0\.1A1 1 0 0 1 1 0"/g)).toHaveLength(2);
    expect(svg).toContain("limit 90");
    expect(svg).toContain("stroke-dasharray");
  });

  it("keeps the name of a failure within the chart", () => {
    const anchorOf = (failed: number) => {
      const points = Array.from({ length: 5 }, (_, at) => ({
        sampleId: `S${at}`,
        date: "",
        value: at === failed ? 85 : 95,
        outcome: at === failed ? ("fail" as const) : ("pass" as const),
      }));
      const svg = drawControlChart({ ...CHART, points }, "a", "narrow");
      const label = new RegExp(`<text[^>]*>S${failed}: 85</text>`).exec(svg)?.[0] ?? "";
      return /text-anchor="(\w+)"/.exec(label)?.[1];
    };
    expect([0, 2, 4].map(anchorOf)).toEqual(["start", "middle", "end"]);
  });

  it("leaves a gap where there is no figure", () => {
    // One stroke from A to B; D stands alone behind the gap.
    const line = /<path d="(M[^"]+)"[^>]*stroke="#0072B2"/.exec(drawControlChart(CHART, "a"))?.[1] ?? "";
    expect(line.match(/L/g)).toHaveLength(1);
  });

  it("marks every point and every failure, however many there are", () => {
    const points = Array.from({ length: 60 }, (_, at) => ({
      sampleId: `S${at}`,
      date: `2024-01-${String((at % 28) + 1).padStart(2, "0")}`,
      value: at % 10 === 3 ? 85 : 95,
      outcome: at % 10 === 3 ? ("fail" as const) : ("pass" as const),
    }));
    const svg = drawControlChart({ ...CHART, points }, "a");
    expect(svg.match(/d="M0 -1L1 0L0 1L-1 0Z"/g)).toHaveLength(6);
    expect(svg.match(/d="M1 0A1 1 0 1 1 1 -0\.1A1 1 0 0 1 1 0"/g)).toHaveLength(54);
  });

  it("carries its description, and no script, style or outside address", () => {
    const nasty = { ...CHART, person: '"><script>alert(1)</script>' };
    const svg = drawControlChart(nasty, "a");
    expect(svg).not.toContain("<script");
    expect(svg).not.toContain("<style");
    expect(svg.replaceAll(/xmlns(:\w+)?="[^"]*"/g, "")).not.toContain("http");
    expect(svg).toContain('role="img" aria-label="Sorting efficiency of &quot;&gt;&lt;script');
  });

  it("draws charts without a limit and without values", () => {
    const { limit, ...rest } = CHART;
    expect(limit).toBe(90);
    expect(drawControlChart({ ...rest, limit: undefined }, "a")).not.toContain("stroke-dasharray");
    const empty = { ...CHART, limit: undefined, points: CHART.points.slice(2, 3) };
    expect(drawControlChart(empty, "a")).toContain(">100</text>");
  });
});

describe("describeControlChart", () => {
  it("says in words what the picture shows", () => {
    expect(describeControlChart(CHART)).toBe(
      "Sorting efficiency of ana: 3 samples over time; 1 not computable, limit at least 90 percent, 1 missed it: B (83.33).",
    );
    expect(
      describeControlChart({ ...CHART, person: "", limit: undefined, points: CHART.points.slice(0, 1) }),
    ).toBe("Sorting efficiency of an unknown person: 1 sample over time, no limit, none missed it.");
  });
});
