import { resolve } from "node:path";
import type { ExchangeId } from "../exchange/ids.ts";
import { findExchange } from "../exchange/registry.ts";
import { writeExchange } from "../exchange/write-exchange.ts";
import { FileError } from "../files/file-error.ts";
import { exchangeRun, exchangeSamples } from "../pipeline/exchange-samples.ts";
import { openRun } from "../pipeline/open-run.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import { finish } from "./finish.ts";
import { findingsOption, quietOption } from "./options/messages.ts";
import { planFolder } from "./output-folder.ts";
import { progressLine, watched } from "./progress.ts";
import { setNotice } from "./set-notice.ts";

/** What the user wants exported, and where to. */
export interface ExportRequest {
  readonly run: string;
  readonly folder: string;
  readonly format: ExchangeId;
  readonly exactPlaces: boolean;
}

/** The work of `export`. */
export async function exportStored(
  context: CommandContext,
  options: OptionValues,
  request: ExportRequest,
): Promise<ExitCode> {
  const { folder } = request;
  await planFolder(context, folder, [request.run], options.get(findingsOption));
  const progress = progressLine(context, options);
  const run = await openRun(request.run, context.cwd, progress.watch);
  const { batch } = run;
  if (batch === undefined)
    throw new FileError(request.run, "the set and the rows of the run cannot be joined");
  const { tables, notes } = await writeExchange(
    resolve(context.cwd, folder),
    folder,
    findExchange(request.format),
    exchangeRun(run, request.exactPlaces),
    watched(exchangeSamples({ ...run, batch }), progress, "samples", batch.table.samples.size),
  );
  // What was found in the sheets was said when they were scored, and stands in the run.
  const exit = await finish(context, options, [], []);
  if (options.get(quietOption) !== true) {
    const written = tables.map(({ file, rows }) => `${file} ${rows} ${rows === 1 ? "row" : "rows"}`);
    const lines = [...setNotice(run.set), ...notes, `${folder}: ${written.join(", ")}`];
    await context.stderr.write(`${lines.join("\n")}\n`);
  }
  return exit;
}
