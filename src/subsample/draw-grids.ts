import { at } from "../model/at.ts";
import { divide, equalExact, fraction, multiply, ONE, simplify } from "../model/exact.ts";
import { drawIndividuals } from "./draw-individuals.ts";
import type { Expansion, TrayStage } from "./expansion.ts";
import { expandStages } from "./expansion.ts";
import type { CountStatus } from "./fixed-count.ts";
import { shuffled } from "./grid-order.ts";
import type { DrawableGrid, GridSheet } from "./grid-sheet.ts";
import { checkGridSheet, drawableGrids } from "./grid-sheet.ts";
import type { StopRule } from "./stop-rule.ts";
import { enoughAnimals, isFewGrids } from "./stop-rule.ts";
import type { RandomStream } from "./stream.ts";

/** A grid that was drawn. */
export interface DrawnGrid {
  /** As on the sheet; empty for one without animals whose number is not known. */
  readonly grid: string;
  /** Animals that lay in it. */
  readonly animals: number;
  /** Animals of it that are kept; fewer only where it was split or the grids were spread again. */
  readonly kept: number;
  /** The kept animals of each pile. */
  readonly left: readonly number[];
}

/** A sample after a draw by grid. */
export interface GridDraw extends Expansion {
  /** As for single animals; `drawn` when not everything that was sorted is kept. */
  readonly status: CountStatus;
  /** In the order in which they were drawn. */
  readonly grids: readonly DrawnGrid[];
  /** Kept animals of each pile, over all grids. */
  readonly left: readonly number[];
  readonly kept: number;
  /**
   * What was done about too many animals: nothing (`none`), the last grid was split (`last-grid`), or all drawn
   * grids were spread again and picked to the target (`all-grids`), because the grids that had to be picked in
   * any case held more than the target before the last of them.
   */
  readonly split: "none" | "last-grid" | "all-grids";
  /** More animals are kept than the range of the target allows; only with a last grid that stays whole. */
  readonly isOver: boolean;
  /** So few grids were drawn that the estimated total may be too high, see `isFewGrids`. */
  readonly hasFewGrids: boolean;
}

/**
 * Draws a sample grid by grid, as it is done at the tray: all grids that were sorted are put in random order
 * and taken one after the other until the least number of grids and enough animals are reached.
 *
 * A last grid that is split keeps just as many of its animals, drawn at random, as the target lacks. The
 * estimated total counts what the split grid is known to hold, which is what expanding its part comes to.
 *
 * @param stream gives the order of the grids first, then the animals of a split grid
 * @throws RangeError for a sheet that `checkGridSheet` has something to say about
 */
export function drawGrids(sheet: GridSheet, rule: StopRule, stream: RandomStream): GridDraw {
  const problem = checkGridSheet(sheet)[0];
  if (problem !== undefined) throw new RangeError(`the sheet cannot be drawn from by grid: ${problem.kind}`);
  const piles = sheet.grids[0]?.counts.length ?? 0;
  const drawable = drawableGrids(sheet);
  const order = shuffled(drawable.length, stream);
  const taken = takeGrids(drawable, order, piles, rule);
  const split =
    rule.lastGrid === "split" && taken.animals > rule.range.upper ? splitKind(taken, rule) : "none";
  const grids =
    split === "last-grid"
      ? splitLast(taken.grids, rule.range.target - taken.beforeLast, stream)
      : split === "all-grids"
        ? spreadAgain(taken.grids, rule.range.target, stream)
        : taken.grids;
  const left = sumOfPiles(grids, piles);
  const kept = grids.reduce((sum, grid) => sum + grid.kept, 0);
  return {
    ...expandDraw(sheet, taken, kept, split),
    status: drawStatus(sheet, rule, kept, split !== "none" || grids.length < drawable.length),
    grids,
    left,
    kept,
    split,
    isOver: kept > rule.range.upper,
    hasFewGrids: isFewGrids(grids.length, sheet.gridsOnTray),
  };
}

