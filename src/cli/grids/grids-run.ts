import { resolve } from "node:path";
import type { OutputColumn, OutputRow } from "../../files/formats/define.ts";
import type { InputFile } from "../../files/input.ts";
import { writeWhole } from "../../files/safe-write.ts";
import { FindingCollector } from "../../findings/collector.ts";
import { pickSheetOf } from "../../pipeline/trays/pick-sheets.ts";
import type { PlannedSample } from "../../pipeline/trays/plan-log.ts";
import { planLog } from "../../pipeline/trays/plan-log.ts";
import type { TrayChoices } from "../../pipeline/trays/plan-trays.ts";
import { pickSheetsPage } from "../../report/pick-sheet-html.ts";
import { pickSheetsText } from "../../report/pick-sheet-text.ts";
import { readSampleLog } from "../../sheets/sample-log.ts";
import type { CommandContext } from "../context.ts";
import type { OptionValues } from "../define.ts";
import { UsageError } from "../define.ts";
import type { ExitCode } from "../exit-codes.ts";
import { EXIT, worst } from "../exit-codes.ts";
import { finish } from "../finish.ts";
import { quietOption } from "../options/messages.ts";
import { forceOption } from "../options/output.ts";
import type { OutputPlan } from "../output.ts";
import { checkWritable, refuseInputAsOutput, writeTable } from "../output.ts";
import { settleSeed } from "../seed.ts";

const ORDER_COLUMNS: readonly OutputColumn[] = [
  { name: "sample_id", kind: "text" },
  { name: "order", kind: "number" },
  { name: "grid", kind: "number" },
];
/** An empty pick log; `picked` and what follows are for the sorter. */
const LOG_COLUMNS: readonly OutputColumn[] = [
  { name: "sample_id", kind: "text" },
  { name: "level", kind: "number" },
  { name: "order", kind: "number" },
  { name: "grid", kind: "number" },
  { name: "picked", kind: "number" },
  { name: "portion", kind: "text" },
  { name: "sorter", kind: "text" },
];

export interface GridsChoices extends Omit<TrayChoices, "seed"> {
  readonly seed: string | undefined;
  readonly level: number;
  readonly layout: "order" | "log";
  readonly pages: string | undefined;
  readonly encoding: string | undefined;
}

/** The work of `grids`. */
export async function writeGridOrders(
  context: CommandContext,
  options: OptionValues,
  { log, paths }: { readonly log: InputFile; readonly paths: readonly string[] },
  plan: OutputPlan,
  choices: GridsChoices,
): Promise<ExitCode> {
  const force = options.get(forceOption) === true;
  const { pages } = choices;
  if (pages !== undefined) {
    if (plan.path !== undefined && resolve(context.cwd, plan.path) === resolve(context.cwd, pages))
      throw new UsageError("--pages and --output name the same file");
    await refuseInputAsOutput(pages, paths, context.cwd);
    await checkWritable(pages, force, context.cwd);
  }
  const findings = new FindingCollector();
  const read = await readSampleLog(log, { encoding: choices.encoding }, findings);
  if (read.unreadable) return worst(await finish(context, options, findings.all, [read.file]), EXIT.refused);
  const seed = settleSeed(choices.seed, context);
  const plans = planLog(read, { ...choices, seed }, findings);
  const { level, layout } = choices;
  await writeTable(context, plan, {
    columns: layout === "log" ? LOG_COLUMNS : ORDER_COLUMNS,
    rows: rowsOf(plans, level, layout),
    envelope: {
      schema: layout === "log" ? "jartally/pick-log@1" : "jartally/grid-order@1",
      inputs: [read.digest],
      seed,
    },
  });
  if (pages !== undefined) {
    const sheets = plans.map((one) => pickSheetOf(one, seed));
    const text = /\.txt$/i.test(pages) ? pickSheetsText(sheets) : pickSheetsPage(sheets);
    await writeWhole(resolve(context.cwd, pages), { force, shownAs: pages }, (sink) => sink.write(text));
  }
  const exit = await finish(context, options, findings.all, [read.file]);
  if (options.get(quietOption) !== true) {
    const algorithm = plans[0]?.trays.algorithm;
    const how = algorithm === undefined ? "" : `; ${algorithm}`;
    await context.stderr.write(`${plans.length} of ${read.order.length} samples; seed ${seed}${how}\n`);
  }
  return exit;
}

function* rowsOf(
  plans: readonly PlannedSample[],
  level: number,
  layout: GridsChoices["layout"],
): Generator<OutputRow> {
  for (const { sampleId, trays } of plans)
    for (const [at, grid] of trays.orderOf(level).entries())
      yield layout === "log" ? [sampleId, level, at + 1, grid, null, "", ""] : [sampleId, at + 1, grid];
}
