import { resolve, sep } from "node:path";
import { checkNewFolder } from "../files/output-place.ts";
import type { RunPlace } from "../pipeline/write-run.ts";
import type { RunRecord } from "../runs/run-record.ts";
import { UsageError } from "./define.ts";

/**
 * Where a run folder will be, checked before any work.
 *
 * @throws FileError when the name is taken: a run is never written over another
 */
export async function planRun(folder: string, cwd: string): Promise<RunPlace> {
  const path = resolve(cwd, folder);
  const taken = "exists already; a run is never written over another, choose another folder";
  await checkNewFolder(path, folder, taken);
  return { path, shownAs: folder };
}

/**
 * Keeps outputs out of run folders: a run with another file in it does not verify any more.
 *
 * @throws UsageError for the first path that lies in one of the folders
 */
export function refuseInsideRuns(
  paths: readonly (string | undefined)[],
  folders: readonly string[],
  cwd: string,
): void {
  for (const path of paths) {
    if (path === undefined) continue;
    const run = folders.find((folder) => resolve(cwd, path).startsWith(resolve(cwd, folder) + sep));
    if (run !== undefined)
      throw new UsageError(`${path} would be written into the run ${run}`, "choose a place beside the run");
  }
}

/** What the record of a run says of the moment and the machine, when it was asked for. */
export function environmentOf(isStamped: boolean): RunRecord["environment"] {
  if (!isStamped) return {};
  const { platform, arch, version } = process;
  return { made_at: new Date().toISOString(), node: version, platform: `${platform} ${arch}` };
}
