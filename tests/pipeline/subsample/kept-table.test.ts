import { describe, expect, it } from "vitest";
import { LIFE_STAGES } from "../../../src/model/life-stage.ts";
import { KEPT_KINDS, KeptTable, keptKind } from "../../../src/pipeline/subsample/kept-table.ts";
import { pileBits } from "../../../src/taxa/counted-columns.ts";

describe("the table of rows that remain", () => {
  it("gives every stage, part and word about distinctness back, each of its own kind", () => {
    const kept = new KeptTable();
    const kinds = new Set<number>();
    const rows = LIFE_STAGES.flatMap((stage) =>
      [false, true].flatMap((largeRare) =>
        (["", "yes", "no"] as const).map((distinct) => ({ stage, largeRare, distinct })),
      ),
    );
    for (const [at, { stage, largeRare, distinct }] of rows.entries()) {
      const kind = keptKind(LIFE_STAGES.indexOf(stage), pileBits(largeRare, distinct));
      kinds.add(kind);
      kept.add(at, at * 1e9, kind, 1 + (at % 3));
    }
    expect([kinds.size, kept.size]).toEqual([rows.length, rows.length]);
    expect(Math.max(...kinds)).toBeLessThan(KEPT_KINDS);
    expect(rows.map((_, at) => kept.rowAt(at))).toEqual(
      rows.map((row, at) => ({
        ...row,
        name: at,
        count: at * 1e9,
        numberOfTaxa: 1 + (at % 3),
        grid: "",
        trayLevel: "",
      })),
    );
  });

  it("grows, names grids where they are given, and is empty again when it was cleared", () => {
    const kept = new KeptTable();
    for (let row = 0; row < 5000; row++) {
      kept.add(row, row + 1, keptKind(2, pileBits(false, "")), 1);
      if (row % 2 === 1) kept.setPlace(`G${row}`, "2");
    }
    expect(kept.size).toBe(5000);
    expect([kept.rowAt(4998), kept.rowAt(4999)]).toMatchObject([
      { name: 4998, count: 4999, grid: "", trayLevel: "" },
      { name: 4999, count: 5000, grid: "G4999", trayLevel: "2" },
    ]);
    kept.clear();
    kept.add(7, 3, keptKind(4, pileBits(true, "no")), 2);
    kept.add(8, 4, keptKind(4, pileBits(true, "no")), 2);
    expect([kept.size, kept.rowAt(1).grid]).toEqual([2, ""]);
  });
});
