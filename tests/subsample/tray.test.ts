import { describe, expect, it } from "vitest";
import { gridsOnTray, parseTray, placeOfGrid } from "../../src/subsample/tray.ts";

describe("the shape of a tray", () => {
  it.each([
    ["5x6", 5, 6],
    ["5X6", 5, 6],
    ["5×6", 5, 6],
    [" 5 x 6 ", 5, 6],
    ["1x1", 1, 1],
    ["100x100", 100, 100],
    ["10000x1", 10_000, 1],
  ])("is read from %j", (text, rows, columns) => {
    expect(parseTray(text)).toEqual({ rows, columns });
  });

  it.each([
    "",
    "30",
    "x",
    "5x",
    "x6",
    "0x6",
    "5x0",
    "5x00",
    "05x6",
    "5x6x7",
    "5*6",
    "5 6",
    "-5x6",
    "5.0x6",
    "101x100",
    "99999x99999",
  ])("is not %j", (text) => {
    expect(parseTray(text)).toBe(undefined);
  });

  it("gives the number of grids", () => {
    expect(gridsOnTray({ rows: 5, columns: 6 })).toBe(30);
    expect(gridsOnTray({ rows: 100, columns: 100 })).toBe(10_000);
    for (const tray of [
      { rows: 0, columns: 5 },
      { rows: -5, columns: -6 },
      { rows: 2.5, columns: 2 },
      { rows: 10_001, columns: 1 },
      { rows: Number.NaN, columns: 2 },
    ])
      expect(() => gridsOnTray(tray)).toThrow(RangeError);
  });

  it("says where a grid lies, row by row from the top left corner", () => {
    const tray = { rows: 5, columns: 6 };
    expect(placeOfGrid(tray, 1)).toEqual({ row: 1, column: 1 });
    expect(placeOfGrid(tray, 6)).toEqual({ row: 1, column: 6 });
    expect(placeOfGrid(tray, 7)).toEqual({ row: 2, column: 1 });
    expect(placeOfGrid(tray, 30)).toEqual({ row: 5, column: 6 });
    for (const grid of [0, 31, 1.5, -1]) expect(() => placeOfGrid(tray, grid)).toThrow(RangeError);
  });
});
