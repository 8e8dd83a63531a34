import type { Exact } from "../model/exact.ts";
import { compareExact, equalExact, ONE, ZERO } from "../model/exact.ts";

/** One row of the pick log of a sample: what was found in one grid. */
export interface TrayPick {
  /** 1 for the first tray, 2 for the tray onto which grids of the first were spread, and so on. */
  readonly level: number;
  readonly grid: number;
  /** Animals picked; undefined while the cell is empty. */
  readonly picked: number | undefined;
  /** Share of the grid that was picked when it was split; the whole grid when left out. */
  readonly portion?: Exact | undefined;
}

/**
 * What is wrong with a pick log. The first group makes it useless, since a number could mean two things; the
 * second is worth a look.
 */
export type PickProblem =
  | {
      readonly kind: "not-on-tray";
      readonly level: number;
      readonly grid: number;
      readonly gridsOnTray: number;
    }
  | { readonly kind: "bad-level"; readonly level: number; readonly grid: number }
  | { readonly kind: "bad-number"; readonly level: number; readonly grid: number }
  | { readonly kind: "bad-portion"; readonly level: number; readonly grid: number }
  | { readonly kind: "grid-twice"; readonly level: number; readonly grid: number }
  | { readonly kind: "level-missing"; readonly level: number }
  | { readonly kind: "no-grid-moved"; readonly level: number }
  | {
      readonly kind: "out-of-order";
      readonly level: number;
      readonly grid: number;
      readonly expected: number;
    }
  | { readonly kind: "split-before-last"; readonly level: number; readonly grid: number };

/** Problems that leave the state of a sample open. */
export function isPickFault(problem: PickProblem): boolean {
  return problem.kind !== "out-of-order" && problem.kind !== "split-before-last";
}

/** A grid that was picked where it lay. */
export interface PickedGrid {
  readonly grid: number;
  readonly animals: number;
  readonly portion: Exact;
}

/** What the log says of one tray. */
export interface TrayLevel {
  readonly level: number;
  readonly gridsOnTray: number;
  /** In the order in which the grids were to be picked. */
  readonly picked: readonly PickedGrid[];
  /** Grids whose contents went on to the next tray, in the same order. */
  readonly moved: readonly number[];
  /**
   * All grids of this tray went on to the next one after they had been found to hold too many animals; the
   * numbers written down for them are set aside.
   */
  readonly isSetAside: boolean;
}

/** The trays of a sample. */
export interface TrayShapes {
  /** Grids on the tray of a level. */
  readonly gridsOnTray: (level: number) => number;
  /** The random order of its grids, as given out with the pick sheet. */
  readonly orderOf: (level: number) => readonly number[];
}

/** A pick log read level by level. */
export interface PickedTrays {
  /** At least the first tray; empty when the log has a fault. */
  readonly levels: readonly TrayLevel[];
  readonly problems: readonly PickProblem[];
}

/**
 * Reads the pick log of one sample, in whatever order its rows stand.
 *
 * On the last tray an empty `picked` means that the grid has not been picked yet. On a tray with another one
 * after it some grids were not picked where they lay, but went on to the next tray:
 * - those with an empty `picked`, unless every grid of the tray is listed (a prepared sheet, not yet filled);
 * - all of them, when the numbers written down are together above the upper end of the range: the tray was
 *   found too dense, its animals went back and on to the next tray, and the numbers are set aside;
 * - otherwise those with 0 animals. Whether such a grid was moved or empty makes no difference to any estimate.
 *
 * @param upper most animals with which a count is finished
 */
export function readPicks(picks: readonly TrayPick[], shapes: TrayShapes, upper: number): PickedTrays {
  const { byLevel, faults } = gridsByLevel(picks, shapes);
  // A fault may make it look as if there were others, so each kind is looked for only where there is none before.
  if (faults.length > 0) return { levels: [], problems: faults };
  const last = Math.max(1, ...startedLevels(byLevel));
  const levels = Array.from({ length: last }, (_, at) =>
    readLevel(at + 1, at + 1 === last, [...(byLevel.get(at + 1)?.values() ?? [])], shapes, upper),
  );
  const gaps = levels.slice(0, -1).flatMap(({ level, moved }): PickProblem[] => {
    if (!byLevel.has(level)) return [{ kind: "level-missing", level }];
    return moved.length === 0 ? [{ kind: "no-grid-moved", level }] : [];
  });
  if (gaps.length > 0) return { levels: [], problems: gaps };
  return { levels, problems: levels.flatMap((level) => doubtsOf(level, shapes.orderOf(level.level))) };
}

