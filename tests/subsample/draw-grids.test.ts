import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { exactOf, fraction, toNumber } from "../../src/model/exact.ts";
import { drawGrids } from "../../src/subsample/draw-grids.ts";
import { drawIndividuals } from "../../src/subsample/draw-individuals.ts";
import { shuffled } from "../../src/subsample/grid-order.ts";
import type { GridSheet } from "../../src/subsample/grid-sheet.ts";
import type { StopRule } from "../../src/subsample/stop-rule.ts";
import { stoppingBias } from "../../src/subsample/stopping-bias.ts";
import { randomStream } from "../../src/subsample/stream.ts";
import { targetRange } from "../../src/subsample/target-range.ts";
import { everyCourse } from "./helpers/every-course.ts";

const stream = (sampleId = "VN-01", seed = "1") => randomStream("fixed-count-grid/1", seed, sampleId);
const within20 = targetRange(200, fraction(1, 5));
const rule: StopRule = { range: within20, stopAt: "lower", atLeast: 4, lastGrid: "split" };

/** A tray on which the grid with number g holds the g-th count, in one pile. */
function tray(...counts: number[]): GridSheet {
  const grids = counts.map((count, at) => ({ grid: String(at + 1), counts: [count] }));
  return { grids, gridsSorted: counts.length, gridsOnTray: counts.length };
}
/** All grids alike, so that the order does not matter. */
const alike = (grids: number, animals: number) => tray(...new Array<number>(grids).fill(animals));

