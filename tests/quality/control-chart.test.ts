import { describe, expect, it } from "vitest";
import { controlCharts } from "../../src/quality/control-chart.ts";

describe("controlCharts", () => {
  const about = { figure: "Sorting efficiency", limit: 90, side: "at-least" } as const;

  it("draws one chart per person in time order, undated points last", () => {
    const charts = controlCharts(
      [
        { person: "bo", sampleId: "E", date: "2024-05-01", value: 99, outcome: "pass" },
        { person: "ana", sampleId: "A", date: "", value: 92, outcome: "pass" },
        { person: "ana", sampleId: "B", date: "2024-06-01", value: 80, outcome: "fail" },
        { person: "ana", sampleId: "C", date: "2024-05-01", value: undefined, outcome: "not-computable" },
        { person: "ana", sampleId: "D", date: "2024-05-01", value: 95, outcome: "pass" },
      ],
      about,
    );
    expect(charts.map(({ person, failures, mean }) => [person, failures, mean])).toEqual([
      ["ana", 1, 89],
      ["bo", 0, 99],
    ]);
    expect(charts[0]?.points.map(({ sampleId }) => sampleId)).toEqual(["C", "D", "B", "A"]);
    expect(charts[0]).toMatchObject(about);
  });

  it("puts undated points last wherever they stood, and keeps the order within a day", () => {
    const order = (...points: [string, string][]) =>
      controlCharts(
        points.map(([sampleId, date]) => ({
          person: "",
          sampleId,
          date,
          value: 1,
          outcome: "pass" as const,
        })),
        about,
      )[0]?.points.map(({ sampleId }) => sampleId);
    expect(order(["A", ""], ["B", "2024-01-02"], ["C", ""], ["D", "2024-01-01"])).toEqual([
      "D",
      "B",
      "A",
      "C",
    ]);
    expect(order(["A", "2024-01-02"], ["B", ""], ["C", "2024-01-02"])).toEqual(["A", "C", "B"]);
    expect(order(["A", "2024-01-02"], ["B", "2024-01-01"])).toEqual(["B", "A"]);
    expect(order(["A", "2024-01-01"], ["B", "2024-01-02"], ["C", "2024-01-03"])).toEqual(["A", "B", "C"]);
    expect(order(["A", ""], ["B", ""], ["C", ""])).toEqual(["A", "B", "C"]);
  });

  it("has no mean without values and no chart without people", () => {
    const [chart] = controlCharts(
      [{ person: "ana", sampleId: "A", date: "", value: undefined, outcome: "not-computable" }],
      about,
    );
    expect(chart?.mean).toBeUndefined();
    expect(controlCharts([], about)).toEqual([]);
  });
});
