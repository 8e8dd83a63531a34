import { resolve } from "node:path";
import { FileError } from "../files/file-error.ts";
import { nodeFileSystem } from "../files/file-system.ts";
import type { RunPlace } from "../pipeline/write-run.ts";
import type { RunRecord } from "../runs/run-record.ts";

/**
 * Where a run folder will be, checked before any work.
 *
 * @throws FileError when the name is taken: a run is never written over another
 */
export async function planRun(folder: string, cwd: string): Promise<RunPlace> {
  const path = resolve(cwd, folder);
  if (await nodeFileSystem.isTaken(path))
    throw new FileError(folder, "exists already; a run is never written over another, choose another folder");
  return { path, shownAs: folder };
}

/** What the record of a run says of the moment and the machine, when it was asked for. */
export function environmentOf(isStamped: boolean): RunRecord["environment"] {
  if (!isStamped) return {};
  const { platform, arch, version } = process;
  return { made_at: new Date().toISOString(), node: version, platform: `${platform} ${arch}` };
}