type GridsByLevel = ReadonlyMap<number, ReadonlyMap<number, TrayPick>>;

function gridsByLevel(
  picks: readonly TrayPick[],
  shapes: TrayShapes,
): { readonly byLevel: GridsByLevel; readonly faults: readonly PickProblem[] } {
  const faults: PickProblem[] = [];
  const byLevel = new Map<number, Map<number, TrayPick>>();
  for (const pick of picks) {
    const fault = faultOf(pick, shapes);
    if (fault !== undefined) {
      faults.push(fault);
      continue;
    }
    const grids = byLevel.get(pick.level) ?? new Map<number, TrayPick>();
    byLevel.set(pick.level, grids);
    if (grids.has(pick.grid)) faults.push({ kind: "grid-twice", level: pick.level, grid: pick.grid });
    grids.set(pick.grid, pick);
  }
  return { byLevel, faults };
}

function faultOf(pick: TrayPick, shapes: TrayShapes): PickProblem | undefined {
  const { level, grid, picked, portion = ONE } = pick;
  if (!Number.isSafeInteger(level) || level < 1 || level > 9) return { kind: "bad-level", level, grid };
  const gridsOnTray = shapes.gridsOnTray(level);
  if (!Number.isSafeInteger(grid) || grid < 1 || grid > gridsOnTray)
    return { kind: "not-on-tray", level, grid, gridsOnTray };
  if (picked !== undefined && !(Number.isSafeInteger(picked) && picked >= 0))
    return { kind: "bad-number", level, grid };
  if (compareExact(portion, ZERO) <= 0 || compareExact(portion, ONE) > 0)
    return { kind: "bad-portion", level, grid };
  return undefined;
}

/** A level on a prepared sheet is in use only once something was picked on it. */
function startedLevels(byLevel: GridsByLevel): number[] {
  return [...byLevel]
    .filter(([, grids]) => [...grids.values()].some((pick) => pick.picked !== undefined))
    .map(([level]) => level);
}

function readLevel(
  level: number,
  isLast: boolean,
  picks: readonly TrayPick[],
  shapes: TrayShapes,
  upper: number,
): TrayLevel {
  const gridsOnTray = shapes.gridsOnTray(level);
  const place = new Map(shapes.orderOf(level).map((grid, position) => [grid, position]));
  const inOrder = [...picks].sort((a, b) => (place.get(a.grid) as number) - (place.get(b.grid) as number));
  const written = inOrder.filter(isWritten);
  const empty = inOrder.filter((pick) => pick.picked === undefined);
  const none = { level, gridsOnTray, isSetAside: false };
  if (isLast) return { ...none, picked: written.map(asPicked), moved: [] };
  if (empty.length > 0 && inOrder.length < gridsOnTray)
    return { ...none, picked: written.map(asPicked), moved: empty.map((pick) => pick.grid) };
  const animals = written.reduce((sum, pick) => sum + pick.picked, 0);
  if (animals > upper)
    return { ...none, picked: [], moved: written.map((pick) => pick.grid), isSetAside: true };
  return {
    ...none,
    picked: written.filter((pick) => pick.picked !== 0).map(asPicked),
    moved: written.filter((pick) => pick.picked === 0).map((pick) => pick.grid),
  };
}

type WrittenPick = TrayPick & { readonly picked: number };

function isWritten(pick: TrayPick): pick is WrittenPick {
  return pick.picked !== undefined;
}

function asPicked(pick: WrittenPick): PickedGrid {
  return { grid: pick.grid, animals: pick.picked, portion: pick.portion ?? ONE };
}

function doubtsOf(level: TrayLevel, order: readonly number[]): PickProblem[] {
  const doubts: PickProblem[] = [];
  const taken = new Set([...level.picked.map((pick) => pick.grid), ...level.moved]);
  for (const expected of order.slice(0, taken.size)) {
    if (taken.has(expected)) continue;
    // As many grids were taken as were to come first; with one of these missing, another came too early.
    const grid = order.slice(taken.size).find((other) => taken.has(other)) as number;
    doubts.push({ kind: "out-of-order", level: level.level, grid, expected });
    break;
  }
  for (const pick of level.picked.slice(0, -1))
    if (!equalExact(pick.portion, ONE))
      doubts.push({ kind: "split-before-last", level: level.level, grid: pick.grid });
  return doubts;
}
