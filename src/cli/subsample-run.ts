import { resolve } from "node:path";
import type { OutputRow } from "../files/formats/define.ts";
import { findFormat, formatOfExtension } from "../files/formats/registry.ts";
import type { Finding } from "../findings/finding.ts";
import { CountPolicy } from "../names/count-policy.ts";
import { loadRows } from "../pipeline/load-rows.ts";
import { drawBatch } from "../pipeline/subsample/draw-batch.ts";
import type { DrawMethod, DrawnBlock, DrawnSample } from "../pipeline/subsample/drawn-sample.ts";
import { SheetBytes } from "../pipeline/subsample/sheet-bytes.ts";
import { sheetColumns, sheetRows } from "../pipeline/subsample/sheet-rows.ts";
import { summaryColumns, summaryRow } from "../pipeline/subsample/summary-rows.ts";
import { targetRange } from "../subsample/target-range.ts";
import type { OpenedBatch } from "./batch-input.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import { UsageError } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import { EXIT, worst } from "./exit-codes.ts";
import { finish } from "./finish.ts";
import { quietOption } from "./options/messages.ts";
import { forceOption } from "./options/output.ts";
import type { OutputPlan } from "./output.ts";
import { checkWritable, refuseInputAsOutput, writeTable } from "./output.ts";
import { progressBesideRows } from "./progress.ts";
import { settleSeed } from "./seed.ts";
import type { SubsampleChoices } from "./subsample-choices.ts";

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
    if (plan.path !== undefined && resolve(context.cwd, plan.path) === resolve(context.cwd, summaryPath))
      throw new UsageError("--summary and --output name the same file");
    await refuseInputAsOutput(summaryPath, opened.paths, context.cwd);
    await checkWritable(summaryPath, force, context.cwd);
  }
  const loaded = await loadRows(opened);
  const files = loaded.inputs.map((input) => input.file);
  const { rows } = loaded;
  if (rows === undefined) return worst(await finish(context, options, loaded.findings, files), EXIT.refused);
  const seed = settleSeed(choices.seed, context);
  const policy = new CountPolicy(rows.names.tree, loaded.shared.stageRules, []);
  const method = methodOf(choices);
  const shape = { by: method.by, hasDraws: choices.draws !== undefined };
  const findings: Finding[] = [...loaded.findings];
  const tally = new DrawTally();
  const summary: OutputRow[] = [];
  const { algorithm, draws } = choices;
  const progress = progressBesideRows(context, options, plan);
  const showsEstimates = summaryPath !== undefined;
  const drawn = async function* (): AsyncGenerator<DrawnBlock> {
    let done = 0;
    for (const block of drawBatch(rows, policy, { method, seed, algorithm, draws, showsEstimates })) {
      done += block.samples.length;
      await progress.watch("draws", done, rows.table.samples.size * (draws ?? 1));
      for (const sample of block.samples) {
        for (const one of sample.findings) findings.push(one);
        tally.add(sample);
        if (showsEstimates) summary.push(summaryRow(sample, method, seed, shape));
      }
      yield block;
    }
    await progress.end();
  };
  const envelope = { inputs: loaded.inputs, seed };
  const { delimiter } = findFormat(plan.format);
  await writeTable(context, plan, {
    columns: sheetColumns(shape),
    envelope: { ...envelope, schema: "jartally/bench-sheet@1" },
    ...(delimiter === undefined
      ? { blocks: mapped(drawn(), (block) => sheetRows(block, rows.table, shape)) }
      : { bytes: mapped(drawn(), bytesOf(new SheetBytes(rows.table, shape, delimiter))) }),
  });
  if (summaryPath !== undefined) {
    const format = formatOfExtension(summaryPath) ?? "csv";
    await writeTable(
      context,
      { format, path: summaryPath, force },
      {
        columns: summaryColumns(shape),
        rows: summary,
        envelope: { ...envelope, schema: "jartally/subsample-summary@1" },
      },
    );
  }
  const exit = await finish(context, options, findings, files);
  if (options.get(quietOption) !== true) await context.stderr.write(`${tally.line(choices.target, seed)}\n`);
  return worst(exit, tally.hasRefused ? EXIT.refused : EXIT.done);
}

const bytesOf = (sheet: SheetBytes) => (block: DrawnBlock) => sheet.of(block);

async function* mapped<From, To>(items: AsyncIterable<From>, change: (item: From) => To): AsyncGenerator<To> {
  for await (const item of items) yield change(item);
}

function methodOf({ by, target, stop, trays }: SubsampleChoices): DrawMethod {
  if (by === "individual") return { by, target };
  const { within, ...rest } = stop;
  return { by, rule: { ...rest, range: targetRange(target, within) }, trays };
}

/** Counts samples by the status of their first draw. */
class DrawTally {
  readonly #counts = new Map<DrawnSample["status"], number>();
  #algorithm = "";
  #hasRefused = false;

  add({ draw, status, algorithm }: DrawnSample): void {
    if (this.#algorithm === "") this.#algorithm = algorithm;
    if (status === "refused") this.#hasRefused = true;
    if (draw === 1) this.#counts.set(status, (this.#counts.get(status) ?? 0) + 1);
  }

  /** Whether a draw of any sample was refused. */
  get hasRefused(): boolean {
    return this.#hasRefused;
  }

  line(target: number, seed: string): string {
    let samples = 0;
    const parts: string[] = [];
    for (const status of ["drawn", "whole", "under-target", "empty", "held-back", "refused"] as const) {
      const count = this.#counts.get(status) ?? 0;
      samples += count;
      if (count > 0) parts.push(`${count} ${status}`);
    }
    const how = this.#algorithm === "" ? "" : `; ${this.#algorithm}`;
    return `${samples} samples to ${target} animals: ${parts.join(", ")}; seed ${seed}${how}`;
  }
}
