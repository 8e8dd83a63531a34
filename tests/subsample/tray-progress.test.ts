import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fraction, toNumber } from "../../src/model/exact.ts";
import type { TrayPick } from "../../src/subsample/pick-log.ts";
import { sampleTrays } from "../../src/subsample/sample-trays.ts";
import type { StopRule } from "../../src/subsample/stop-rule.ts";
import { targetRange } from "../../src/subsample/target-range.ts";
import { trayProgress } from "../../src/subsample/tray-progress.ts";

/** Trays of 30 grids that are picked in the order 30, 29, ... 1, so that order and number cannot be confused. */
const shapes = {
  gridsOnTray: () => 30,
  orderOf: () => Array.from({ length: 30 }, (_, at) => 30 - at),
};
const rule: StopRule = {
  range: targetRange(200, fraction(1, 5)),
  stopAt: "lower",
  atLeast: 4,
  lastGrid: "split",
};
/** Picks of a level in the order in which they were to be made. */
const picks = (level: number, ...counts: (number | undefined)[]): TrayPick[] =>
  counts.map((picked, at) => ({ level, grid: 30 - at, picked }));
const progress = (log: TrayPick[], changes: Partial<StopRule> = {}) =>
  trayProgress(log, shapes, { ...rule, ...changes });
const next = (log: TrayPick[], changes: Partial<StopRule> = {}) => progress(log, changes).next;

