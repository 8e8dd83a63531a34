import { at } from "../model/at.ts";
import type { Exact } from "../model/exact.ts";
import { equalExact, ONE } from "../model/exact.ts";
import type { Expansion, TrayStage } from "./expansion.ts";
import { expandStages } from "./expansion.ts";
import type { PickedGrid, PickProblem, TrayLevel, TrayPick, TrayShapes } from "./pick-log.ts";
import { readPicks } from "./pick-log.ts";
import type { StopRule } from "./stop-rule.ts";
import { enoughAnimals, isFewGrids } from "./stop-rule.ts";

/** What to do next at the tray. */
export type NextStep =
  /** Pick the next grid of the random order, since the least number of grids or of animals is not reached. */
  | {
      readonly kind: "pick-grid";
      readonly level: number;
      readonly grid: number;
      readonly because: "grids" | "animals";
    }
  /** Pick further parts of the last grid, which has been spread again. */
  | { readonly kind: "pick-part"; readonly level: number; readonly grid: number; readonly portion: Exact }
  /**
   * Too many animals because of the last grid: put its animals back, spread it again and pick it in parts until
   * `least` to `most` of them are found; write those down, with the share of the grid picked as its portion.
   */
  | {
      readonly kind: "split-grid";
      readonly level: number;
      readonly grid: number;
      readonly least: number;
      readonly most: number;
    }
  /** Too many animals even without the last grid: spread the contents of these grids together on another tray. */
  | { readonly kind: "next-tray"; readonly level: number; readonly grids: readonly number[] }
  /**
   * Finished: within the range of the target (`within`); above it, where the last grid stays whole or its parts
   * came to too many (`over`); or everything has been sorted, with enough animals (`all-sorted`) or fewer than
   * the range asks for (`all-sorted-below`).
   */
  | { readonly kind: "done"; readonly outcome: "within" | "over" | "all-sorted" | "all-sorted-below" }
  /** The log has a fault that leaves open what was picked. */
  | { readonly kind: "unclear" };

/** How far the picking of a sample has come. */
export interface TrayProgress {
  readonly next: NextStep;
  /** Animals picked so far that stay. */
  readonly animals: number;
  /** Animals still missing before picking may stop. */
  readonly missing: number;
  readonly levels: readonly TrayLevel[];
  /** Share sorted and estimated total by now; undefined while there is nothing to go by. */
  readonly expansion: Expansion | undefined;
  /** So few grids of a tray were picked that the estimated total may be too high, see `isFewGrids`. */
  readonly hasFewGrids: boolean;
  readonly problems: readonly PickProblem[];
}

/**
 * Says from the pick log of a sample what comes next at the tray.
 *
 * The least number of grids concerns the first tray; grids that went on to another tray are among them.
 *
 * @param picks rows of the log, in any order; none for a sample that has not been begun
 */
export function trayProgress(picks: readonly TrayPick[], shapes: TrayShapes, rule: StopRule): TrayProgress {
  const { levels, problems } = readPicks(picks, shapes, rule.range.upper);
  const animals = levels.reduce((sum, level) => sum + animalsOn(level), 0);
  const expansion = levels.length === 0 ? undefined : expandStages(trayStages(levels));
  return {
    next: levels.length === 0 ? { kind: "unclear" } : nextStep(levels, animals, shapes, rule),
    animals,
    missing: Math.max(0, enoughAnimals(rule) - animals),
    levels,
    expansion,
    hasFewGrids:
      expansion !== undefined && levels.some((level) => isFewGrids(gridsTaken(level), level.gridsOnTray)),
    problems,
  };
}

/**
 * The trays of a sample as stages of an expansion. The stages from the second on are by themselves what the
 * contents of the second tray stand for, and so on.
 */
export function trayStages(levels: readonly TrayLevel[]): TrayStage[] {
  return levels.map((level) => ({
    gridsOnTray: level.gridsOnTray,
    wholeGrids: level.picked.filter(isWhole).length,
    animals: level.picked.filter(isWhole).reduce((sum, pick) => sum + pick.animals, 0),
    parts: level.picked.filter((pick) => !isWhole(pick)),
    movedGrids: level.moved.length,
  }));
}

function nextStep(
  levels: readonly TrayLevel[],
  animals: number,
  shapes: TrayShapes,
  rule: StopRule,
): NextStep {
  const first = at(levels, 0);
  const active = at(levels, levels.length - 1);
  const gridsMissing = Math.min(rule.atLeast, first.gridsOnTray) - gridsTaken(first);
  const { upper } = rule.range;
  if (animals > upper && rule.lastGrid === "split")
    return tooMany(active, animals, gridsMissing, shapes, rule);
  const further = gridsMissing > 0 && active === first ? pickGrid(first, shapes, "grids") : undefined;
  if (further !== undefined) return further;
  if (animals >= enoughAnimals(rule)) return { kind: "done", outcome: animals > upper ? "over" : "within" };
  const last = active.picked.at(-1);
  if (last !== undefined && !isWhole(last))
    return { kind: "pick-part", level: active.level, grid: last.grid, portion: last.portion };
  // The last tray first; once it is empty, the picking goes on where its contents came from.
  for (const level of [...levels].reverse()) {
    const step = pickGrid(level, shapes, "animals");
    if (step !== undefined) return step;
  }
  return { kind: "done", outcome: animals < rule.range.lower ? "all-sorted-below" : "all-sorted" };
}

function tooMany(
  active: TrayLevel,
  animals: number,
  gridsMissing: number,
  shapes: TrayShapes,
  rule: StopRule,
): NextStep {
  // The last tray that is in use has a pick.
  const last = at(active.picked, active.picked.length - 1);
  const { upper } = rule.range;
  // Parts that were picked stay picked.
  if (!isWhole(last)) return { kind: "done", outcome: "over" };
  const before = animals - last.animals;
  const mustGoOn = active.level === 1 && gridsMissing > 0;
  if (before < upper && !mustGoOn) {
    return {
      kind: "split-grid",
      level: active.level,
      grid: last.grid,
      least: Math.max(0, enoughAnimals(rule) - before),
      most: upper - before,
    };
  }
  const needed = active.level === 1 ? shapes.orderOf(1).slice(0, rule.atLeast) : [];
  const taken = active.picked.map((pick) => pick.grid);
  const grids = [...taken, ...needed.filter((grid) => !taken.includes(grid))];
  return { kind: "next-tray", level: active.level + 1, grids };
}

function pickGrid(level: TrayLevel, shapes: TrayShapes, because: "grids" | "animals"): NextStep | undefined {
  const taken = new Set([...level.picked.map((pick) => pick.grid), ...level.moved]);
  const grid = shapes.orderOf(level.level).find((number) => !taken.has(number));
  return grid === undefined ? undefined : { kind: "pick-grid", level: level.level, grid, because };
}

function gridsTaken(level: TrayLevel): number {
  return level.picked.length + level.moved.length;
}

function animalsOn(level: TrayLevel): number {
  return level.picked.reduce((sum, pick) => sum + pick.animals, 0);
}

function isWhole(pick: PickedGrid): boolean {
  return equalExact(pick.portion, ONE);
}