interface Taken {
  readonly grids: readonly DrawnGrid[];
  readonly animals: number;
  /** Animals of all grids but the last. */
  readonly beforeLast: number;
}

function takeGrids(
  drawable: readonly DrawableGrid[],
  order: readonly number[],
  piles: number,
  rule: StopRule,
): Taken {
  const enough = enoughAnimals(rule);
  const grids: DrawnGrid[] = [];
  let animals = 0;
  let beforeLast = 0;
  for (const place of order) {
    if (grids.length >= rule.atLeast && animals >= enough) break;
    const { grid, counts } = at(drawable, place);
    const left = counts === undefined ? new Array<number>(piles).fill(0) : Array.from(counts);
    const here = left.reduce((sum, count) => sum + count, 0);
    grids.push({ grid, animals: here, kept: here, left });
    beforeLast = animals;
    animals += here;
  }
  return { grids, animals, beforeLast };
}

/** Splitting the last grid helps only while the grids before it leave room for an animal of it. */
function splitKind(taken: Taken, rule: StopRule): "last-grid" | "all-grids" {
  return taken.beforeLast < rule.range.target ? "last-grid" : "all-grids";
}

function splitLast(grids: readonly DrawnGrid[], wanted: number, stream: RandomStream): DrawnGrid[] {
  const last = at(grids, grids.length - 1);
  return [...grids.slice(0, -1), { ...last, kept: wanted, left: drawIndividuals(last.left, wanted, stream) }];
}

function spreadAgain(grids: readonly DrawnGrid[], target: number, stream: RandomStream): DrawnGrid[] {
  const all = drawIndividuals(
    grids.flatMap((grid) => grid.left),
    target,
    stream,
  );
  let from = 0;
  return grids.map((grid) => {
    const left = all.slice(from, from + grid.left.length);
    from += grid.left.length;
    return { ...grid, left, kept: left.reduce((sum, count) => sum + count, 0) };
  });
}

function sumOfPiles(grids: readonly DrawnGrid[], piles: number): number[] {
  const sums = new Array<number>(piles).fill(0);
  for (const { left } of grids)
    for (let pile = 0; pile < piles; pile++) sums[pile] = at(sums, pile) + at(left, pile);
  return sums;
}

function expandDraw(sheet: GridSheet, taken: Taken, kept: number, split: GridDraw["split"]): Expansion {
  const { gridsOnTray, shareOnTray = ONE } = sheet;
  const expansion = expandStages(stagesOf(gridsOnTray, taken, kept, split));
  if (expansion === undefined) throw new RangeError("no grid was drawn");
  return {
    fractionSorted: simplify(multiply(expansion.fractionSorted, shareOnTray)),
    estimatedTotal: simplify(divide(expansion.estimatedTotal, shareOnTray)),
  };
}

function stagesOf(gridsOnTray: number, taken: Taken, kept: number, split: GridDraw["split"]): TrayStage[] {
  const drawn = taken.grids.length;
  if (split === "none") return [{ gridsOnTray, wholeGrids: drawn, animals: kept }];
  if (split === "last-grid") {
    const animals = kept - taken.beforeLast;
    const part = { animals, portion: fraction(animals, taken.animals - taken.beforeLast) };
    return [{ gridsOnTray, wholeGrids: drawn - 1, animals: taken.beforeLast, parts: [part] }];
  }
  // On the tray onto which all grids were spread again every animal lies by itself.
  return [
    { gridsOnTray, wholeGrids: 0, animals: 0, movedGrids: drawn },
    { gridsOnTray: taken.animals, wholeGrids: kept, animals: kept },
  ];
}

function drawStatus(sheet: GridSheet, rule: StopRule, kept: number, isReduced: boolean): CountStatus {
  if (isReduced) return "drawn";
  const isWhole = sheet.gridsSorted === sheet.gridsOnTray && equalExact(sheet.shareOnTray ?? ONE, ONE);
  if (isWhole) return kept === 0 ? "empty" : "whole";
  return kept < rule.range.lower ? "under-target" : "whole";
}
