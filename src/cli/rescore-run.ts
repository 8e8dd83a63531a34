import type { OutputColumn, OutputRow } from "../files/formats/define.ts";
import { KeptRows } from "../files/formats/kept-rows.ts";
import { openInput } from "../files/input.ts";
import type { Finding } from "../findings/finding.ts";
import { toNumber } from "../model/exact.ts";
import type { ComparedSample } from "../pipeline/rescore/compare.ts";
import { findRuns } from "../pipeline/rescore/find-runs.ts";
import { writeRescored } from "../pipeline/rescore/new-run.ts";
import type { Rescored } from "../pipeline/rescore/rescore-runs.ts";
import { rescoreRuns } from "../pipeline/rescore/rescore-runs.ts";
import { RESCORE_COLUMNS, rescoreRow } from "../pipeline/rescore/rescore-table.ts";
import { isChanged, Summariser, summaryLines } from "../pipeline/rescore/summary.ts";
import { whySample } from "../pipeline/rescore/why-sample.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import { UsageError } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import { EXIT, worst } from "./exit-codes.ts";
import { finish } from "./finish.ts";
import { findingsOption, quietOption, threadsOption } from "./options/messages.ts";
import type { OutputPlan } from "./output.ts";
import { planOutput, writeTable } from "./output.ts";
import { progressLine } from "./progress.ts";
import { environmentOf, planRun, refuseInsideRuns } from "./run-place.ts";
import { setNotice } from "./set-notice.ts";

/** What the user wants changed, and what is to come out. */
export interface RescoreChoices {
  readonly reference: string | undefined;
  readonly amend: string | undefined;
  readonly names: string | undefined;
  readonly attributes: readonly string[] | undefined;
  readonly classes: string | undefined;
  readonly target: number | null | undefined;
  readonly stratum: string | undefined;
  readonly why: string | undefined;
  readonly failOnChange: boolean;
  readonly run: string | undefined;
  readonly isStamped: boolean;
}

/** The work of `rescore`. */
export async function rescoreFolders(
  context: CommandContext,
  options: OptionValues,
  operands: readonly string[],
  choices: RescoreChoices,
): Promise<ExitCode> {
  const { cwd, stdin } = context;
  const inputs = [choices.amend, choices.names].filter((path) => path !== undefined);
  const plan = await planOutput(context, options, inputs);
  const place = choices.run === undefined ? undefined : await planRun(choices.run, cwd);
  const world = { stdin, cwd };
  const amend = choices.amend === undefined ? undefined : await openInput(choices.amend, world);
  const names = choices.names === undefined ? undefined : await openInput(choices.names, world);
  const folders = await findRuns(operands, cwd);
  const written = [plan.path, choices.run, options.get(findingsOption)];
  refuseInsideRuns(
    written,
    folders.map((folder) => folder.path),
    cwd,
  );
  const progress = progressLine(context, options);
  const request = { ...choices, amend, names, cwd, threads: options.get(threadsOption) };
  const isQuiet = options.get(quietOption) === true;
  const kept = new KeptRows(RESCORE_COLUMNS);
  const findings: Finding[] = [];
  const summariser = new Summariser();
  const asked: ComparedSample[] = [];
  let [isAnyRefused, isAnyChanged] = [false, false];
  const rescored = await rescoreRuns(
    folders,
    request,
    (sample, run, after) => {
      if (sample.sampleId === choices.why) asked.push(sample);
      kept.add(rescoreRow(sample, run.folder.shownAs));
      findings.push(...sample.findings);
      if (!isQuiet) summariser.add(sample, run.set, after.set);
      if (sample.after.status === "refused") isAnyRefused = true;
      if (isChanged(sample)) isAnyChanged = true;
    },
    progress.watch,
  );
  await progress.end();

  if (choices.why !== undefined) return showWhy(context, options, plan, rescored, choices.why, asked);
  const isWritable = place !== undefined && rescored.refused.length === 0;
  if (isWritable)
    await writeRescored(
      place,
      rescored.runs,
      rescored.inputs,
      environmentOf(choices.isStamped),
      progress.watch,
    );
  await progress.end();
  if (!isQuiet && rescored.runs.length > 0)
    await context.stderr.write(`${summaryLines(summariser.summary).join("\n")}\n`);
  await writeTable(context, plan, {
    columns: RESCORE_COLUMNS,
    rows: kept,
    envelope: envelopeOf(rescored),
  });
  const exit = await finish(context, options, [...rescored.findings, ...findings], inputs);
  if (!isQuiet) await context.stderr.write(`${closingLines(rescored, choices, isWritable).join("\n")}\n`);
  return worst(
    exit,
    isAnyRefused || rescored.refused.length > 0 ? EXIT.refused : EXIT.done,
    choices.failOnChange && isAnyChanged ? EXIT.no : EXIT.done,
  );
}

