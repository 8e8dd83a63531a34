import { describe, expect, it } from "vitest";
import { exactOf, fraction, toNumber } from "../../../src/model/exact.ts";
import { densityPerM2, expandStages } from "../../../src/subsample/expansion.ts";
import type { TrayPick } from "../../../src/subsample/pick-log.ts";
import { stoppingBias } from "../../../src/subsample/stopping-bias.ts";
import { targetRange } from "../../../src/subsample/target-range.ts";
import { trayProgress } from "../../../src/subsample/tray-progress.ts";

/** Sources: README.md beside this file. */
describe("trays of EPA 841-B-99-002, chapter 7.3.1", () => {
  it("expands 212 animals in 4 of 30 grids to 1590, 512.9 on each of 3.1 square metres", () => {
    const expansion = expandStages([{ gridsOnTray: 30, wholeGrids: 4, animals: 212 }]);
    expect(toNumber(expansion?.fractionSorted ?? fraction(0))).toBeCloseTo(0.133333, 6);
    expect(toNumber(expansion?.estimatedTotal ?? fraction(0))).toBe(1590);
    // 20 jabs of a net sample about 3.1 square metres (chapter 7.2).
    expect(toNumber(densityPerM2(fraction(1590), exactOf(3.1)))).toBeCloseTo(512.903226, 6);
  });

  it("expands 205 animals in 9 of 30 grids of a second tray with 4 of 30 grids to 5125", () => {
    const expansion = expandStages([
      { gridsOnTray: 30, wholeGrids: 0, animals: 0, movedGrids: 4 },
      { gridsOnTray: 30, wholeGrids: 9, animals: 205 },
    ]);
    expect(toNumber(expansion?.fractionSorted ?? fraction(0))).toBeCloseTo(0.04, 12);
    expect(toNumber(expansion?.estimatedTotal ?? fraction(0))).toBe(5125);
  });

  it("expands a split ninth grid of the second tray to 5775 animals, where the plain share gives 5589", () => {
    const shapes = {
      gridsOnTray: () => 30,
      orderOf: () => Array.from({ length: 30 }, (_, at) => at + 1),
    };
    // 195 animals in 8 grids of the second tray; their numbers are invented, their sum is not.
    const eight = [20, 25, 30, 24, 26, 22, 28, 20];
    const log: TrayPick[] = [
      ...[1, 2, 3, 4].map((grid) => ({ level: 1, grid, picked: 0 })),
      ...eight.map((picked, at) => ({ level: 2, grid: at + 1, picked })),
      { level: 2, grid: 9, picked: 12, portion: fraction(10, 30) },
    ];
    const { animals, expansion, next } = trayProgress(log, shapes, {
      range: targetRange(200, fraction(1, 5)),
      stopAt: "target",
      atLeast: 4,
      lastGrid: "split",
    });
    expect(animals).toBe(207);
    expect(next).toEqual({ kind: "done", outcome: "within" });
    expect(expansion?.estimatedTotal).toEqual({ num: 5775, den: 1 });
    expect(207 / toNumber(expansion?.fractionSorted ?? fraction(1))).toBeCloseTo(5589, 9);
  });
});

describe("ranges of published targets", () => {
  it.each([
    [200, 20, 160, 240, "EPA 841-B-99-002"],
    [100, 20, 80, 120, "EPA 841-B-99-002, the same rule"],
    [300, 20, 240, 360, "EPA 841-B-99-002, the same rule"],
    [500, 10, 450, 550, "Clallam County 2007"],
    [500, 20, 400, 600, "EPA 841-B-17-004, from memory"],
  ])("%d within %d percent is %d to %d (%s)", (target, percent, lower, upper) => {
    expect(targetRange(target, fraction(percent, 100))).toEqual({ target, lower, upper });
  });
});

describe("stopping at a count", () => {
  it("overestimates a fairly even tray of 1500 animals by 0.591 percent", () => {
    const tray = [
      48, 55, 41, 60, 52, 39, 47, 58, 50, 44, 61, 53, 46, 49, 57, 42, 51, 38, 63, 45, 54, 40, 56, 43, 59, 48,
      50, 52, 47, 52,
    ];
    const { trueTotal, biasPercent } = stoppingBias(tray, 200, 4);
    expect(trueTotal).toBe(1500);
    expect(biasPercent).toBeCloseTo(0.591, 3);
  });
});
