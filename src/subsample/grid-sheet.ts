import type { Exact } from "../model/exact.ts";
import { compareExact, ONE, ZERO } from "../model/exact.ts";
import { compareCodePoints } from "../model/order.ts";
import { totalAnimals } from "./piles.ts";

/** One grid as the bench sheet has it. */
export interface SheetGrid {
  /** As written on the sheet, usually the number of the grid. */
  readonly grid: string;
  /** Animals of each pile, in the order of `canonicalOrder`; the same piles for every grid. */
  readonly counts: ArrayLike<number>;
}

/** A sample whose sheet tells in which grid each animal lay. */
export interface GridSheet {
  /**
   * Every grid that any row of the sheet names, in any order, also one whose animals do not count: left out, it
   * would change the draw of the others.
   */
  readonly grids: readonly SheetGrid[];
  /** Grids that were looked at. Those without an animal are not on the sheet, and yet they can be drawn. */
  readonly gridsSorted: number;
  readonly gridsOnTray: number;
  /** Share of the sample that lay on this tray, when it was a second one; 1 when left out. */
  readonly shareOnTray?: Exact | undefined;
}

/** Why a sheet cannot be drawn from by grid. */
export type GridSheetProblem =
  | { readonly kind: "grid-twice"; readonly grid: string }
  | { readonly kind: "grid-not-on-tray"; readonly grid: string; readonly gridsOnTray: number }
  | { readonly kind: "more-grids-than-sorted"; readonly named: number; readonly gridsSorted: number }
  | { readonly kind: "more-sorted-than-on-tray"; readonly gridsSorted: number; readonly gridsOnTray: number };

/**
 * Checks what a user may have got wrong; a sheet without problems can be drawn from.
 *
 * @throws RangeError for what no user can write: counts that are no whole numbers, piles that differ from grid
 *   to grid, numbers of grids that are no whole numbers above 0, a share outside of 0 to 1
 */
export function checkGridSheet(sheet: GridSheet): GridSheetProblem[] {
  const { grids, gridsSorted, gridsOnTray, shareOnTray = ONE } = sheet;
  for (const number of [gridsSorted, gridsOnTray])
    if (!Number.isSafeInteger(number) || number < 1) throw new RangeError(`no tray has ${number} grids`);
  if (compareExact(shareOnTray, ZERO) <= 0 || compareExact(shareOnTray, ONE) > 0)
    throw new RangeError("the share of a sample on its tray is above 0 and up to 1");
  const problems: GridSheetProblem[] = [];
  const seen = new Set<string>();
  for (const { grid, counts } of grids) {
    totalAnimals(counts);
    if (counts.length !== grids[0]?.counts.length)
      throw new RangeError(`grid ${grid} has other piles than the first`);
    const label = plainLabel(grid);
    if (seen.has(label)) problems.push({ kind: "grid-twice", grid });
    seen.add(label);
    const number = gridNumber(grid);
    if (number !== undefined && (number < 1 || number > gridsOnTray))
      problems.push({ kind: "grid-not-on-tray", grid, gridsOnTray });
  }
  if (grids.length > gridsSorted)
    problems.push({ kind: "more-grids-than-sorted", named: grids.length, gridsSorted });
  if (gridsSorted > gridsOnTray)
    problems.push({ kind: "more-sorted-than-on-tray", gridsSorted, gridsOnTray });
  return problems;
}

/** A grid that can be drawn; without counts when the sheet has no animal of it. */
export interface DrawableGrid {
  /** Empty for a grid without animals whose number is not known. */
  readonly grid: string;
  readonly counts: ArrayLike<number> | undefined;
}

/**
 * All grids that were looked at, in the order in which they go into a draw.
 *
 * Where the whole tray was sorted and its grids have numbers, each stands at its number, with or without
 * animals. Otherwise the grids of the sheet come first, by number or else in code point order, and after them
 * as many without animals as were sorted beyond those; they need no names, being alike.
 */
export function drawableGrids(sheet: GridSheet): DrawableGrid[] {
  const numbered = sheet.grids.every(({ grid }) => gridNumber(grid) !== undefined);
  if (numbered && sheet.gridsSorted === sheet.gridsOnTray) {
    const byNumber = new Map(sheet.grids.map((grid) => [gridNumber(grid.grid), grid]));
    return Array.from({ length: sheet.gridsOnTray }, (_, place) => {
      return byNumber.get(place + 1) ?? { grid: String(place + 1), counts: undefined };
    });
  }
  const named: DrawableGrid[] = [...sheet.grids].sort((a, b) =>
    numbered ? Number(a.grid) - Number(b.grid) : compareCodePoints(a.grid, b.grid),
  );
  const without = sheet.gridsSorted - named.length;
  return [...named, ...Array.from({ length: without }, () => ({ grid: "", counts: undefined }))];
}

/** The number of a grid written in digits; leading zeros do not matter. */
function gridNumber(grid: string): number | undefined {
  return /^[0-9]{1,9}$/.test(grid) ? Number(grid) : undefined;
}

function plainLabel(grid: string): string {
  return String(gridNumber(grid) ?? grid);
}
