import { describe, expect, it } from "vitest";
import { ONE } from "../../../src/model/exact.ts";
import { pickFinding } from "../../../src/pipeline/trays/pick-findings.ts";
import type { LoggedPick } from "../../../src/sheets/pick-log.ts";

const pick = (level: number, grid: number, line: number): LoggedPick =>
  ({
    level,
    grid,
    picked: 1,
    portion: ONE,
    place: { file: "picks.csv", line, column: 3 },
  }) as unknown as LoggedPick;
const PICKS = [pick(1, 4, 2), pick(1, 5, 3), pick(2, 4, 4), pick(1, 4, 5)];
const WHOLE = { file: "picks.csv", line: 0, column: 0 };

type Problem = Parameters<typeof pickFinding>[1];
const told = (problem: Problem, picks: readonly LoggedPick[] = PICKS) => {
  const { line, message, code } = pickFinding("A", problem, picks, WHOLE);
  return [line, code, message];
};

describe("what is wrong with a pick log", () => {
  it("is said at the last row of that level and grid", () => {
    expect(told({ kind: "grid-twice", level: 1, grid: 4 })).toEqual([
      5,
      "bad-pick",
      "grid 4 of level 1 of A is there twice",
    ]);
    expect(told({ kind: "bad-number", level: 2, grid: 4 })).toEqual([
      4,
      "bad-pick",
      "the animals of grid 4 are no whole number",
    ]);
    expect(told({ kind: "bad-portion", level: 1, grid: 5 })).toEqual([
      3,
      "bad-pick",
      "the portion of grid 5 is no share of it",
    ]);
  });

  it("is said at the first row of a later level where a whole level is concerned, else at the first row", () => {
    expect(told({ kind: "level-missing", level: 1 })[0]).toBe(4);
    expect(told({ kind: "level-missing", level: 2 })[0]).toBe(2);
  });

  it("is said of the whole log where no row has it", () => {
    expect(told({ kind: "grid-twice", level: 3, grid: 9 })[0]).toBe(0);
    expect(told({ kind: "level-missing", level: 1 }, [])[0]).toBe(0);
    expect(told({ kind: "bad-level", level: 12, grid: 4 })).toEqual([
      0,
      "bad-pick",
      "level 12 of A is not one from 1 to 9",
    ]);
  });
});
