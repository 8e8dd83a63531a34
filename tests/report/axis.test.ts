import { describe, expect, it } from "vitest";
import { anchorOf, axisEnds, fitBetween, lineAxis, withoutOverlap } from "../../src/report/axis.ts";

describe("lineAxis", () => {
  it("spreads values over the picture with three percent of room at both ends", () => {
    const { at } = lineAxis(0, 100);
    expect([at(0), at(50), at(100)]).toEqual([3, 50, 97]);
  });

  it("turns round where it goes from the larger to the smaller value", () => {
    const { at } = lineAxis(60, 15);
    expect([at(60), at(15)]).toEqual([3, 97]);
  });

  it("keeps what lies beyond at the ends, and a line without length in the middle", () => {
    const { at } = lineAxis(0, 10);
    expect([at(-5), at(50)]).toEqual([3, 97]);
    expect(lineAxis(4, 4).at(4)).toBe(50);
  });
});

describe("axisEnds", () => {
  it("ends at the last limit or value, and goes on where the last class is open", () => {
    expect(axisEnds([10, 20], [12], { low: false, high: false })).toEqual([10, 20]);
    expect(axisEnds([10, 20], [30], { low: false, high: false })).toEqual([10, 30]);
    expect(axisEnds([10, 20], [12], { low: true, high: true })).toEqual([8.5, 21.5]);
    expect(axisEnds([5], [5], { low: true, high: false })).toEqual([4, 5]);
    expect(axisEnds([], [], { low: true, high: true })).toEqual([0, 1]);
  });
});

describe("texts on a line", () => {
  it("leave out what would run into another, the ends before all others", () => {
    const labels = [3, 6, 50, 94, 97].map((at) => ({ at, text: "12.5" }));
    expect(withoutOverlap(labels).map(({ at }) => at)).toEqual([3, 50, 97]);
    expect(withoutOverlap([])).toEqual([]);
    expect(withoutOverlap([{ at: 50, text: "7" }])).toEqual([{ at: 50, text: "7" }]);
  });

  it("fit by their letters, in broad pictures sooner than in narrow ones", () => {
    expect(fitBetween("good", 0, 20)).toBe("always");
    expect(fitBetween("very poor", 0, 20)).toBe("broad");
    expect(fitBetween("very poor", 0, 5)).toBe("never");
  });

  it("never stick out at an end", () => {
    expect(anchorOf({ at: 3, text: "100" })).toBe("start");
    expect(anchorOf({ at: 50, text: "100" })).toBe("middle");
    expect(anchorOf({ at: 97, text: "100" })).toBe("end");
  });
});
