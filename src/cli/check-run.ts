import type { OutputColumn, OutputRow } from "../files/formats/define.ts";
import type { InputFile } from "../files/input.ts";
import { FindingCollector } from "../findings/collector.ts";
import type { Finding } from "../findings/finding.ts";
import { CountPolicy } from "../names/count-policy.ts";
import { watchFor } from "../pipeline/alerts.ts";
import type { CheckResult } from "../pipeline/check-batch.ts";
import { checkBatch } from "../pipeline/check-batch.ts";
import type { LoadedRows, NamedRows } from "../pipeline/load-rows.ts";
import { loadRows } from "../pipeline/load-rows.ts";
import type { ReferenceSet } from "../reference/set.ts";
import type { AlertsList } from "../sheets/alerts-list.ts";
import { readAlertsList } from "../sheets/alerts-list.ts";
import type { OpenedBatch } from "./batch-input.ts";
import { checkSummary, SummaryTally } from "./check-summary.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import { EXIT, worst } from "./exit-codes.ts";
import { finish } from "./finish.ts";
import { quietOption } from "./options/messages.ts";
import type { OutputPlan } from "./output.ts";
import { writeTable } from "./output.ts";
import { progressBesideRows, watched } from "./progress.ts";
import type { NamesPlan } from "./write-names.ts";
import { writeOpenNames } from "./write-names.ts";

const text = (name: string): OutputColumn => ({ name, kind: "text" });
const COLUMNS: readonly OutputColumn[] = [
  text("sample_id"),
  text("site_id"),
  text("collected_on"),
  text("readiness"),
  { name: "individuals", kind: "number" },
  text("flags"),
  text("why"),
  text("see_to_first"),
];

/** What the user chose for a check. */
export interface CheckRequest {
  readonly reference: string | undefined;
  /** Year-month-day. */
  readonly today: string;
  readonly alerts: InputFile | undefined;
  readonly names: NamesPlan | undefined;
}

/** The work of `check`. */
export async function checkFiles(
  context: CommandContext,
  options: OptionValues,
  opened: OpenedBatch,
  plan: OutputPlan,
  request: CheckRequest,
): Promise<ExitCode> {
  const loaded = await load(context, opened, request.reference);
  const findings: Finding[] = [...loaded.findings];
  const list = await readAlerts(request.alerts, opened.encoding, findings);
  const inputs = list === undefined ? loaded.inputs : [...loaded.inputs, list.digest];
  const files = inputs.map((input) => input.file);
  const { rows, set } = loaded;
  if (rows === undefined || list?.unreadable === true)
    return worst(await finish(context, options, findings, files), EXIT.refused);
  const tally = new SummaryTally();
  const progress = progressBesideRows(context, options, plan);
  const checked = async function* (): AsyncGenerator<OutputRow> {
    const all = results(rows, set, list, request.today, findings);
    for await (const result of watched(all, progress, "samples", rows.table.samples.size)) {
      findings.push(...result.findings);
      tally.add(result);
      yield rowOf(result);
    }
  };
  await writeTable(context, plan, {
    columns: COLUMNS,
    rows: checked(),
    envelope: { schema: "jartally/check@2", inputs },
  });
  const open = await writeNames(request.names, rows, loaded);
  const exit = await finish(context, options, findings, files);
  if (options.get(quietOption) !== true)
    await context.stderr.write(`${[...checkSummary(tally, findings), ...open].join("\n")}\n`);
  return exit;
}

async function load(context: CommandContext, opened: OpenedBatch, reference: string | undefined) {
  if (reference === undefined) return { ...(await loadRows(opened)), set: undefined };
  // What reads a set takes longer to load than a small sheet to be checked.
  const { loadBatch } = await import("../pipeline/load.ts");
  return loadBatch(opened, reference, context.cwd, { rowsOnly: true });
}

async function readAlerts(
  input: InputFile | undefined,
  encoding: string | undefined,
  findings: Finding[],
): Promise<AlertsList | undefined> {
  if (input === undefined) return undefined;
  const collector = new FindingCollector();
  const list = await readAlertsList(input, encoding === undefined ? {} : { encoding }, collector);
  findings.push(...collector.all);
  return list;
}

function* results(
  rows: NamedRows,
  set: ReferenceSet | undefined,
  list: AlertsList | undefined,
  today: string,
  findings: Finding[],
): Generator<CheckResult> {
  const { names, space } = rows;
  const policy = new CountPolicy(names.tree, space.stageRules, set?.definition.count_policy ?? []);
  const collector = new FindingCollector();
  const watch = list === undefined ? undefined : watchFor(list, names, space, collector);
  findings.push(...collector.all);
  yield* checkBatch(rows, { policy, today, set: set?.definition, watch });
}

function rowOf({ sample }: CheckResult): OutputRow {
  return [
    sample.sampleId,
    sample.siteId,
    sample.collectedOn,
    sample.readiness,
    sample.individuals ?? null,
    sample.flags.join(";"),
    sample.why,
    sample.seeToFirst.map(({ message }) => message).join("; "),
  ];
}

/** Writes the open names where they are asked for. @returns what to say of it */
async function writeNames(
  plan: NamesPlan | undefined,
  rows: NamedRows,
  loaded: LoadedRows,
): Promise<readonly string[]> {
  if (plan === undefined) return [];
  return [await writeOpenNames(plan, rows, loaded.read.rows.lab)];
}
