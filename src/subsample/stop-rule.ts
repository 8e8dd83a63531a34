import type { TargetRange } from "./target-range.ts";

/** When the picking of grids ends and what happens to a last grid that holds too many animals. */
export interface StopRule {
  readonly range: TargetRange;
  /** `lower`: the lower end of the range is enough; `target`: the target itself must be reached. */
  readonly stopAt: "lower" | "target";
  /** Grids that are picked in any case, so that a few dense ones do not stand for the whole tray. */
  readonly atLeast: number;
  /**
   * With more animals than the range allows after the last grid: `whole` keeps them all, `split` spreads that
   * grid again and picks it in parts.
   */
  readonly lastGrid: "whole" | "split";
}

/** The number of animals with which picking may stop. */
export function enoughAnimals(rule: StopRule): number {
  return rule.stopAt === "lower" ? rule.range.lower : rule.range.target;
}

/**
 * Whether so few grids of a tray were picked that an estimate of the total must be read with care.
 *
 * Picking that stops at a count overestimates the total where animals sit in clumps, since a grid full of
 * animals is also the one that ends the picking; see `stoppingBias`. The limit is a quarter of the tray, the
 * least share that two published tray protocols ask for; a tray sorted as a whole has no such error.
 */
export function isFewGrids(picked: number, onTray: number): boolean {
  return picked < onTray && picked * 4 < onTray;
}
