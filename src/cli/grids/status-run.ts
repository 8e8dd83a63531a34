import type { OutputColumn, OutputRow } from "../../files/formats/define.ts";
import type { InputFile } from "../../files/input.ts";
import { FindingCollector } from "../../findings/collector.ts";
import { at } from "../../model/at.ts";
import type { TrayChoices } from "../../pipeline/trays/plan-trays.ts";
import {
  BRIEF_STATUS_COLUMNS,
  STAGE_COLUMNS,
  STATUS_COLUMNS,
  stageRows,
  statusRow,
} from "../../pipeline/trays/status-tables.ts";
import type { TrayState, TrayStatus } from "../../pipeline/trays/tray-status.ts";
import { trayStatus } from "../../pipeline/trays/tray-status.ts";
import { readPickLog } from "../../sheets/pick-log.ts";
import { readSampleLog } from "../../sheets/sample-log.ts";
import type { CommandContext } from "../context.ts";
import type { OptionValues } from "../define.ts";
import type { ExitCode } from "../exit-codes.ts";
import { EXIT, worst } from "../exit-codes.ts";
import { finish } from "../finish.ts";
import { quietOption } from "../options/messages.ts";
import type { OutputPlan } from "../output.ts";
import { writeTable } from "../output.ts";
import { settleSeed } from "../seed.ts";

export interface StatusChoices extends Omit<TrayChoices, "seed"> {
  readonly seed: string | undefined;
  readonly table: "samples" | "stages";
}

export interface StatusFiles {
  readonly log: InputFile;
  readonly picks: InputFile;
  readonly encoding: string | undefined;
}

const STATES: readonly TrayState[] = [
  "go-on",
  "split-last-grid",
  "next-tray",
  "stop",
  "all-sorted",
  "below-target",
  "empty",
  "refused",
];

/** The work of `grids status`. */
export async function reportTrayStatus(
  context: CommandContext,
  options: OptionValues,
  files: StatusFiles,
  plan: OutputPlan,
  choices: StatusChoices,
): Promise<ExitCode> {
  const findings = new FindingCollector();
  const log = await readSampleLog(files.log, files, findings);
  const picks = await readPickLog(files.picks, files, findings);
  const places = [log.file, picks.file];
  if (log.unreadable || picks.unreadable)
    return worst(await finish(context, options, findings.all, places), EXIT.refused);
  const seed = settleSeed(choices.seed, context);
  const all: TrayStatus[] = [];
  for (const { status, findings: found } of trayStatus(log, picks, { ...choices, seed })) {
    all.push(status);
    for (const one of found) findings.add(one);
  }
  await writeTable(context, plan, {
    ...tableOf(all, choices.table, plan.format === "table"),
    envelope: {
      schema: choices.table === "stages" ? "jartally/tray-stages@1" : "jartally/tray-status@1",
      inputs: [log.digest, picks.digest],
      seed,
    },
  });
  const exit = await finish(context, options, findings.all, places);
  if (options.get(quietOption) !== true) await context.stderr.write(`${tally(all, seed)}\n`);
  return worst(exit, all.some(({ state }) => state === "refused") ? EXIT.refused : EXIT.done);
}

function tableOf(
  all: readonly TrayStatus[],
  table: StatusChoices["table"],
  isBrief: boolean,
): { readonly columns: readonly OutputColumn[]; readonly rows: readonly OutputRow[] } {
  if (table === "stages") return { columns: STAGE_COLUMNS, rows: all.flatMap(stageRows) };
  const rows = all.map(statusRow);
  if (!isBrief) return { columns: STATUS_COLUMNS, rows };
  const kept = [...STATUS_COLUMNS.keys()].filter((column) =>
    BRIEF_STATUS_COLUMNS.includes(at(STATUS_COLUMNS, column).name),
  );
  return {
    columns: kept.map((column) => at(STATUS_COLUMNS, column)),
    rows: rows.map((row) => kept.map((column) => at(row, column))),
  };
}

function tally(all: readonly TrayStatus[], seed: string): string {
  const parts = STATES.flatMap((state) => {
    const count = all.filter((status) => status.state === state).length;
    return count === 0 ? [] : [`${count} ${state}`];
  });
  return `${all.length} samples: ${parts.join(", ")}; seed ${seed}`;
}