describe("a draw by grid", () => {
  it("takes grids in the random order of its stream", () => {
    const sheet = tray(...Array.from({ length: 30 }, (_, at) => 20 + at));
    const draw = drawGrids(sheet, rule, stream());
    const order = shuffled(30, stream()).map((place) => String(place + 1));
    expect(draw.grids.map((grid) => grid.grid)).toEqual(order.slice(0, draw.grids.length));
    for (const { grid, animals, kept, left } of draw.grids) {
      expect(animals).toBe(19 + Number(grid));
      expect(left).toEqual([kept]);
    }
  });

  it("stops with 170 animals in four grids at the lower end, and goes on where the target is asked for", () => {
    const sheet = tray(40, 40, 45, 45, ...new Array<number>(26).fill(0));
    const inOrder = { below: () => 0 };
    const lower = drawGrids(sheet, rule, inOrder);
    expect([lower.kept, lower.grids.length, lower.status, lower.split]).toEqual([170, 4, "drawn", "none"]);
    // Without another animal on the tray, everything is taken, and 170 is still inside of the range.
    const target = drawGrids(sheet, { ...rule, stopAt: "target" }, inOrder);
    expect([target.kept, target.grids.length, target.status]).toEqual([170, 30, "whole"]);
  });

  it.each([
    { first: 40, kept: 160, grids: 4, why: "160 is enough" },
    { first: 60, kept: 240, grids: 4, why: "240 is not too many" },
  ])("has both ends of the range inside: $why", ({ first, kept, grids }) => {
    const draw = drawGrids(alike(30, first), rule, stream());
    expect([draw.kept, draw.grids.length, draw.split, draw.isOver]).toEqual([kept, grids, "none", false]);
  });

  it("goes on one animal below the lower end, and splits one above the upper end", () => {
    const below = drawGrids(tray(40, 40, 40, 39, 10), rule, { below: () => 0 });
    expect([below.kept, below.grids.length]).toEqual([169, 5]);
    const above = drawGrids(tray(60, 60, 60, 61, 10), rule, { below: () => 0 });
    expect([above.kept, above.grids.length, above.split]).toEqual([200, 4, "last-grid"]);
  });

  it("picks the least number of grids even where fewer hold enough", () => {
    const draw = drawGrids(
      alike(30, 45),
      { ...rule, range: targetRange(80), atLeast: 4, lastGrid: "whole" },
      stream(),
    );
    expect([draw.grids.length, draw.kept, draw.isOver]).toEqual([4, 180, true]);
    const all = drawGrids(tray(5, 5), { ...rule, atLeast: 4 }, stream());
    expect(all.grids.length).toBe(2);
  });

  it("splits the last grid into just what the target lacks, and expands it by its own part", () => {
    const draw = drawGrids(alike(30, 90), { ...rule, atLeast: 1 }, stream());
    // 90 + 90 is enough for the lower end.
    expect([draw.kept, draw.split]).toEqual([180, "none"]);
    const dense = drawGrids(alike(30, 150), { ...rule, atLeast: 1 }, stream());
    expect(dense.grids.map(({ animals, kept }) => [animals, kept])).toEqual([
      [150, 150],
      [150, 50],
    ]);
    expect(dense.split).toBe("last-grid");
    expect(toNumber(dense.estimatedTotal)).toBe(4500);
    // One grid and a third of another one, of 30.
    expect(dense.fractionSorted).toEqual({ num: 2, den: 45 });
  });

  it("counts of a split grid the share of its own animals as sorted, whatever the grids before it held", () => {
    const sheet = tray(30, 180, ...new Array<number>(8).fill(0));
    const draw = drawGrids(sheet, { ...rule, range: targetRange(120), atLeast: 1 }, { below: () => 0 });
    expect(draw.grids.map(({ animals, kept }) => [animals, kept])).toEqual([
      [30, 30],
      [180, 90],
    ]);
    // One grid and a half of ten.
    expect(draw.fractionSorted).toEqual({ num: 3, den: 20 });
    expect(toNumber(draw.estimatedTotal)).toBe(1050);
  });

  it("is none where the rule asks for nothing", () => {
    const nothing = { ...rule, range: targetRange(20, fraction(1)), atLeast: 0 };
    expect(() => drawGrids(alike(4, 10), nothing, stream())).toThrow("no grid was drawn");
  });

  it("keeps a last grid whole where asked to, and says that it is over", () => {
    const draw = drawGrids(alike(30, 150), { ...rule, atLeast: 1, lastGrid: "whole" }, stream());
    expect([draw.kept, draw.split, draw.isOver, draw.status]).toEqual([300, "none", true, "drawn"]);
    expect(draw.fractionSorted).toEqual({ num: 1, den: 15 });
  });

  it("draws the animals of a split grid with the same stream, after the order", () => {
    const sheet: GridSheet = {
      grids: [{ grid: "1", counts: [60, 30, 20, 7] }],
      gridsSorted: 1,
      gridsOnTray: 30,
    };
    const draw = drawGrids(sheet, { ...rule, range: targetRange(50), atLeast: 1 }, stream());
    expect(draw.left).toEqual(drawIndividuals([60, 30, 20, 7], 50, stream()));
    expect(draw.status).toBe("drawn");
  });

  it("spreads all grids again where those picked in any case hold too many before the last", () => {
    const draw = drawGrids(alike(30, 100), rule, stream());
    expect([draw.kept, draw.split, draw.grids.length]).toEqual([200, "all-grids", 4]);
    expect(draw.grids.reduce((sum, { kept }) => sum + kept, 0)).toBe(200);
    // 200 of the 400 animals of 4 of 30 grids.
    expect(draw.fractionSorted).toEqual({ num: 1, den: 15 });
    expect(toNumber(draw.estimatedTotal)).toBe(3000);
    // Four of five grids hold just the target, so not one animal of the fifth has room.
    const full = drawGrids(alike(30, 50), { ...rule, atLeast: 5 }, stream());
    expect([full.kept, full.split, full.grids.length]).toEqual([200, "all-grids", 5]);
  });

  it("counts the grids without animals that were sorted", () => {
    const sheet: GridSheet = { grids: [{ grid: "12", counts: [9] }], gridsSorted: 8, gridsOnTray: 30 };
    const draw = drawGrids(sheet, rule, stream());
    expect(draw.grids.length).toBe(8);
    expect(draw.grids.map(({ grid }) => grid).sort()).toEqual(["", "", "", "", "", "", "", "12"]);
    expect(toNumber(draw.estimatedTotal)).toBe(33.75);
    expect(draw.fractionSorted).toEqual({ num: 4, den: 15 });
  });

  it("takes the share of the sample on this tray into account", () => {
    const draw = drawGrids({ ...alike(30, 50), shareOnTray: fraction(4, 30) }, rule, stream());
    expect(draw.kept).toBe(200);
    expect(toNumber(draw.estimatedTotal)).toBe(11_250);
    expect(draw.fractionSorted).toEqual({ num: 4, den: 225 });
  });

  it.each([
    { sheet: tray(10, 20), status: "whole", why: "everything was sorted" },
    { sheet: tray(0, 0), status: "empty", why: "everything was sorted and nothing found" },
    { sheet: { ...tray(10, 20), gridsOnTray: 30 }, status: "under-target", why: "a part was sorted" },
    { sheet: { ...tray(10, 20), shareOnTray: exactOf(0.5) }, status: "under-target", why: "a part lay here" },
    { sheet: { ...tray(80, 80), gridsOnTray: 30 }, status: "whole", why: "the count is in the range" },
    {
      sheet: { grids: [], gridsSorted: 4, gridsOnTray: 30 },
      status: "under-target",
      why: "four grids were empty",
    },
  ] as const)("says $status where $why", ({ sheet, status }) => {
    expect(drawGrids(sheet, rule, stream()).status).toBe(status);
  });

  it("says when the grids were few", () => {
    expect(drawGrids(alike(30, 50), rule, stream()).hasFewGrids).toBe(true);
    expect(drawGrids(alike(30, 20), rule, stream()).hasFewGrids).toBe(false);
    expect(drawGrids(alike(4, 1), rule, stream()).hasFewGrids).toBe(false);
  });

  it("refuses a sheet that does not fit its tray", () => {
    expect(() => drawGrids({ ...tray(1, 2, 3), gridsOnTray: 2 }, rule, stream())).toThrow(/grid-not-on-tray/);
  });
});

