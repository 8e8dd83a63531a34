import { resolve } from "node:path";
import { checkNewFolder } from "../files/output-place.ts";
import type { CommandContext } from "./context.ts";
import { UsageError } from "./define.ts";
import { refuseInsideRuns } from "./run-place.ts";

/**
 * Settles the folder that a command makes of runs, before any work.
 *
 * @param findings the file for findings, when there is one
 * @throws UsageError when it is standard output or lies in a run; FileError when the name is taken
 */
export async function planFolder(
  context: CommandContext,
  folder: string,
  runs: readonly string[],
  findings: string | undefined,
): Promise<void> {
  if (folder === "-" || folder === "")
    throw new UsageError("--output needs the name of a folder: there is more than one file to write");
  refuseInsideRuns([folder, findings], runs, context.cwd);
  const taken = "exists already; a folder is never written over, choose another one";
  await checkNewFolder(resolve(context.cwd, folder), folder, taken);
}
