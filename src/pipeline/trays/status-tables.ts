import type { OutputColumn, OutputRow } from "../../files/formats/define.ts";
import { at } from "../../model/at.ts";
import type { Exact } from "../../model/exact.ts";
import { equalExact, ONE, toNumber } from "../../model/exact.ts";
import { expandStages } from "../../subsample/expansion.ts";
import { trayStages } from "../../subsample/tray-progress.ts";
import { shareText } from "./next-step-text.ts";
import type { TrayStatus } from "./tray-status.ts";

const text = (name: string): OutputColumn => ({ name, kind: "text" });
const number = (name: string): OutputColumn => ({ name, kind: "number" });

/** One row a sample. */
export const STATUS_COLUMNS: readonly OutputColumn[] = [
  text("sample_id"),
  text("site_id"),
  text("state"),
  number("level"),
  number("next_grid"),
  number("animals"),
  number("missing"),
  number("grids_picked"),
  number("grids_on_tray"),
  number("fraction_sorted"),
  number("estimated_total"),
  number("individuals_per_m2"),
  text("instruction"),
  text("parts"),
  text("flags"),
];

/** What fits on a terminal. */
export const BRIEF_STATUS_COLUMNS: readonly string[] = [
  "sample_id",
  "state",
  "next_grid",
  "animals",
  "grids_picked",
  "fraction_sorted",
  "estimated_total",
  "instruction",
];

/** `grids_picked` and `grids_on_tray` are those of the first tray. */
export function statusRow(status: TrayStatus): OutputRow {
  const { sampleId, siteId, state, instruction, progress, parts, individualsPerM2, flags } = status;
  const next = progress?.next;
  const first = progress?.levels[0];
  const expansion = progress?.expansion;
  return [
    sampleId,
    siteId,
    state,
    next !== undefined && "level" in next ? next.level : null,
    next !== undefined && "grid" in next ? next.grid : null,
    progress?.animals ?? null,
    progress?.missing ?? null,
    first === undefined ? null : first.picked.length + first.moved.length,
    first?.gridsOnTray ?? null,
    numberOf(expansion?.fractionSorted),
    numberOf(expansion?.estimatedTotal),
    individualsPerM2 ?? null,
    instruction,
    parts?.join(";") ?? "",
    flags.join(";"),
  ];
}

/** One row a sample and tray: how the estimate is built. */
export const STAGE_COLUMNS: readonly OutputColumn[] = [
  text("sample_id"),
  number("level"),
  number("grids_on_tray"),
  number("whole_grids"),
  number("animals_in_whole_grids"),
  text("split_grids"),
  number("animals_in_split_grids"),
  text("portions"),
  number("grids_to_next_tray"),
  number("fraction_sorted"),
  number("estimated_total"),
];

/** Share sorted and estimated total are those of what lies on the tray; of the first tray, those of the sample. */
export function stageRows({ sampleId, progress }: TrayStatus): OutputRow[] {
  const levels = progress?.levels ?? [];
  const stages = trayStages(levels);
  return levels.map((level, index) => {
    const split = level.picked.filter((pick) => !equalExact(pick.portion, ONE));
    const whole = at(stages, index);
    const expansion = expandStages(stages.slice(index));
    return [
      sampleId,
      level.level,
      level.gridsOnTray,
      whole.wholeGrids,
      whole.animals,
      split.map((pick) => pick.grid).join(";"),
      split.length === 0 ? null : split.reduce((sum, pick) => sum + pick.animals, 0),
      split.map((pick) => shareText(pick.portion)).join(";"),
      level.moved.length,
      numberOf(expansion?.fractionSorted),
      numberOf(expansion?.estimatedTotal),
    ];
  });
}

function numberOf(exact: Exact | undefined): number | null {
  return exact === undefined ? null : toNumber(exact);
}
