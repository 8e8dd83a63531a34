import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { sha256OfFile } from "../files/digest.ts";
import { asFileError } from "../files/file-error.ts";
import { compareCodePoints } from "../model/order.ts";
import { RUN_FILES } from "./run-files.ts";

/** SHA-256 by path below the folder of the run, with forward slashes. */
export type Checksums = ReadonlyMap<string, string>;

/** One line a file, sorted by code point, in the form that `sha256sum --check` reads. */
export function checksumsText(checksums: Checksums): string {
  return [...checksums]
    .sort(([a], [b]) => compareCodePoints(a, b))
    .map(([path, digest]) => `${digest}  ${path}\n`)
    .join("");
}

/** Reads checksums.txt; the line of the first fault where it has another form. */
export function parseChecksums(
  text: string,
): { readonly checksums: Checksums } | { readonly faultyLine: number } {
  const checksums = new Map<string, string>();
  const lines = text.split("\n");
  if (lines.pop() !== "") return { faultyLine: lines.length + 1 };
  for (const [at, line] of lines.entries()) {
    const match = /^([0-9a-f]{64}) {2}(\S.*)$/.exec(line);
    const [, digest, path] = match ?? [];
    if (digest === undefined || path === undefined || checksums.has(path)) return { faultyLine: at + 1 };
    checksums.set(path, digest);
  }
  return { checksums };
}

/**
 * Hashes every file of a folder and of the folders in it, checksums.txt apart.
 *
 * @throws FileError when one cannot be read
 */
export async function hashFolder(folder: string, shownAs: string): Promise<Checksums> {
  const found = new Map<string, string>();
  for (const path of await filesBelow(folder, "", shownAs)) {
    if (path === RUN_FILES.checksums) continue;
    try {
      found.set(path, await sha256OfFile(join(folder, path)));
    } catch (error) {
      throw asFileError(`${shownAs}/${path}`, error);
    }
  }
  return found;
}

async function filesBelow(folder: string, prefix: string, shownAs: string): Promise<string[]> {
  const paths: string[] = [];
  try {
    const entries = await readdir(join(folder, prefix), { withFileTypes: true });
    for (const entry of entries.sort((a, b) => compareCodePoints(a.name, b.name))) {
      const path = `${prefix}${entry.name}`;
      if (entry.isDirectory()) paths.push(...(await filesBelow(folder, `${path}/`, shownAs)));
      else paths.push(path);
    }
    return paths;
  } catch (error) {
    throw asFileError(`${shownAs}/${prefix}`, error);
  }
}