describe("at the tray", () => {
  it("a sample not begun starts with the first grid of its order", () => {
    expect(progress([])).toEqual({
      next: { kind: "pick-grid", level: 1, grid: 30, because: "grids" },
      animals: 0,
      missing: 160,
      levels: [{ level: 1, gridsOnTray: 30, picked: [], moved: [], isSetAside: false }],
      expansion: undefined,
      hasFewGrids: false,
      problems: [],
    });
  });

  it("the least number of grids is picked even where fewer hold enough", () => {
    expect(next(picks(1, 80, 80, 10))).toEqual({ kind: "pick-grid", level: 1, grid: 27, because: "grids" });
    expect(next(picks(1, 80, 80, 10, 20))).toEqual({ kind: "done", outcome: "within" });
  });

  it("four grids with 170 animals are finished at the lower end and not at the target", () => {
    const log = picks(1, 40, 40, 45, 45);
    expect(next(log)).toEqual({ kind: "done", outcome: "within" });
    expect(next(log, { stopAt: "target" })).toEqual({
      kind: "pick-grid",
      level: 1,
      grid: 26,
      because: "animals",
    });
    expect(progress(log, { stopAt: "target" }).missing).toBe(30);
  });

  it.each([
    [159, { kind: "pick-grid", level: 1, grid: 26, because: "animals" }],
    [160, { kind: "done", outcome: "within" }],
    [240, { kind: "done", outcome: "within" }],
    [241, { kind: "split-grid", level: 1, grid: 27, least: 10, most: 90 }],
  ])("with %d animals after four grids the step is %j", (animals, step) => {
    expect(next(picks(1, 50, 50, 50, animals - 150))).toEqual(step);
  });

  it("a split grid is to bring the count to the target where the target is asked for", () => {
    expect(next(picks(1, 50, 50, 50, 100), { stopAt: "target" })).toEqual({
      kind: "split-grid",
      level: 1,
      grid: 27,
      least: 50,
      most: 90,
    });
  });

  it("a last grid that stays whole ends the picking with too many animals", () => {
    expect(next(picks(1, 50, 50, 50, 100), { lastGrid: "whole" })).toEqual({ kind: "done", outcome: "over" });
    expect(next(picks(1, 150, 150), { lastGrid: "whole" })).toEqual({
      kind: "pick-grid",
      level: 1,
      grid: 28,
      because: "grids",
    });
  });

  it("a split grid is picked on in parts until the count is enough", () => {
    const split = (animals: number, parts: number): TrayPick[] => [
      ...picks(1, 50, 50, 50),
      { level: 1, grid: 27, picked: animals, portion: fraction(parts, 30) },
    ];
    expect(next(split(8, 3))).toEqual({
      kind: "pick-part",
      level: 1,
      grid: 27,
      portion: { num: 3, den: 30 },
    });
    expect(next(split(12, 5))).toEqual({ kind: "done", outcome: "within" });
    expect(next(split(100, 12))).toEqual({ kind: "done", outcome: "over" });
    const { expansion, animals } = progress(split(12, 5));
    expect(animals).toBe(162);
    // (150 + 12 x 6) x 30 / 4
    expect(toNumber(expansion?.estimatedTotal ?? fraction(0))).toBe(1665);
  });

  it("grids that are too dense before the last of them go on to a second tray together", () => {
    expect(next(picks(1, 100, 90, 80, 70))).toEqual({ kind: "next-tray", level: 2, grids: [30, 29, 28, 27] });
    // Too many already before the least number of grids: those not yet picked go on as well.
    expect(next(picks(1, 150, 120))).toEqual({ kind: "next-tray", level: 2, grids: [30, 29, 28, 27] });
    expect(next(picks(1, 300))).toEqual({ kind: "next-tray", level: 2, grids: [30, 29, 28, 27] });
    // Not one animal of the last grid has room: splitting it is no help.
    expect(next(picks(1, 80, 80, 80, 1))).toEqual({ kind: "next-tray", level: 2, grids: [30, 29, 28, 27] });
    // One grid is enough: it is split by itself.
    expect(next(picks(1, 300), { atLeast: 1 })).toEqual({
      kind: "split-grid",
      level: 1,
      grid: 30,
      least: 160,
      most: 240,
    });
  });

  it("the second tray is picked one grid at a time, without a least number of grids", () => {
    const gone = picks(1, 100, 90, 80, 70);
    expect(next([...gone, ...picks(2, 30)])).toEqual({
      kind: "pick-grid",
      level: 2,
      grid: 29,
      because: "animals",
    });
    expect(next([...gone, ...picks(2, 90, 80)])).toEqual({ kind: "done", outcome: "within" });
    expect(next([...gone, ...picks(2, 90, 60, 95)])).toEqual({
      kind: "split-grid",
      level: 2,
      grid: 28,
      least: 10,
      most: 90,
    });
    expect(next([...gone, ...picks(2, 250)])).toEqual({
      kind: "split-grid",
      level: 2,
      grid: 30,
      least: 160,
      most: 240,
    });
    expect(progress([...gone, ...picks(2, 90, 80)]).levels[0]?.isSetAside).toBe(true);
  });

  it("the second tray is picked on even where fewer grids went on than should have been picked first", () => {
    const gone = picks(1, 150, 120);
    expect(next([...gone, ...picks(2, 20)])).toMatchObject({ kind: "pick-grid", level: 2, grid: 29 });
    expect(next([...gone, ...picks(2, 150, 120)])).toEqual({
      kind: "split-grid",
      level: 2,
      grid: 29,
      least: 10,
      most: 90,
    });
  });

  it("a third tray takes what is too dense on the second", () => {
    const log = [...picks(1, 0, 0, 0, 0), ...picks(2, 245, 10)];
    expect(next(log)).toEqual({ kind: "next-tray", level: 3, grids: [30, 29] });
  });

  it("after an exhausted second tray the first one goes on", () => {
    const second = picks(2, ...new Array<number>(30).fill(4));
    expect(next([...picks(1, 0, 0, 0, 0), ...second])).toEqual({
      kind: "pick-grid",
      level: 1,
      grid: 26,
      because: "animals",
    });
    const more = progress([...picks(1, 0, 0, 0, 0, 45), ...second]);
    expect(more.next).toEqual({ kind: "done", outcome: "within" });
    // 120 in the four grids, all of which was picked, and 45 in a fifth: 165 x 30 / 5.
    expect(toNumber(more.expansion?.estimatedTotal ?? fraction(0))).toBe(990);
  });

  it("a sample of which everything has been sorted is done, with enough animals or not", () => {
    const thirty = (each: number) => picks(1, ...new Array<number>(30).fill(each));
    const below = progress(thirty(3));
    expect(below.next).toEqual({ kind: "done", outcome: "all-sorted-below" });
    expect(below.missing).toBe(70);
    expect(below.hasFewGrids).toBe(false);
    expect(toNumber(below.expansion?.fractionSorted ?? fraction(0))).toBe(1);
    expect(next(thirty(6), { stopAt: "target" })).toEqual({ kind: "done", outcome: "all-sorted" });
    const lowerEnd = picks(1, 160, ...new Array<number>(29).fill(0));
    expect(next(lowerEnd, { stopAt: "target" })).toEqual({ kind: "done", outcome: "all-sorted" });
    expect(next(thirty(8))).toEqual({ kind: "done", outcome: "within" });
    expect(next(thirty(0))).toEqual({ kind: "done", outcome: "all-sorted-below" });
  });

  it("a small tray has no more grids than it has", () => {
    const small = { gridsOnTray: () => 2, orderOf: () => [2, 1] };
    const log = (...counts: number[]) => counts.map((picked, at) => ({ level: 1, grid: 2 - at, picked }));
    expect(trayProgress(log(170), small, rule).next).toEqual({
      kind: "pick-grid",
      level: 1,
      grid: 1,
      because: "grids",
    });
    expect(trayProgress(log(170, 10), small, rule).next).toEqual({ kind: "done", outcome: "within" });
    expect(trayProgress(log(10, 10), small, rule).next).toEqual({
      kind: "done",
      outcome: "all-sorted-below",
    });
  });

  it("says when an estimate rests on few grids", () => {
    expect(progress(picks(1, 50, 50, 50, 50)).hasFewGrids).toBe(true);
    expect(progress(picks(1, 25, 25, 25, 25, 25, 25, 25, 25)).hasFewGrids).toBe(false);
    const second = [...picks(1, ...new Array<number>(8).fill(0)), ...picks(2, 90, 90)];
    expect(progress(second).hasFewGrids).toBe(true);
    const more = [
      ...picks(1, ...new Array<number>(8).fill(0)),
      ...picks(2, ...new Array<number>(8).fill(22)),
    ];
    expect(progress(more).hasFewGrids).toBe(false);
  });

  it("a log with a fault leaves the step open and names the fault", () => {
    const broken = progress([...picks(1, 50), { level: 1, grid: 30, picked: 50 }]);
    expect(broken.next).toEqual({ kind: "unclear" });
    expect(broken.problems).toEqual([{ kind: "grid-twice", level: 1, grid: 30 }]);
    expect([broken.animals, broken.expansion]).toEqual([0, undefined]);
  });

  it("a grid left out comes next, and is asked about", () => {
    const { next: step, problems } = progress([
      { level: 1, grid: 30, picked: 20 },
      { level: 1, grid: 28, picked: 20 },
    ]);
    expect(step).toEqual({ kind: "pick-grid", level: 1, grid: 29, because: "grids" });
    expect(problems).toEqual([{ kind: "out-of-order", level: 1, grid: 28, expected: 29 }]);
  });
});