describe("any draw by grid", () => {
  const sheets = fc
    .tuple(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 4 }))
    .chain(([grids, piles]) =>
      fc.array(fc.array(fc.integer({ min: 0, max: 90 }), { minLength: piles, maxLength: piles }), {
        minLength: grids,
        maxLength: grids,
      }),
    )
    .map((rows): GridSheet => {
      const grids = rows.map((counts, at) => ({ grid: String(at + 1), counts }));
      return { grids, gridsSorted: rows.length, gridsOnTray: rows.length };
    });
  const rules = fc.record({
    range: fc
      .tuple(fc.integer({ min: 1, max: 400 }), fc.integer({ min: 0, max: 40 }))
      .map(([target, percent]) => targetRange(target, fraction(percent, 100))),
    stopAt: fc.constantFrom("lower" as const, "target" as const),
    atLeast: fc.integer({ min: 1, max: 6 }),
    lastGrid: fc.constantFrom("whole" as const, "split" as const),
  });

  it("keeps whole numbers that add up, and never more than was there", () => {
    fc.assert(
      fc.property(sheets, rules, fc.string(), (sheet, any, id) => {
        const draw = drawGrids(sheet, any, stream(id));
        const total = sheet.grids.flatMap(({ counts }) => Array.from(counts)).reduce((sum, n) => sum + n, 0);
        for (const { grid, left, kept, animals } of draw.grids) {
          const before = sheet.grids.find((other) => other.grid === grid)?.counts;
          expect(left.every((count, pile) => count >= 0 && count <= (before?.[pile] ?? 0))).toBe(true);
          expect(left.reduce((sum, count) => sum + count, 0)).toBe(kept);
          expect(kept <= animals).toBe(true);
        }
        expect(draw.left.reduce((sum, count) => sum + count, 0)).toBe(draw.kept);
        if (any.lastGrid === "split") expect(draw.kept).toBeLessThanOrEqual(any.range.upper);
        if (draw.split !== "none") expect(draw.kept).toBe(any.range.target);
        if (draw.grids.length < sheet.gridsSorted) {
          expect(draw.grids.length).toBeGreaterThanOrEqual(any.atLeast);
          const enough = any.stopAt === "lower" ? any.range.lower : any.range.target;
          expect(draw.kept).toBeGreaterThanOrEqual(enough);
        } else if (draw.split === "none") expect(draw.kept).toBe(total);
        const drawn = draw.grids.reduce((sum, { animals }) => sum + animals, 0);
        expect(toNumber(draw.estimatedTotal)).toBeCloseTo((drawn * sheet.gridsOnTray) / draw.grids.length, 8);
      }),
      { seed: 12, numRuns: 500 },
    );
  });

  it("does not depend on the order of the grids on the sheet, or on grids without animals being named", () => {
    fc.assert(
      fc.property(sheets, rules, (sheet, any) => {
        const draw = drawGrids(sheet, any, stream());
        expect(drawGrids({ ...sheet, grids: [...sheet.grids].reverse() }, any, stream())).toEqual(draw);
        const named = sheet.grids.filter(({ counts }) => Array.from(counts).some((count) => count > 0));
        if (named.length > 0) expect(drawGrids({ ...sheet, grids: named }, any, stream())).toEqual(draw);
      }),
      { seed: 13 },
    );
  });

  it("overestimates the total by what theory says, over all orders of the grids", () => {
    const counts = [0, 9, 1, 4, 30];
    const whole: StopRule = { range: targetRange(10), stopAt: "target", atLeast: 2, lastGrid: "whole" };
    const courses = everyCourse((source) =>
      toNumber(drawGrids(tray(...counts), whole, source).estimatedTotal),
    );
    expect(courses.length).toBe(120);
    const mean = courses.reduce((sum, { result }) => sum + result, 0) / courses.length;
    expect(mean).toBeCloseTo(stoppingBias(counts, 10, 2).expectedEstimate, 10);
  });

  it("is right on average where a fixed number of grids is drawn", () => {
    const counts = [0, 9, 1, 4, 30];
    const fixed: StopRule = { range: targetRange(1), stopAt: "target", atLeast: 3, lastGrid: "whole" };
    const courses = everyCourse((source) =>
      toNumber(drawGrids(tray(...counts), fixed, source).estimatedTotal),
    );
    const mean = courses.reduce((sum, { result }) => sum + result, 0) / courses.length;
    expect(mean).toBeCloseTo(44, 10);
  });
});
