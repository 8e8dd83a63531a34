import { at } from "../../model/at.ts";
import type { Exact } from "../../model/exact.ts";
import { fraction, multiply } from "../../model/exact.ts";
import type { SampleTrays } from "../../subsample/sample-trays.ts";
import type { StopRule } from "../../subsample/stop-rule.ts";
import { enoughAnimals } from "../../subsample/stop-rule.ts";
import type { NextStep, TrayProgress } from "../../subsample/tray-progress.ts";

/** The next step at the tray as a sentence to act on. */
export function nextStepText(progress: TrayProgress, rule: StopRule, trays: SampleTrays): string {
  const { next, animals, missing } = progress;
  const { lower, upper } = rule.range;
  switch (next.kind) {
    case "pick-grid": {
      const first = at(progress.levels, 0);
      const taken = first.picked.length + first.moved.length;
      const least = Math.min(rule.atLeast, first.gridsOnTray);
      const why =
        next.because === "grids"
          ? `${taken} of at least ${least} grids are done`
          : `${missing} more ${missing === 1 ? "animal is" : "animals are"} wanted`;
      return `pick grid ${next.grid}${onLevel(next.level)}: ${why}`;
    }
    case "pick-part":
      return `pick a further part of grid ${next.grid}${onLevel(next.level)}: ${missing} more ${missing === 1 ? "animal is" : "animals are"} wanted; then write all animals of the grid and the share picked (so far ${shareText(next.portion)})`;
    case "split-grid": {
      const tray = trays.trayOf(next.level + 1);
      const grids = tray.rows * tray.columns;
      return `put the animals of grid ${next.grid}${onLevel(next.level)} back, spread the grid again on a tray of ${tray.rows}x${tray.columns} and pick its parts one by one until ${wanted(next)} are found; write these and the share picked, as k/${grids}, for the grid`;
    }
    case "next-tray":
      return `too many animals even without the last grid: put them back, spread the contents of grids ${next.grids.join(", ")} together on tray ${next.level} and pick that by its own order`;
    case "done":
      return doneText(next.outcome, animals, enoughAnimals(rule), lower, upper);
    case "unclear":
      return "correct the pick log first";
  }
}

function doneText(
  outcome: (NextStep & { kind: "done" })["outcome"],
  animals: number,
  enough: number,
  lower: number,
  upper: number,
): string {
  switch (outcome) {
    case "within":
      return `stop: ${animals} animals, ${lower} to ${upper} are asked for`;
    case "over":
      return `stop: ${animals} animals, more than the ${upper} allowed; they can be drawn down on the computer`;
    case "all-sorted":
      return `everything is sorted: ${animals} animals are within the range and below the ${enough} asked for`;
    case "all-sorted-below":
      return animals === 0
        ? "everything is sorted and no animal was found"
        : `everything is sorted and the sample stays below the target: ${animals} animals, ${lower} to ${upper} are asked for`;
  }
}

function wanted({ least, most }: { readonly least: number; readonly most: number }): string {
  return least === most ? `${least} animals` : `${least} to ${most} animals`;
}

function onLevel(level: number): string {
  return level === 1 ? "" : ` of tray ${level}`;
}

export function shareText({ num, den }: Exact): string {
  return num === den ? "1" : `${num}/${den}`;
}

/**
 * The parts of a split grid that are still to be picked, in their random order; undefined when the next step is
 * about something else, or the share picked is no number of parts.
 */
export function partsToPick(next: NextStep, trays: SampleTrays): readonly number[] | undefined {
  if (next.kind !== "split-grid" && next.kind !== "pick-part") return undefined;
  const order = trays.orderOfParts(next.level, next.grid, trays.trayOf(next.level + 1));
  if (next.kind === "split-grid") return order;
  const { num, den } = multiply(next.portion, fraction(order.length));
  const picked = Number(num) / Number(den);
  return Number.isInteger(picked) ? order.slice(picked) : undefined;
}
