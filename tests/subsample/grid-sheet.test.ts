import { describe, expect, it } from "vitest";
import { fraction } from "../../src/model/exact.ts";
import { checkGridSheet, drawableGrids } from "../../src/subsample/grid-sheet.ts";

const grids = (...names: string[]) => names.map((grid, at) => ({ grid, counts: [at + 1] }));

describe("a sheet with grids", () => {
  it("has nothing wrong with it where every grid is on the tray", () => {
    expect(checkGridSheet({ grids: grids("3", "30", "01"), gridsSorted: 5, gridsOnTray: 30 })).toEqual([]);
    expect(checkGridSheet({ grids: grids("B2", "A1"), gridsSorted: 2, gridsOnTray: 2 })).toEqual([]);
    expect(checkGridSheet({ grids: [], gridsSorted: 4, gridsOnTray: 30 })).toEqual([]);
  });

  it("is reported with everything that does not fit", () => {
    expect(checkGridSheet({ grids: grids("7", "07", "31", "0"), gridsSorted: 3, gridsOnTray: 30 })).toEqual([
      { kind: "grid-twice", grid: "07" },
      { kind: "grid-not-on-tray", grid: "31", gridsOnTray: 30 },
      { kind: "grid-not-on-tray", grid: "0", gridsOnTray: 30 },
      { kind: "more-grids-than-sorted", named: 4, gridsSorted: 3 },
    ]);
    expect(checkGridSheet({ grids: grids("A"), gridsSorted: 31, gridsOnTray: 30 })).toEqual([
      { kind: "more-sorted-than-on-tray", gridsSorted: 31, gridsOnTray: 30 },
    ]);
  });

  it.each([
    { grids: [{ grid: "1", counts: [1.5] }], gridsSorted: 1, gridsOnTray: 1 },
    {
      grids: [
        { grid: "1", counts: [1] },
        { grid: "2", counts: [1, 2] },
      ],
      gridsSorted: 2,
      gridsOnTray: 2,
    },
    { grids: [], gridsSorted: 0, gridsOnTray: 1 },
    { grids: [], gridsSorted: 1, gridsOnTray: 1.5 },
    { grids: [], gridsSorted: 1, gridsOnTray: 1, shareOnTray: fraction(0) },
    { grids: [], gridsSorted: 1, gridsOnTray: 1, shareOnTray: fraction(3, 2) },
  ])("is refused where the program itself went wrong: %j", (sheet) => {
    expect(() => checkGridSheet(sheet)).toThrow(RangeError);
  });
});

describe("the grids that can be drawn", () => {
  const names = (sheet: Parameters<typeof drawableGrids>[0]) =>
    drawableGrids(sheet).map(({ grid, counts }) => (counts === undefined ? `(${grid})` : grid));

  it("stand at their numbers where the whole tray was sorted", () => {
    expect(names({ grids: grids("6", "02", "4"), gridsSorted: 6, gridsOnTray: 6 })).toEqual([
      "(1)",
      "02",
      "(3)",
      "4",
      "(5)",
      "6",
    ]);
  });

  it("stand by number, then those without animals, where a part was sorted", () => {
    expect(names({ grids: grids("10", "9", "2"), gridsSorted: 5, gridsOnTray: 30 })).toEqual([
      "2",
      "9",
      "10",
      "()",
      "()",
    ]);
  });

  it("have no number when a letter follows it", () => {
    expect(names({ grids: grids("12a", "3", "12"), gridsSorted: 30, gridsOnTray: 30 }).slice(0, 3)).toEqual([
      "12",
      "12a",
      "3",
    ]);
    expect(checkGridSheet({ grids: grids("12a", "12"), gridsSorted: 2, gridsOnTray: 30 })).toEqual([]);
    expect(checkGridSheet({ grids: grids("40a"), gridsSorted: 2, gridsOnTray: 30 })).toEqual([]);
  });

  it("stand in code point order where a name is no number", () => {
    expect(names({ grids: grids("b1", "10", "9", "A2"), gridsSorted: 4, gridsOnTray: 4 })).toEqual([
      "10",
      "9",
      "A2",
      "b1",
    ]);
  });
});
