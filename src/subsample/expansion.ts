import type { Exact } from "../model/exact.ts";
import { add, compareExact, divide, fraction, multiply, ONE, simplify, ZERO } from "../model/exact.ts";

/** A grid that was spread again and picked only in part. */
export interface GridPart {
  readonly animals: number;
  /** Share of the grid that was picked, above 0 up to 1: 10 of 30 is 10/30. */
  readonly portion: Exact;
}

/** What happened on one tray. */
export interface TrayStage {
  readonly gridsOnTray: number;
  /** Grids picked as a whole, and the animals found in them. */
  readonly wholeGrids: number;
  readonly animals: number;
  /** Grids picked in part. */
  readonly parts?: readonly GridPart[] | undefined;
  /** Grids whose contents went on to the next tray. */
  readonly movedGrids?: number | undefined;
}

/** What the picking of a sample stands for. */
export interface Expansion {
  /** Share of the sample that was looked at, by grids. */
  readonly fractionSorted: Exact;
  /**
   * Estimate of all animals of the sample, built stage by stage. It is not the count divided by the share
   * sorted where a grid was split or where grids of one tray were treated differently: the animals found in a
   * part stand for the rest of their own grid, not for that of others.
   */
  readonly estimatedTotal: Exact;
}

/**
 * Works out the share sorted and the estimated total of a sample from its trays, the first tray first.
 *
 * Of each tray, from the last to the first: animals of whole grids, plus those of split grids divided by the
 * share picked, plus the estimate of the next tray where grids went on to it, times grids on the tray by grids
 * taken (Barbour MT et al. 1999, Rapid Bioassessment Protocols, EPA 841-B-99-002, chapter 7.3.1, for the two
 * trays and the split last grid; the expansion by stages is ours).
 *
 * @returns undefined while a tray that was begun has no picked grid: there is nothing to go by yet
 * @throws RangeError for more grids than are on the tray, a portion outside of 0 to 1, numbers that are not
 *   whole, or grids that went on to a tray that is not there
 */
export function expandStages(stages: readonly TrayStage[]): Expansion | undefined {
  let next: Expansion | undefined;
  for (const [place, stage] of [...stages.entries()].reverse()) {
    const isLast = place === stages.length - 1;
    checkStage(stage, isLast);
    const parts = stage.parts ?? [];
    const moved = stage.movedGrids ?? 0;
    const taken = stage.wholeGrids + parts.length + moved;
    if (taken === 0 || (!isLast && next === undefined)) return undefined;
    let animals = fraction(stage.animals);
    let looked = fraction(stage.wholeGrids);
    for (const part of parts) {
      animals = add(animals, divide(fraction(part.animals), part.portion));
      looked = add(looked, part.portion);
    }
    if (next !== undefined && moved > 0) {
      animals = add(animals, next.estimatedTotal);
      looked = add(looked, multiply(fraction(moved), next.fractionSorted));
    }
    next = {
      fractionSorted: simplify(divide(looked, fraction(stage.gridsOnTray))),
      estimatedTotal: simplify(multiply(animals, fraction(stage.gridsOnTray, taken))),
    };
  }
  return next;
}

/**
 * Animals per square metre of stream bottom.
 *
 * @param areaSampledM2 area netted, above 0
 * @throws RangeError for an area that is not above 0
 */
export function densityPerM2(estimatedTotal: Exact, areaSampledM2: Exact): Exact {
  if (compareExact(areaSampledM2, ZERO) <= 0) throw new RangeError("the area sampled is not above 0");
  return simplify(divide(estimatedTotal, areaSampledM2));
}

function checkStage(stage: TrayStage, isLast: boolean): void {
  const parts = stage.parts ?? [];
  const moved = stage.movedGrids ?? 0;
  const numbers = [
    stage.gridsOnTray,
    stage.wholeGrids,
    stage.animals,
    moved,
    ...parts.map((part) => part.animals),
  ];
  if (!numbers.every((number) => Number.isSafeInteger(number) && number >= 0) || stage.gridsOnTray === 0)
    throw new RangeError("grids and animals of a tray are whole numbers");
  if (stage.wholeGrids + parts.length + moved > stage.gridsOnTray)
    throw new RangeError(`more grids were taken than the ${stage.gridsOnTray} on the tray`);
  if (parts.some(({ portion }) => compareExact(portion, ZERO) <= 0 || compareExact(portion, ONE) > 0))
    throw new RangeError("the share picked of a split grid is above 0 and up to 1");
  if (isLast === moved > 0)
    throw new RangeError(
      isLast
        ? "grids went on to a tray that is not there"
        : "a tray comes after one from which no grid went on",
    );
}
