import { describe, expect, it } from "vitest";
import { gridOrder } from "../../src/subsample/grid-order.ts";
import { sampleTrays } from "../../src/subsample/sample-trays.ts";
import { randomStream } from "../../src/subsample/stream.ts";

const TRAY = { rows: 5, columns: 6 };
const SMALL = { rows: 2, columns: 5 };

describe("the trays of a sample", () => {
  it("have the orders of the streams of algorithm, seed, sample id and level", () => {
    const trays = sampleTrays([TRAY, SMALL], "7", "VN-01");
    expect(trays.algorithm).toBe("grid-order/1");
    expect(trays.orderOf(1)).toEqual(gridOrder(TRAY, randomStream("grid-order/1", "7", "VN-01")));
    expect(trays.orderOf(2)).toEqual(gridOrder(SMALL, randomStream("grid-order/1", "7", "VN-01", "level-2")));
    expect(trays.orderOfParts(1, 17, TRAY)).toEqual(
      gridOrder(TRAY, randomStream("grid-order/1", "7", "VN-01", "level-1-grid-17")),
    );
  });

  it("give the same order whenever they are asked, and another one on each tray", () => {
    const trays = sampleTrays([TRAY], "7", "VN-01");
    const third = trays.orderOf(3);
    const first = trays.orderOf(1);
    expect(trays.orderOf(1)).toBe(first);
    expect(sampleTrays([TRAY], "7", "VN-01").orderOf(3)).toEqual(third);
    expect(new Set([1, 2, 3, 4].map((level) => trays.orderOf(level).join())).size).toBe(4);
  });

  it("are all of the last shape beyond those that are given", () => {
    const trays = sampleTrays([TRAY, SMALL], "7", "VN-01");
    expect([1, 2, 3].map((level) => trays.gridsOnTray(level))).toEqual([30, 10, 10]);
    expect(trays.trayOf(5)).toBe(SMALL);
  });

  it("cannot be none, nor of an unknown algorithm", () => {
    expect(() => sampleTrays([], "7", "VN-01").orderOf(1)).toThrow(RangeError);
    expect(() => sampleTrays([TRAY], "7", "VN-01", "grid-order/0")).toThrow(RangeError);
  });
});