describe("a picker who does what is said", () => {
  /** Sorts a tray with the given animals in each grid until done; parts of a split grid hold their even share. */
  function pickAll(grids: readonly number[], stopRule: StopRule, sampleId: string) {
    const trays = sampleTrays([{ rows: 1, columns: grids.length }], "1", sampleId);
    const log: TrayPick[] = [];
    let onSecond: number[] = [];
    for (let step = 0; step < 500; step++) {
      const state = trayProgress(log, trays, stopRule);
      expect(state.problems).toEqual([]);
      const { next: say } = state;
      if (say.kind === "done" || say.kind === "unclear") return { ...state, log, onSecond };
      if (say.kind === "pick-grid") {
        const here = say.level === 1 ? grids : onSecond;
        log.push({ level: say.level, grid: say.grid, picked: here[say.grid - 1] ?? 0 });
      } else if (say.kind === "next-tray") {
        if (say.level > 2) return { ...state, log, onSecond };
        for (const grid of say.grids.filter((number) => !log.some((pick) => pick.grid === number)))
          log.push({ level: 1, grid, picked: 0 });
        const animals = say.grids.reduce((sum, grid) => sum + (grids[grid - 1] ?? 0), 0);
        const each = Math.floor(animals / grids.length);
        onSecond = grids.map((_, at) => (at < animals - each * grids.length ? each + 1 : each));
        const first = trays.orderOf(2)[0] ?? 1;
        log.push({ level: 2, grid: first, picked: onSecond[first - 1] ?? 0 });
      } else {
        const at = log.findIndex((pick) => pick.level === say.level && pick.grid === say.grid);
        const here = (say.level === 1 ? grids : onSecond)[say.grid - 1] ?? 0;
        const parts = say.kind === "split-grid" ? 1 : Math.round(toNumber(say.portion) * 100) + 1;
        log[at] = {
          level: say.level,
          grid: say.grid,
          picked: Math.floor((here * parts) / 100),
          portion: fraction(parts, 100),
        };
      }
    }
    throw new Error("the picking never ended");
  }

  it("always comes to an end, with enough animals or everything sorted", () => {
    const tray = fc.array(fc.oneof(fc.integer({ min: 0, max: 60 }), fc.integer({ min: 0, max: 600 })), {
      minLength: 1,
      maxLength: 30,
    });
    fc.assert(
      fc.property(
        tray,
        fc.constantFrom("lower" as const, "target" as const),
        fc.string(),
        (grids, stopAt, id) => {
          const end = pickAll(grids, { ...rule, stopAt }, id);
          if (end.next.kind === "next-tray") return;
          expect(end.next.kind).toBe("done");
          const outcome = end.next.kind === "done" ? end.next.outcome : "";
          if (outcome === "within") {
            expect(end.animals).toBeGreaterThanOrEqual(stopAt === "lower" ? 160 : 200);
            expect(end.animals).toBeLessThanOrEqual(240);
          }
          if (outcome === "all-sorted-below") expect(end.animals).toBeLessThan(160);
          if (outcome.startsWith("all-sorted"))
            expect(toNumber(end.expansion?.fractionSorted ?? fraction(0))).toBe(1);
        },
      ),
      { seed: 15, numRuns: 300 },
    );
  });
});
