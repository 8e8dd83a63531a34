import type { OutputColumn, OutputRow } from "../files/formats/define.ts";
import { formatOfExtension } from "../files/formats/registry.ts";
import type { Finding } from "../findings/finding.ts";
import { CountPolicy } from "../names/count-policy.ts";
import type { NamedRows } from "../pipeline/load.ts";
import { loadRows } from "../pipeline/load.ts";
import type { DrawnSample } from "../pipeline/subsample-batch.ts";
import { drawBatch } from "../pipeline/subsample-batch.ts";
import type { OpenedBatch } from "./batch-input.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import { EXIT, worst } from "./exit-codes.ts";
import { finish } from "./finish.ts";
import { quietOption } from "./options/messages.ts";
import { forceOption } from "./options/output.ts";
import type { OutputPlan } from "./output.ts";
import { checkWritable, refuseInputAsOutput, writeTable } from "./output.ts";
import { settleSeed } from "./seed.ts";

const text = (name: string): OutputColumn => ({ name, kind: "text" });
const number = (name: string): OutputColumn => ({ name, kind: "number" });

/** The counts that remain, as a bench sheet. */
const SHEET_COLUMNS = [
  text("sample_id"),
  text("taxon"),
  number("count"),
  text("life_stage"),
  text("part"),
  text("distinct"),
  number("number_of_taxa"),
];
const SUMMARY_COLUMNS = [
  text("sample_id"),
  text("site_id"),
  text("status"),
  number("individuals_counted"),
  number("individuals_kept"),
  number("target"),
  number("fraction_sorted"),
  number("estimated_total"),
  text("seed"),
  text("algorithm"),
  text("flags"),
];

export interface SubsampleChoices {
  readonly target: number;
  readonly seed: string | undefined;
  readonly summaryPath: string | undefined;
}

/** The work of `subsample`. */
export async function subsampleFiles(
  context: CommandContext,
  options: OptionValues,
  opened: OpenedBatch,
  plan: OutputPlan,
  choices: SubsampleChoices,
): Promise<ExitCode> {
  const force = options.get(forceOption) === true;
  const { summaryPath } = choices;
  if (summaryPath !== undefined) {
    await refuseInputAsOutput(summaryPath, opened.paths, context.cwd);
    await checkWritable(summaryPath, force, context.cwd);
  }
  const loaded = await loadRows(opened);
  const files = loaded.inputs.map((input) => input.file);
  const { rows } = loaded;
  if (rows === undefined) return worst(await finish(context, options, loaded.findings, files), EXIT.refused);
  const seed = settleSeed(choices.seed, context);
  const policy = new CountPolicy(rows.names.tree, loaded.shared.stageRules, []);
  const findings: Finding[] = [...loaded.findings];
  const drawn: Omit<DrawnSample, "remaining" | "findings">[] = [];
  const sheet = function* (): Generator<OutputRow> {
    for (const sample of drawBatch(rows, policy, { target: choices.target, seed })) {
      const { remaining, findings: found, ...summary } = sample;
      findings.push(...found);
      drawn.push(summary);
      yield* sheetRows(sample, rows);
    }
  };
  const envelope = { inputs: loaded.inputs, seed };
  await writeTable(context, plan, {
    columns: SHEET_COLUMNS,
    rows: sheet(),
    envelope: { ...envelope, schema: "jartally/bench-sheet@1" },
  });
  if (summaryPath !== undefined) {
    const format = formatOfExtension(summaryPath) ?? "csv";
    await writeTable(
      context,
      { format, path: summaryPath, force },
      {
        columns: SUMMARY_COLUMNS,
        rows: drawn.map((sample) => summaryRow(sample, choices.target, seed)),
        envelope: { ...envelope, schema: "jartally/subsample-summary@1" },
      },
    );
  }
  const exit = await finish(context, options, findings, files);
  if (options.get(quietOption) !== true)
    await context.stderr.write(`${tally(drawn, choices.target, seed)}\n`);
  return worst(exit, drawn.some((sample) => sample.status === "refused") ? EXIT.refused : EXIT.done);
}

/** A sample without animals keeps a row with the count 0, so that it is not lost on the way. */
function* sheetRows(
  { sampleId, status, remaining }: DrawnSample,
  { table }: NamedRows,
): Generator<OutputRow> {
  if (status === "refused" || status === "held-back") return;
  if (remaining.length === 0) {
    const row = firstRowOf(table, sampleId);
    if (row !== undefined) yield [sampleId, table.names.textOf(table.nameAt(row)), 0, "", "", "", null];
  }
  for (const { pile, left } of remaining) {
    yield [
      sampleId,
      table.names.textOf(table.nameAt(pile.rows[0] ?? 0)),
      left,
      pile.stage === "unknown" ? "" : pile.stage,
      pile.largeRare ? "large-rare" : "",
      pile.distinct,
      pile.numberOfTaxa === 1 ? null : pile.numberOfTaxa,
    ];
  }
}

function firstRowOf(table: NamedRows["table"], sampleId: string): number | undefined {
  const sample = table.samples.numberOf(sampleId);
  for (let row = 0; row < table.size; row++) if (table.sampleAt(row) === sample) return row;
  return undefined;
}

function summaryRow(
  sample: Omit<DrawnSample, "remaining" | "findings">,
  target: number,
  seed: string,
): OutputRow {
  return [
    sample.sampleId,
    sample.siteId,
    sample.status,
    sample.counted ?? null,
    sample.kept ?? null,
    target,
    sample.fractionSorted ?? null,
    sample.estimatedTotal ?? null,
    seed,
    sample.algorithm,
    sample.flags.join(";"),
  ];
}

function tally(drawn: readonly { readonly status: string }[], target: number, seed: string): string {
  const parts = ["drawn", "whole", "under-target", "empty", "held-back", "refused"].flatMap((status) => {
    const count = drawn.filter((sample) => sample.status === status).length;
    return count === 0 ? [] : [`${count} ${status}`];
  });
  return `${drawn.length} samples to ${target} animals: ${parts.join(", ")}; seed ${seed}`;
}
