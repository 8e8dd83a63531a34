import type { Exact } from "../model/exact.ts";
import { toNumber } from "../model/exact.ts";
import { numberText } from "../model/number-text.ts";
import { compareCodePoints } from "../model/order.ts";
import { shareOf } from "./share.ts";
import type { SortingFigure } from "./sorting.ts";
import type { CheckedSample } from "./sorting-groups.ts";

/** What a sorting check calls for. */
export type SortingStep =
  /** Passed, but the animals found belong to the sample. */
  | { readonly kind: "add-recovered"; readonly sampleId: string; readonly recovered: number }
  /** Failed: the residue is sorted once more and what is found is added. */
  | {
      readonly kind: "recount";
      readonly sampleId: string;
      readonly recovered: number;
      /** True when part of the residue has not been looked through at all. */
      readonly isPartlyChecked: boolean;
    }
  /** Exactly at a limit of which the rule says nothing: somebody has to decide. */
  | { readonly kind: "decide"; readonly sampleId: string; readonly missed: number }
  /** The sorter's part of the lot failed its first share: a second share is checked. */
  | {
      readonly kind: "check-second-share";
      readonly sorter: string;
      readonly lot: string;
      readonly samples: number | undefined;
    }
  /** It failed the second share too, or so few are left that a share is all of them. */
  | {
      readonly kind: "check-rest";
      readonly sorter: string;
      readonly lot: string;
      /** Samples of this sorter's lot without a check, in code point order. */
      readonly unchecked: readonly string[];
    };

/** Every sample of one sorter's part of a lot, as the sample log has it. */
export interface SorterLot {
  readonly sorter: string;
  readonly lot: string;
  readonly sampleIds: readonly string[];
}

/** What one check calls for; undefined when there is nothing to do. */
export function stepForSample(figure: SortingFigure): SortingStep | undefined {
  const { sampleId, recovered } = figure;
  if (figure.outcome === "fail") {
    return { kind: "recount", sampleId, recovered, isPartlyChecked: figure.isEstimate };
  }
  if (figure.outcome === "undecided") return { kind: "decide", sampleId, missed: toNumber(figure.missed) };
  return recovered > 0 ? { kind: "add-recovered", sampleId, recovered } : undefined;
}

/**
 * What the failures of one sorter's part of a lot call for: a second share of the same size, and when that has
 * been checked and there are still failures, or nothing more than a share is left, all the rest (Barbour et al.
 * 1999, EPA 841-B-99-002, 7.3: 10 percent of each lot, a second 10 percent when it fails).
 *
 * @param checked the checks of this sorter and lot
 * @param whole every sample of this sorter and lot; undefined when there is no sample log
 * @param share what was asked for in the first round, for instance a tenth
 */
export function stepForSorterLot(
  checked: readonly CheckedSample[],
  whole: SorterLot | undefined,
  share: Exact,
): SortingStep | undefined {
  const first = checked[0];
  if (first === undefined || !checked.some((sample) => sample.figure.outcome === "fail")) return undefined;
  const { sorter, lot } = first;
  if (whole === undefined) return { kind: "check-second-share", sorter, lot, samples: undefined };
  const done = new Set(checked.map((sample) => sample.figure.sampleId));
  const unchecked = whole.sampleIds.filter((id) => !done.has(id)).sort(compareCodePoints);
  if (unchecked.length === 0) return undefined;
  const asked = shareOf(share, whole.sampleIds.length);
  const isSecondDone = done.size >= 2 * asked;
  return isSecondDone || unchecked.length <= asked
    ? { kind: "check-rest", sorter, lot, unchecked }
    : { kind: "check-second-share", sorter, lot, samples: asked };
}

/** The step in words a bench understands. */
export function sortingStepText(step: SortingStep): string {
  switch (step.kind) {
    case "add-recovered":
      return `add the ${animals(step.recovered)} found to the vials and to the counts of ${step.sampleId}`;
    case "recount":
      return `recount ${step.sampleId}: sort its ${step.isPartlyChecked ? "whole " : ""}residue again, add what is found to the vials and to the counts, write the action taken on the bench sheet`;
    case "decide":
      return `decide about ${step.sampleId}: ${numberText(step.missed)} missed is exactly the limit, on which the published rule is silent; the laboratory's own protocol decides (--at-limit)`;
    case "check-second-share": {
      const howMany =
        step.samples === undefined
          ? "a second share"
          : `${step.samples} more ${step.samples === 1 ? "sample" : "samples"}`;
      return `check ${howMany} of ${lotText(step)}, not looked at before (qc choose --round 2); if one of them fails too, check the rest of this sorter's lot`;
    }
    case "check-rest":
      return `check the rest of ${lotText(step)}: ${step.unchecked.join(", ")}`;
  }
}

function lotText({ sorter, lot }: { readonly sorter: string; readonly lot: string }): string {
  const lotName = lot === "" ? "the lot" : `lot ${lot}`;
  return sorter === "" ? lotName : `${sorter}'s part of ${lotName}`;
}

function animals(count: number): string {
  return count === 1 ? "1 animal" : `${count} animals`;
}
