import { FileError } from "../files/file-error.ts";
import { openRun } from "../pipeline/open-run.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import type { ExplainRequest } from "./explain-run.ts";
import { explainLoaded } from "./explain-run.ts";
import { findingsOption } from "./options/messages.ts";
import type { OutputPlan } from "./output.ts";
import { progressLine } from "./progress.ts";
import { refuseInsideRuns } from "./run-place.ts";

/** The work of `explain` from a run folder. */
export async function explainStored(
  context: CommandContext,
  options: OptionValues,
  plan: OutputPlan,
  folder: string,
  request: Pick<ExplainRequest, "sample" | "metric">,
): Promise<ExitCode> {
  refuseInsideRuns([plan.path, options.get(findingsOption)], [folder], context.cwd);
  const progress = progressLine(context, options);
  const run = await openRun(folder, context.cwd, progress.watch);
  await progress.end();
  const { batch } = run;
  if (batch === undefined) throw new FileError(folder, "the set and the rows of the run cannot be joined");
  return explainLoaded(context, options, plan, { ...run, batch }, run.choices, request);
}