function closingLines(rescored: Rescored, choices: RescoreChoices, isWritten: boolean): string[] {
  const sets = new Map(rescored.runs.map(({ after }) => [after.set.hash, after.set]));
  const lines = [...sets.values()].flatMap(setNotice);
  for (const { run, kinds } of rescored.runs) {
    const what = kinds.length === 0 ? "nothing differs" : `differs in ${kinds.join(", ")}`;
    lines.push(`${run.folder.shownAs}: ${what}; seed ${run.choices.seed}`);
  }
  for (const folder of rescored.refused) lines.push(`${folder.shownAs} was not scored again`);
  if (choices.run !== undefined)
    lines.push(
      isWritten ? `run folder ${choices.run}` : "no run folder was written: not every run could be scored",
    );
  return lines;
}

function envelopeOf({ runs }: Rescored) {
  const set = runs[0]?.after.set;
  return {
    schema: "jartally/rescored@1",
    inputs: runs.map(({ run, fingerprint }) => ({
      file: `${run.folder.shownAs}/checksums.txt`,
      sha256: fingerprint,
    })),
    reference:
      set === undefined ? null : { id: set.definition.id, version: set.definition.version, hash: set.hash },
    seed: runs[0]?.run.choices.seed ?? null,
  };
}

const text = (name: string): OutputColumn => ({ name, kind: "text" });

const WHY_COLUMNS: readonly OutputColumn[] = [
  text("sample_id"),
  text("cause"),
  text("item"),
  text("what"),
  text("before"),
  text("after"),
  { name: "change_alone", kind: "number" },
  text("place_before"),
  text("place_after"),
  text("run"),
];

async function showWhy(
  context: CommandContext,
  options: OptionValues,
  plan: OutputPlan,
  rescored: Rescored,
  sampleId: string,
  found: readonly ComparedSample[],
): Promise<ExitCode> {
  const rows: OutputRow[] = [];
  for (const one of rescored.runs) {
    for (const row of whySample(one, sampleId) ?? [])
      rows.push([
        sampleId,
        row.cause,
        row.item,
        row.what,
        row.before,
        row.after,
        row.alone === undefined ? null : toNumber(row.alone),
        row.placeBefore,
        row.placeAfter,
        one.run.folder.shownAs,
      ]);
  }
  if (rows.length === 0 && rescored.refused.length === 0)
    throw new UsageError(`--why: no run has a sample "${sampleId}"`, "scores.csv of a run lists its samples");
  await writeTable(context, plan, { columns: WHY_COLUMNS, rows, envelope: envelopeOf(rescored) });
  const findings = [...rescored.findings, ...found.flatMap((sample) => sample.findings)];
  const exit = await finish(context, options, findings, []);
  if (options.get(quietOption) !== true) {
    for (const { change, causes, notAttributable } of found) {
      const parts = Object.entries(causes ?? {}).map(([kind, part]) => `${kind} ${toNumber(part)}`);
      const says = causes === undefined ? `not attributable: ${notAttributable}` : parts.join(", ");
      await context.stderr.write(
        `${sampleId}: change ${change === undefined ? "none" : toNumber(change)}; ${says}\n`,
      );
    }
  }
  return worst(exit, rescored.refused.length > 0 ? EXIT.refused : EXIT.done);
}
