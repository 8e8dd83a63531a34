import { resolve } from "node:path";
import type { OutputRow } from "../../files/formats/define.ts";
import { checkNewFolder } from "../../files/output-place.ts";
import { at } from "../../model/at.ts";
import { exactOf } from "../../model/exact.ts";
import type { QualityRun } from "../../pipeline/quality/quality-run.ts";
import { figureText } from "../../quality/figure-text.ts";
import type { QualityTable } from "../../report/quality-table.ts";
import { painter, wantsColour } from "../colour.ts";
import type { CommandContext } from "../context.ts";
import type { OptionValues } from "../define.ts";
import type { ExitCode } from "../exit-codes.ts";
import { EXIT, worst } from "../exit-codes.ts";
import { finish } from "../finish.ts";
import { colourOption, quietOption } from "../options/messages.ts";
import type { OutputPlan } from "../output.ts";
import { writeTable } from "../output.ts";
import { reportOption } from "./options.ts";

/** How a quality command hands over what it found. */
export interface QualityOutput {
  /** Last word of the command, for instance `sorting`. */
  readonly command: string;
  readonly title: string;
  /** The table asked for; undefined for the usual one. */
  readonly table: string | undefined;
  readonly seed?: string | undefined;
}

/** Rows of a second and further table that a person is shown on a terminal without asking. */
const MOST_ROWS = 12;

/** Refuses a report folder that exists before any work is done; such a folder is never touched. */
export async function checkReportFolder(context: CommandContext, options: OptionValues): Promise<void> {
  const folder = options.get(reportOption);
  if (folder === undefined) return;
  const taken = "exists already; a report folder is never overwritten";
  await checkNewFolder(resolve(context.cwd, folder), folder, taken);
}

/** The end of every quality command: the table, the report, the findings, the result in a line, the exit code. */
export async function finishQuality(
  context: CommandContext,
  options: OptionValues,
  plan: OutputPlan,
  run: QualityRun,
  output: QualityOutput,
): Promise<ExitCode> {
  const files = run.inputs.map((input) => input.file);
  const [usual] = run.tables;
  if (usual === undefined) return worst(await finish(context, options, run.findings, files), EXIT.refused);
  const asked = run.tables.find((table) => table.id === output.table) ?? usual;
  const write = (table: QualityTable) =>
    writeTable(context, plan, {
      columns: table.columns,
      rows: plan.format === "table" ? table.rows.map(roundedRow) : table.rows,
      envelope: {
        schema: `jartally/qc-${output.command}-${table.id}@1`,
        inputs: run.inputs,
        seed: output.seed ?? null,
      },
    });
  const paint = outcomePaint(context, options, plan);
  const forPerson = (table: QualityTable) => painted(compact(table), paint);
  await write(plan.format === "table" ? forPerson(asked) : asked);
  if (plan.format === "table" && plan.path === undefined && output.table === undefined) {
    for (const table of run.tables.filter((one) => one !== asked && isTelling(one))) {
      const rest = table.rows.length - MOST_ROWS;
      await context.stdout.write(`\n${table.title}\n`);
      await write(forPerson({ ...table, rows: table.rows.slice(0, MOST_ROWS) }));
      if (rest > 0) await context.stdout.write(`... and ${rest} more; --table ${table.id} shows all\n`);
    }
  }
  const folder = options.get(reportOption);
  if (folder !== undefined) {
    const { writeQualityReport } = await import("../../report/quality-report.ts");
    await writeQualityReport(resolve(context.cwd, folder), folder, { ...run, title: output.title });
  }
  const exit = await finish(context, options, run.findings, files);
  if (options.get(quietOption) !== true) {
    const where = folder === undefined ? "" : `; report in ${folder}`;
    await context.stderr.write(`${run.summary}${where}\n`);
  }
  const isNo = run.outcome === "fail" || run.outcome === "undecided";
  return worst(exit, isNo ? EXIT.no : EXIT.done);
}

/** Without a log there are no lots and no months, and a group without a name says nothing. */
function isTelling({ rows }: QualityTable): boolean {
  return rows.some(([name]) => name !== null && name !== "");
}

/** Two decimals are what a person reads; files keep every digit. */
function roundedRow(row: OutputRow): OutputRow {
  return row.map((cell) => (typeof cell === "number" ? Number(figureText(exactOf(cell))) : cell));
}

/** A table for a person: the columns that are looked at first, without those that are empty in every row. */
function compact(table: QualityTable): QualityTable {
  const kept = table.columns.flatMap((column, at) => {
    const isFilled = table.rows.some((row) => row[at] !== null && row[at] !== "");
    return table.brief.includes(column.name) && (isFilled || table.rows.length === 0) ? [at] : [];
  });
  return {
    ...table,
    columns: kept.map((column) => at(table.columns, column)),
    rows: table.rows.map((row) => kept.map((column) => at(row, column))),
  };
}

/** Colours an outcome; the word says the same. */
function outcomePaint(
  context: CommandContext,
  options: OptionValues,
  plan: OutputPlan,
): ((cell: string) => string) | undefined {
  const isColoured =
    plan.path === undefined && wantsColour(options.get(colourOption) ?? "auto", context.env, context.stdout);
  if (!isColoured) return undefined;
  const paint = painter(true);
  return (cell) => {
    const word = cell.trim();
    if (word === "pass" || word === "same") return paint.green(cell);
    if (word === "not-computable" || word === "") return cell;
    return paint.red(cell);
  };
}

function painted(table: QualityTable, paint: ((cell: string) => string) | undefined): QualityTable {
  if (paint === undefined) return table;
  const columns = table.columns.map((column) =>
    column.name.endsWith("outcome") ? { ...column, paint } : column,
  );
  return { ...table, columns };
}
