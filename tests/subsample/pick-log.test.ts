import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fraction } from "../../src/model/exact.ts";
import type { TrayPick } from "../../src/subsample/pick-log.ts";
import { isPickFault, readPicks } from "../../src/subsample/pick-log.ts";

/** Trays of 30 grids that are picked in the order of their numbers. */
const shapes = {
  gridsOnTray: () => 30,
  orderOf: () => Array.from({ length: 30 }, (_, at) => at + 1),
};
const pick = (level: number, grid: number, picked?: number, portion?: [number, number]): TrayPick =>
  portion === undefined
    ? { level, grid, picked }
    : { level, grid, picked, portion: fraction(portion[0], portion[1]) };
const read = (...picks: TrayPick[]) => readPicks(picks, shapes, 240);
const whole = { num: 1, den: 1 };

describe("a pick log", () => {
  it("of a sample not begun is an empty first tray", () => {
    expect(read()).toEqual({
      levels: [{ level: 1, gridsOnTray: 30, picked: [], moved: [], isSetAside: false }],
      problems: [],
    });
  });

  it("has its grids in the order in which they were to be picked, whatever the order of its rows", () => {
    const rows = [pick(1, 1, 50), pick(1, 2, 40), pick(1, 3, 0), pick(1, 4, 12, [10, 30])];
    fc.assert(
      fc.property(fc.shuffledSubarray(rows, { minLength: 4 }), (mixed) => {
        expect(read(...mixed)).toEqual({
          levels: [
            {
              level: 1,
              gridsOnTray: 30,
              picked: [
                { grid: 1, animals: 50, portion: whole },
                { grid: 2, animals: 40, portion: whole },
                { grid: 3, animals: 0, portion: whole },
                { grid: 4, animals: 12, portion: { num: 10, den: 30 } },
              ],
              moved: [],
              isSetAside: false,
            },
          ],
          problems: [],
        });
      }),
      { seed: 14, numRuns: 24 },
    );
  });

  it("leaves out grids with an empty cell on the last tray: they are not picked yet", () => {
    const { levels, problems } = read(pick(1, 1, 50), pick(1, 2), pick(1, 3), pick(2, 1), pick(2, 2));
    expect(levels.map(({ level, picked, moved }) => [level, picked.length, moved])).toEqual([[1, 1, []]]);
    expect(problems).toEqual([]);
    // A later tray is in use from its first count on, whatever cells are still empty.
    const second = read(pick(1, 1, 0), pick(2, 1, 50), pick(2, 2), pick(2, 3));
    expect(second.levels.map(({ picked, moved }) => [picked.length, moved])).toEqual([
      [0, [1]],
      [1, []],
    ]);
  });

  it.each([
    ["empty cells", [undefined, undefined, undefined, undefined]],
    ["zeros", [0, 0, 0, 0]],
    ["counts beyond the range, which are set aside", [60, 61, 60, 60]],
  ])("knows the grids that went on to the next tray by %s", (why, cells) => {
    const { levels, problems } = read(...cells.map((cell, at) => pick(1, at + 1, cell)), pick(2, 1, 30));
    expect(levels[0]).toEqual({
      level: 1,
      gridsOnTray: 30,
      picked: [],
      moved: [1, 2, 3, 4],
      isSetAside: why.startsWith("counts"),
    });
    expect(levels[1]?.picked).toEqual([{ grid: 1, animals: 30, portion: whole }]);
    expect(problems).toEqual([]);
  });

  it("keeps counts beside a grid that went on, and takes the highest count inside of the range for picked", () => {
    for (const gone of [undefined, 0]) {
      const { levels } = read(
        pick(1, 1, 40),
        pick(1, 2, 100),
        pick(1, 3, 100),
        pick(1, 4, gone),
        pick(2, 1, 30),
      );
      expect(levels[0]?.picked.map(({ animals }) => animals)).toEqual([40, 100, 100]);
      expect(levels[0]?.moved).toEqual([4]);
    }
  });

  it("keeps counts beyond the range where an empty cell says which grid went on", () => {
    const { levels } = read(pick(1, 1, 140), pick(1, 2, 120), pick(1, 3), pick(2, 1, 30));
    expect(levels[0]?.picked.map(({ animals }) => animals)).toEqual([140, 120]);
    expect(levels[0]?.moved).toEqual([3]);
  });

  it("does not take a prepared sheet with all grids for one on which all went on", () => {
    const prepared = Array.from({ length: 30 }, (_, at) => pick(1, at + 1, at < 4 ? 0 : undefined));
    const { levels, problems } = read(...prepared, pick(2, 1, 30));
    expect(levels[0]?.moved).toEqual([1, 2, 3, 4]);
    expect(problems).toEqual([]);
  });

  it("can be of three trays", () => {
    const { levels, problems } = read(pick(1, 1, 0), pick(2, 1, 0), pick(2, 2, 0), pick(3, 1, 90));
    expect(levels.map(({ picked, moved }) => [picked.length, moved.length])).toEqual([
      [0, 1],
      [0, 2],
      [1, 0],
    ]);
    expect(problems).toEqual([]);
  });

  it.each([
    [{ kind: "not-on-tray", level: 1, grid: 31, gridsOnTray: 30 }, [pick(1, 31, 5)]],
    [{ kind: "not-on-tray", level: 2, grid: 0, gridsOnTray: 30 }, [pick(2, 0, 5)]],
    [{ kind: "bad-level", level: 0, grid: 1 }, [pick(0, 1, 5)]],
    [{ kind: "bad-level", level: 10, grid: 1 }, [pick(10, 1, 5)]],
    [{ kind: "bad-number", level: 1, grid: 1 }, [pick(1, 1, 1.5)]],
    [{ kind: "bad-number", level: 1, grid: 1 }, [pick(1, 1, -1)]],
    [{ kind: "bad-portion", level: 1, grid: 1 }, [pick(1, 1, 5, [0, 1])]],
    [{ kind: "bad-portion", level: 1, grid: 1 }, [pick(1, 1, 5, [31, 30])]],
    [{ kind: "grid-twice", level: 1, grid: 1 }, [pick(1, 1, 5), pick(1, 1, 5)]],
    [{ kind: "level-missing", level: 1 }, [pick(2, 1, 5)]],
    [
      { kind: "level-missing", level: 8 },
      [...[1, 2, 3, 4, 5, 6, 7].map((level) => pick(level, 1, 0)), pick(9, 1, 5)],
    ],
    [{ kind: "level-missing", level: 2 }, [pick(1, 1, 0), pick(3, 1, 5)]],
    [{ kind: "no-grid-moved", level: 1 }, [pick(1, 1, 60), pick(1, 2, 60), pick(2, 1, 5)]],
  ])("with a fault says %j and nothing more", (problem, picks) => {
    const { levels, problems } = read(...picks);
    expect(problems).toEqual([problem]);
    expect(problems.every(isPickFault)).toBe(true);
    expect(levels).toEqual([]);
  });

  it("reports every fault", () => {
    const { problems } = read(pick(1, 31, 5), pick(1, 1, -1), pick(1, 2, 3), pick(1, 2, 3));
    expect(problems.map(({ kind }) => kind)).toEqual(["not-on-tray", "bad-number", "grid-twice"]);
  });

  it("doubts grids that were picked out of order, once for a tray", () => {
    const { levels, problems } = read(pick(1, 1, 20), pick(1, 4, 20), pick(1, 7, 20));
    expect(problems).toEqual([{ kind: "out-of-order", level: 1, grid: 4, expected: 2 }]);
    expect(problems.some(isPickFault)).toBe(false);
    expect(levels[0]?.picked.length).toBe(3);
  });

  it("doubts a grid that was split and followed by another one", () => {
    const { problems } = read(pick(1, 1, 20, [1, 2]), pick(1, 2, 20));
    expect(problems).toEqual([{ kind: "split-before-last", level: 1, grid: 1 }]);
    expect(problems.some(isPickFault)).toBe(false);
  });
});
