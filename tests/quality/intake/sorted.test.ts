import { describe, expect, it } from "vitest";
import { sortedFaults } from "../../../src/quality/intake/sorted.ts";
import { logOf } from "./rows.ts";

function faults(row: Readonly<Record<string, string>>, hasLaterTray = false): string[] {
  return [...logOf([row]).values()].flatMap((facts) =>
    sortedFaults(facts, hasLaterTray).map(
      (one) => `${one.column} ${one.severity} ${one.code} ${one.message}`,
    ),
  );
}

describe("what the log says of the sorting", () => {
  it("cannot be more grids than the tray has", () => {
    expect(faults({ tray: "5x6", grids_sorted: "36" })).toEqual([
      "3 warning grids-beyond-tray grids_sorted of S1 is 36, its tray 5x6 has 30 grids",
    ]);
    expect(faults({ tray: "5x6", grids_sorted: "30" })).toEqual([]);
    expect(faults({ tray: "5x6", grids_sorted: "36", fraction_sorted: "1" })).toHaveLength(1);
  });

  it("cannot be another share than that of its grids, but for rounding", () => {
    const row = { tray: "5x6", grids_sorted: "6" };
    expect(faults({ ...row, fraction_sorted: "0.5" })).toEqual([
      "4 warning sorted-share-differs fraction_sorted of S1 is 0.5, but 6 of 30 grids are 0.200",
    ]);
    expect(faults({ ...row, fraction_sorted: "0.1" })).toHaveLength(1);
    for (const share of ["0.2", "0.20", "0.205", "0.196"])
      expect(faults({ ...row, fraction_sorted: share })).toEqual([]);
    // 5 of 30 is 0.1666…
    expect(faults({ tray: "5x6", grids_sorted: "5", fraction_sorted: "0.17" })).toEqual([]);
    expect(faults({ tray: "5x6", grids_sorted: "3.5", fraction_sorted: "0.1167" })).toEqual([]);
  });

  it("may be a smaller share where there was a second tray, never a larger one", () => {
    const row = { tray: "5x6", grids_sorted: "6" };
    expect(faults({ ...row, fraction_sorted: "0.1" }, true)).toEqual([]);
    expect(faults({ ...row, fraction_sorted: "0.5" }, true)).toHaveLength(1);
    expect(faults({ ...row, fraction_sorted: "1" })).toHaveLength(1);
    expect(faults({ tray: "5x6", grids_sorted: "30", fraction_sorted: "0.5" }, true)).toEqual([]);
  });

  it("is no contradiction where a part of it is missing or cannot be read", () => {
    for (const row of [
      { tray: "5x6", fraction_sorted: "0.5" },
      { grids_sorted: "6", fraction_sorted: "0.5" },
      { tray: "round", grids_sorted: "6", fraction_sorted: "0.5" },
      { tray: "5x6", grids_sorted: "0", fraction_sorted: "0.5" },
      { tray: "5x6", grids_sorted: "6", fraction_sorted: "5" },
      { tray: "5x6", grids_sorted: "6", fraction_sorted: "0" },
      { tray: "5x6", grids_sorted: "6", fraction_sorted: "-0.2" },
    ])
      expect(faults(row as Record<string, string>)).toEqual([]);
  });
});
