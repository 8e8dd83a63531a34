import { readFile, writeFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import { asFileError } from "../files/file-error.ts";
import { openInput } from "../files/input.ts";
import { packageRoot } from "../files/package-root.ts";
import { writeFolderWhole } from "../files/safe-write.ts";
import type { OpenedBatch } from "./batch-input.ts";
import type { CommandContext } from "./context.ts";

const FILES = [
  "README.md",
  "bench-sheet.csv",
  "sample-log.csv",
  "names.csv",
  "qc-sorting-check.csv",
  "qc-recheck-sheet.csv",
  "qc-scores.csv",
  "qc-duplicates-log.csv",
];

/** Opens the demo batch of the package. */
export async function openDemo(context: CommandContext): Promise<OpenedBatch> {
  const world = { stdin: context.stdin, cwd: packageRoot() };
  return {
    sheets: [await openInput("demo-data/bench-sheet.csv", world)],
    sampleLog: await openInput("demo-data/sample-log.csv", world),
    names: await openInput("demo-data/names.csv", world),
    encoding: undefined,
    paths: [],
  };
}

/**
 * Copies the demo files into a new folder.
 *
 * @returns what was done and what to try next, in words
 * @throws FileError when the folder exists
 */
export async function copyDemo(into: string, cwd: string): Promise<string> {
  const from = join(packageRoot(), "demo-data");
  const files: [string, Uint8Array][] = [];
  for (const file of FILES) {
    try {
      files.push([file, await readFile(join(from, file))]);
    } catch (error) {
      throw asFileError(`demo-data/${file}`, error);
    }
  }
  await writeFolderWhole(
    resolve(cwd, into),
    async (folder) => {
      for (const [file, bytes] of files) await writeFile(join(folder, file), bytes);
    },
    { shownAs: into },
  );
  return `${FILES.length} files written to ${into}; next: cd ${into} && jartally score bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo`;
}
