import { resolve } from "node:path";
import type { OutputColumn } from "../files/formats/define.ts";
import { findFormat, formatOfExtension } from "../files/formats/registry.ts";
import { writeWhole } from "../files/safe-write.ts";
import { openNames } from "../names/open-names.ts";
import type { NamedRows } from "../pipeline/load-rows.ts";
import type { LabNames } from "../sheets/names-list.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import { UsageError } from "./define.ts";
import { forceOption, outputOption } from "./options/output.ts";
import { checkWritable, refuseInputAsOutput } from "./output.ts";

/** Where the open names go; settled before any work. */
export interface NamesPlan {
  /** Absolute. */
  readonly path: string;
  readonly shownAs: string;
  readonly force: boolean;
}

/**
 * @param inputs paths of the inputs: none of them may be the file
 * @throws UsageError when it is an input or the output; FileError when it exists and may not be overwritten
 */
export async function planNames(
  context: CommandContext,
  options: OptionValues,
  given: string | undefined,
  inputs: readonly string[],
): Promise<NamesPlan | undefined> {
  if (given === undefined) return undefined;
  if (given === "-") throw new UsageError("--write-names needs a file: the table goes to standard output");
  const format = formatOfExtension(given);
  if (format !== "csv" && format !== "tsv")
    throw new UsageError(`--write-names: ${given} is no list of names`, "name a .csv or .tsv file");
  const path = resolve(context.cwd, given);
  const output = options.get(outputOption);
  if (output !== undefined && resolve(context.cwd, output) === path)
    throw new UsageError("--output and --write-names name the same file");
  const force = options.get(forceOption) === true;
  await refuseInputAsOutput(given, inputs, context.cwd, "--write-names");
  await checkWritable(given, force, context.cwd);
  return { path, shownAs: given, force };
}

const COLUMNS: readonly OutputColumn[] = ["sheet_name", "accepted_name", "note"].map((name) => ({
  name,
  kind: "text",
}));

/**
 * Writes the open names of a batch, then the decisions that the lab has made already.
 *
 * @returns what was done and what to do next, in words
 * @throws FileError when the file cannot be written
 */
export async function writeOpenNames(
  plan: NamesPlan,
  rows: NamedRows,
  lab: LabNames | undefined,
): Promise<string> {
  const { table, names } = rows;
  const counts = new Uint32Array(table.names.size);
  for (let row = 0; row < table.size; row++) {
    const name = table.nameAt(row);
    counts[name] = (counts[name] as number) + 1;
  }
  const open = openNames(
    names.resolutions.map((resolution, name) => ({
      name: table.names.textOf(name),
      resolution,
      rows: counts[name] as number,
    })),
  );
  const format = findFormat(formatOfExtension(plan.shownAs) ?? "csv");
  await writeWhole(plan.path, plan, async (sink) => {
    const writer = format.create(sink, COLUMNS, { schema: "jartally/names@1", inputs: [] });
    await writer.start();
    for (const { sheetName, acceptedName, note } of open) await writer.row([sheetName, acceptedName, note]);
    for (const [name, { accepted, note }] of lab?.entries ?? []) await writer.row([name, accepted, note]);
    await writer.end();
  });
  if (open.length === 0) return `${plan.shownAs}: no name is open`;
  const what = open.length === 1 ? "1 open name" : `${open.length} open names`;
  return `${plan.shownAs}: ${what}; fill in accepted_name and give it back with --names ${plan.shownAs}`;
}
