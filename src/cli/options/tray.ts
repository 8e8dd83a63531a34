import type { Exact } from "../../model/exact.ts";
import { fraction } from "../../model/exact.ts";
import type { StopRule } from "../../subsample/stop-rule.ts";
import { parseWithin } from "../../subsample/target-range.ts";
import type { Tray } from "../../subsample/tray.ts";
import { LARGEST_TRAY, parseTray } from "../../subsample/tray.ts";
import type { OptionValues } from "../define.ts";
import { defineOption, UsageError } from "../define.ts";
import { parseWholeNumber } from "./messages.ts";

/** Shapes of the first tray and of those after it. */
export const trayOption = defineOption<readonly Tray[]>({
  flags: "--tray <shape>",
  summary:
    "Tray of the samples for which the log names none, as rows x columns of grids; with a comma, that of later trays: 5x6,4x4.",
  group: "Method",
  defaultText: "the log's, for later trays the same again",
  parse: (word) => {
    const trays = word.split(",").map((one) => ({ one, tray: parseTray(one) }));
    const wrong = trays.find(({ tray }) => tray === undefined);
    if (wrong !== undefined)
      throw new UsageError(
        `"${wrong.one}" is no shape of a tray: rows x columns of grids, for instance 5x6, with at most ${LARGEST_TRAY} grids`,
      );
    return trays.flatMap(({ tray }) => (tray === undefined ? [] : [tray]));
  },
});

export const withinOption = defineOption<Exact>({
  flags: "--within <percent>",
  summary: "Range around the target, both ends inside: 20% of 200 is 160 to 240.",
  group: "Method",
  defaultText: "20%",
  parse: (word) => {
    const within = parseWithin(word);
    if (within === undefined)
      throw new UsageError(`"${word}" is not a percentage from 0% to 100%, such as 20%`);
    return within;
  },
});

export const stopAtOption = defineOption<StopRule["stopAt"]>({
  flags: "--stop-at <end>",
  summary:
    "When picking is finished: at the lower end of the range, or at the target itself. Four grids with 170 animals are finished under the first and not under the second.",
  group: "Method",
  choices: () => ["lower", "target"],
  defaultText: "lower",
  parse: (word) => (word === "target" ? "target" : "lower"),
});

export const atLeastOption = defineOption<number>({
  flags: "--at-least <grids>",
  summary: "Grids that are picked in any case, or all grids of a smaller tray.",
  group: "Method",
  defaultText: "4",
  parse: (word) => {
    const grids = parseWholeNumber(word);
    if (grids === 0) throw new UsageError("at least 1 grid is picked");
    return grids;
  },
});

export const lastGridOption = defineOption<StopRule["lastGrid"]>({
  flags: "--last-grid <how>",
  summary:
    "A last grid with which the count goes over the range is kept whole, or spread again and split so that it does not.",
  group: "Method",
  choices: () => ["whole", "split"],
  defaultText: "split",
  parse: (word) => (word === "whole" ? "whole" : "split"),
});

/** Everything but the target that decides when a tray is finished. */
export const STOP_OPTIONS = [withinOption, stopAtOption, atLeastOption, lastGridOption];

/** The rule in force around any target. */
export interface StopChoices extends Omit<StopRule, "range"> {
  readonly within: Exact;
}

/**
 * The rule as given. The defaults are those of the grid protocol in Barbour MT et al. 1999, Rapid Bioassessment
 * Protocols, EPA 841-B-99-002, chapter 7.3.1: four grids at least, within 20 percent, a last grid that may be
 * subsampled in its turn.
 */
export function stopChoices(options: OptionValues): StopChoices {
  return {
    within: options.get(withinOption) ?? fraction(1, 5),
    stopAt: options.get(stopAtOption) ?? "lower",
    atLeast: options.get(atLeastOption) ?? 4,
    lastGrid: options.get(lastGridOption) ?? "split",
  };
}
