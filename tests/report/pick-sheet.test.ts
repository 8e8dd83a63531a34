import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fraction } from "../../src/model/exact.ts";
import type { PickSheet } from "../../src/report/pick-sheet.ts";
import { EDGE_RULE, pickRules, TRAY_CAUTIONS, trayBands } from "../../src/report/pick-sheet.ts";
import { pickSheetsPage } from "../../src/report/pick-sheet-html.ts";
import { pickSheetsText, pickSheetText } from "../../src/report/pick-sheet-text.ts";
import { sampleTrays } from "../../src/subsample/sample-trays.ts";
import { targetRange } from "../../src/subsample/target-range.ts";
import type { Tray } from "../../src/subsample/tray.ts";
import { RULE } from "../helpers/small-draw.ts";

function sheetOf(tray: Tray, more: Partial<PickSheet> = {}): PickSheet {
  const trays = sampleTrays([tray], "7", "VN-01");
  return {
    sampleId: "VN-01",
    facts: [["site", "V1"]],
    tray,
    order: trays.orderOf(1),
    second: { tray, order: trays.orderOf(2) },
    rule: RULE,
    seed: "7",
    algorithm: trays.algorithm,
    ...more,
  };
}
const USUAL = { rows: 5, columns: 6 };
const words = (text: string) => text.replaceAll("&#39;", "'").replace(/\s+[-!]? ?/g, " ");

describe("a pick sheet", () => {
  it("says the target, its range, the least number of grids, the edge rule and the cautions", () => {
    for (const text of [pickSheetText(sheetOf(USUAL)), pickSheetsPage([sheetOf(USUAL)])]) {
      const told = words(text);
      expect(told).toContain("Pick at least 4 grids");
      expect(told).toContain("160 animals are reached (target 200, 160 to 240 are within range)");
      for (const sentence of [EDGE_RULE, ...TRAY_CAUTIONS]) expect(told).toContain(words(sentence));
      expect(told).toMatch(/Seed 7; grid-order\/1; jartally \d/);
    }
    expect(EDGE_RULE).toBe(
      "An animal on a line belongs to the grid that holds its head, or most of its body when the head cannot be told.",
    );
  });

  it("speaks by the rule in force", () => {
    const told = (rule: Partial<PickSheet["rule"]>, tray = USUAL) =>
      pickRules(sheetOf(tray, { rule: { ...RULE, ...rule } })).join("\n");
    expect(told({ stopAt: "target" })).toContain("with which 200 animals are reached");
    expect(told({ lastGrid: "whole" })).toContain("picked to its end, also when the count goes over 240");
    expect(told({ lastGrid: "whole" })).not.toContain("portion");
    expect(told({ range: targetRange(300, fraction(0)) })).toContain("(target 300)");
    expect(told({}, { rows: 1, columns: 1 })).toContain("Pick at least 1 grid.");
  });

  it("shows every grid once in the picture and once in the list, in the order of picking, for any tray", () => {
    const tray = fc.record({
      rows: fc.integer({ min: 1, max: 12 }),
      columns: fc.integer({ min: 1, max: 45 }),
    });
    fc.assert(
      fc.property(tray, (shape) => {
        const sheet = sheetOf(shape);
        const all = Array.from({ length: shape.rows * shape.columns }, (_, at) => at + 1);
        const html = pickSheetsPage([sheet]);
        const drawn = [...html.matchAll(/<text x="\d+" y="\d+">(\d+)<\/text>/g)].map(([, grid]) =>
          Number(grid),
        );
        expect(drawn.sort((a, b) => a - b)).toEqual(all);
        const listed = [...html.matchAll(/number">(\d+)<\/td><td class="number grid">(\d+)</g)];
        expect(listed.map(([, turn]) => Number(turn))).toEqual(all);
        expect(listed.map(([, , grid]) => Number(grid))).toEqual(sheet.order);
        const text = pickSheetText(sheet);
        const boxes = [...text.matchAll(/ *(\d+)\[ \] \|/g)].map(([, grid]) => Number(grid));
        expect(boxes.sort((a, b) => a - b)).toEqual(all);
        const lines = [...text.matchAll(/(\d+)\. grid (\d+) *\[ \] _____/g)];
        const byTurn = lines.map(([, turn, grid]) => [Number(turn), Number(grid)] as const);
        expect(byTurn.sort(([a], [b]) => a - b).map(([, grid]) => grid)).toEqual(sheet.order);
      }),
      { numRuns: 25 },
    );
  });

  it("marks the turn of each grid in the picture and shades those that are picked in any case", () => {
    const sheet = sheetOf(USUAL);
    const html = pickSheetsPage([sheet]);
    const cells = [
      ...html.matchAll(/class="grid( first)?"[^>]*\/><text[^>]*>(\d+)<\/text>.*?class="turn"[^>]*>(\d+)</g),
    ];
    expect(cells).toHaveLength(30);
    for (const [, first, grid, turn] of cells) {
      expect(sheet.order[Number(turn) - 1]).toBe(Number(grid));
      expect(first === " first").toBe(Number(turn) <= 4);
    }
  });

  it("keeps plain text within 78 columns and one page a sample", () => {
    const text = pickSheetsText([sheetOf(USUAL), sheetOf({ rows: 2, columns: 17 })]);
    expect(text.split("\f")).toHaveLength(2);
    for (const line of text.split(/[\n\f]/)) expect(line.length, line).toBeLessThanOrEqual(78);
    // 66 lines are a page of an ordinary line printer.
    expect(pickSheetText(sheetOf(USUAL)).split("\n").length).toBeLessThanOrEqual(66);
  });

  it("stands alone and makes nothing of what an id says", () => {
    const html = pickSheetsPage([sheetOf(USUAL, { sampleId: "<script>alert(1)</script>" })]);
    expect(html).not.toContain("<script");
    expect(html).toContain("sample &lt;script&gt;");
    expect(html).not.toMatch(/(src|href)=/);
    expect(pickSheetText(sheetOf(USUAL, { sampleId: "A\u001b[2J" }))).toContain("sample A\\x1b[2J");
  });

  it("puts a warning where it is read first", () => {
    const warned = sheetOf(USUAL, { warning: "Only 1 of 2 jars are in." });
    expect(pickSheetText(warned)).toMatch(/^PICK SHEET.*\n.*\n\nSTOP: Only 1 of 2 jars are in\.\n/);
    expect(pickSheetsPage([warned])).toContain('<p class="stop">Only 1 of 2 jars are in.</p>');
  });
});

describe("pieces of a wide tray", () => {
  it("cover all columns without a gap and are about equal", () => {
    expect(trayBands({ rows: 1, columns: 8 }, 8)).toEqual([{ from: 1, to: 8 }]);
    expect(trayBands({ rows: 1, columns: 9 }, 8)).toEqual([
      { from: 1, to: 4 },
      { from: 5, to: 9 },
    ]);
  });
});
