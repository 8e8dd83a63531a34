import { readdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { asFileError, FileError, systemCode } from "../../files/file-error.ts";
import { compareCodePoints } from "../../model/order.ts";
import { RUN_FILES } from "../../runs/run-files.ts";
import type { RunFolder } from "../../runs/run-table.ts";
import { asRunError } from "../../runs/run-table.ts";
import { runFolderOf } from "../open-run.ts";

/**
 * The runs that words of the user mean: run folders, and folders that hold run folders (in code point order of
 * their names).
 *
 * @throws FileError for a word that is neither, and for a run that comes twice
 */
export async function findRuns(words: readonly string[], cwd: string): Promise<RunFolder[]> {
  const found: RunFolder[] = [];
  for (const word of words) {
    const place = runFolderOf(word, cwd);
    if (await isRun(place.path, place.shownAs)) found.push(place);
    else found.push(...(await runsIn(place)));
  }
  found.forEach(({ path, shownAs }, at) => {
    if (found.findIndex((one) => one.path === path) < at) throw new FileError(shownAs, "is given twice");
  });
  return found;
}

async function runsIn(place: RunFolder): Promise<RunFolder[]> {
  let names: string[];
  try {
    names = (await readdir(place.path)).sort(compareCodePoints);
  } catch (error) {
    throw asRunError(place, place.shownAs, error);
  }
  const runs: RunFolder[] = [];
  for (const name of names) {
    const path = join(place.path, name);
    const shownAs = `${place.shownAs}/${name}`;
    if (!name.startsWith(".") && (await isRun(path, shownAs))) runs.push({ path, shownAs });
  }
  if (runs.length === 0)
    throw new FileError(place.shownAs, `is no run (it has no ${RUN_FILES.record}), and holds none`);
  return runs;
}

/** Whether a path is a folder with a run's record in it. */
export async function isRun(path: string, shownAs = path): Promise<boolean> {
  try {
    return (await stat(join(path, RUN_FILES.record))).isFile();
  } catch (error) {
    if (["ENOENT", "ENOTDIR"].includes(systemCode(error) ?? "")) return false;
    throw asFileError(`${shownAs}/${RUN_FILES.record}`, error);
  }
}
