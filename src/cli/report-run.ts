import { resolve } from "node:path";
import { FileError } from "../files/file-error.ts";
import { openRun } from "../pipeline/open-run.ts";
import { reportRun } from "../pipeline/report-samples.ts";
import type { ReportRun } from "../report/report-data.ts";
import type { StoredQuality } from "../report/stored-quality.ts";
import { readQuality } from "../report/stored-quality.ts";
import { writeReport } from "../report/write-report.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import { finish } from "./finish.ts";
import { findingsOption, quietOption, threadsOption } from "./options/messages.ts";
import { planFolder } from "./output-folder.ts";
import { progressLine } from "./progress.ts";
import { setNotice, VERIFICATION_TEXT } from "./set-notice.ts";

/** What the user wants a report of, and where to. */
export interface ReportRequest {
  readonly runs: readonly string[];
  readonly folder: string;
  readonly title: string;
  /** Folders of quality figures. */
  readonly quality: readonly string[];
  readonly exactPlaces: boolean;
}

/** The work of `report`. */
export async function reportStored(
  context: CommandContext,
  options: OptionValues,
  request: ReportRequest,
): Promise<ExitCode> {
  const { folder } = request;
  await planFolder(context, folder, request.runs, options.get(findingsOption));
  const quality: StoredQuality[] = [];
  for (const name of request.quality) quality.push(await readQuality(resolve(context.cwd, name), name));
  const progress = progressLine(context, options);
  const runs: ReportRun[] = [];
  const notices = new Set<string>();
  for (const name of request.runs) {
    const run = await openRun(name, context.cwd, progress.watch);
    const { batch, set } = run;
    if (batch === undefined) throw new FileError(name, "the set and the rows of the run cannot be joined");
    const verification = VERIFICATION_TEXT[set.definition.verification];
    const choices = { ...run.choices, threads: options.get(threadsOption) };
    runs.push(await reportRun({ ...run, batch, choices }, request.exactPlaces, verification, progress.watch));
    notices.add(setNotice(set).join("\n"));
  }
  const sites = await writeReport(
    resolve(context.cwd, folder),
    folder,
    runs,
    { title: request.title, quality },
    progress.watch,
  );
  await progress.end();
  // What was found in the sheets was said when they were scored, and stands on the pages.
  const exit = await finish(context, options, [], []);
  if (options.get(quietOption) !== true)
    await context.stderr.write(
      `${[...notices].join("\n")}\n${folder}/index.html and ${sites} ${sites === 1 ? "page" : "pages"} of sites\n`,
    );
  return exit;
}
