import { extname, resolve } from "node:path";
import { asFileError, FileError, systemCode } from "../files/file-error.ts";
import { nodeFileSystem } from "../files/file-system.ts";
import type { Envelope, OutputColumn, OutputRow, TableLook, TextSink } from "../files/formats/define.ts";
import { giveBytes } from "../files/formats/define.ts";
import type { FormatId } from "../files/formats/registry.ts";
import { findFormat, formatOfExtension, OUTPUT_FORMATS } from "../files/formats/registry.ts";
import { writeRows } from "../files/formats/write-rows.ts";
import { checkFolderOf } from "../files/output-place.ts";
import { writeWhole } from "../files/safe-write.ts";
import type { CommandContext, TextStream } from "./context.ts";
import type { OptionValues } from "./define.ts";
import { UsageError } from "./define.ts";
import { findingsOption } from "./options/messages.ts";
import { forceOption, formatOption, outputOption } from "./options/output.ts";

/** Where the data go and in which format; settled before any work is done. */
export interface OutputPlan {
  readonly format: FormatId;
  /** Path of the file, or undefined for standard output. */
  readonly path: string | undefined;
  readonly force: boolean;
}

/** A table to be written. Its rows are taken once, row by row. */
export type OutputTable = {
  readonly columns: readonly OutputColumn[];
  readonly envelope: Envelope;
} & (
  | { readonly rows: Iterable<OutputRow> | AsyncIterable<OutputRow> }
  /** Rows that come many at once: waiting for each by itself would take longer than writing it. */
  | { readonly blocks: AsyncIterable<Iterable<OutputRow>> }
  /** Rows made as bytes, for a format that takes them so. */
  | { readonly bytes: AsyncIterable<Uint8Array> }
);

/**
 * Settles the output: the option, then the extension of the file, then table on a terminal and csv otherwise. An
 * output that cannot be written is found here, before the work.
 *
 * @param inputs paths of the inputs: none of them may be the output
 * @throws UsageError when the output is one of the inputs; FileError when it exists and may not be overwritten
 */
export async function planOutput(
  context: CommandContext,
  options: OptionValues,
  inputs: readonly string[],
): Promise<OutputPlan> {
  const given = options.get(outputOption);
  const path = given === undefined || given === "-" ? undefined : given;
  const force = options.get(forceOption) === true;
  await checkFindingsFile(context, options, inputs, path);
  const byExtension = path === undefined ? undefined : formatOfExtension(path);
  const fallback = path === undefined && context.stdout.isTerminal ? "table" : "csv";
  const format = options.get(formatOption) ?? byExtension ?? fallback;
  if (path !== undefined && byExtension === undefined && options.get(formatOption) === undefined)
    refuseForeignExtension(path);
  if (path === undefined) return { format, path, force };
  await refuseInputAsOutput(path, inputs, context.cwd);
  await checkWritable(path, force, context.cwd);
  return { format, path, force };
}

/** A file called .xlsx that holds CSV would mislead whoever opens it; a name without extension promises nothing. */
function refuseForeignExtension(path: string): void {
  const extension = extname(path);
  if (extension === "" || path.startsWith("/dev/")) return;
  const known = OUTPUT_FORMATS.flatMap((format) => format.extensions).join(", ");
  throw new UsageError(`--output: nothing is written as ${extension}`, `use ${known}, or say --format`);
}

/** Writes a table to its place, whole or not at all when that is a file. */
export async function writeTable(
  context: CommandContext,
  plan: OutputPlan,
  table: OutputTable,
): Promise<void> {
  const format = findFormat(plan.format);
  const produce = async (sink: TextSink) => {
    const writer = format.create(sink, table.columns, table.envelope, look(context, plan));
    await writer.start();
    if ("rows" in table) await writeRows(writer, table.rows);
    else if ("bytes" in table) for await (const made of table.bytes) await giveBytes(writer, made);
    else for await (const block of table.blocks) await writeRows(writer, block);
    await writer.end();
  };
  if (plan.path === undefined) {
    await produce(streamSink(context.stdout));
    return;
  }
  await writeWhole(resolve(context.cwd, plan.path), { force: plan.force, shownAs: plan.path }, produce);
}

/** On a terminal a table fits its width and its numbers are rounded for the eye; a pipe or a file gets all. */
function look(context: CommandContext, plan: OutputPlan): TableLook {
  return plan.path === undefined && context.stdout.isTerminal
    ? { width: context.stdout.width, decimals: 3 }
    : {};
}

/** Gathers small pieces, so that a row is not a system call. */
export function streamSink(stream: TextStream): TextSink & { flush(): Promise<void> } {
  let pending = "";
  const flush = async () => {
    const text = pending;
    pending = "";
    await stream.write(text);
  };
  return {
    async write(text: string) {
      pending += text;
      if (pending.length > 1 << 16) await flush();
    },
    flush,
  };
}

/** The file for the findings may be no input and not the output either, and is not overwritten unasked. */
async function checkFindingsFile(
  context: CommandContext,
  options: OptionValues,
  inputs: readonly string[],
  output: string | undefined,
): Promise<void> {
  const path = options.get(findingsOption);
  if (path === undefined) return;
  if (path === "-")
    throw new UsageError("--findings needs a file", "findings are printed on standard error anyway");
  if (output !== undefined && resolve(context.cwd, path) === resolve(context.cwd, output))
    throw new UsageError("--findings and --output name the same file");
  await refuseInputAsOutput(path, inputs, context.cwd, "--findings");
  await checkWritable(path, options.get(forceOption) === true, context.cwd);
}

/** @throws UsageError when the output is one of the inputs, also through a link */
export async function refuseInputAsOutput(
  path: string,
  inputs: readonly string[],
  cwd: string,
  option = "--output",
): Promise<void> {
  const output = await nodeFileSystem.realPath(resolve(cwd, path)).catch(() => resolve(cwd, path));
  for (const input of inputs) {
    if (input === "-") continue;
    const real = await nodeFileSystem.realPath(resolve(cwd, input)).catch(() => resolve(cwd, input));
    if (real === output)
      throw new UsageError(`the output ${path} is also an input`, `choose another name for ${option}`);
  }
}

/** @throws FileError when the output is a folder, or exists and may not be overwritten */
export async function checkWritable(path: string, force: boolean, cwd: string): Promise<void> {
  const full = resolve(cwd, path);
  const facts = await nodeFileSystem.facts(full).catch((error: unknown) => {
    if (systemCode(error) === "ENOENT") return undefined;
    throw asFileError(path, error);
  });
  if (facts?.kind === "folder") throw new FileError(path, "is a directory");
  if (facts?.kind === "file" && !force)
    throw new FileError(path, "exists already; use --force to overwrite it");
  if (facts?.kind !== "other") await checkFolderOf(full, path);
}
