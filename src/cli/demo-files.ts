import { readFile, writeFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import { asFileError, FileError } from "../files/file-error.ts";
import { nodeFileSystem } from "../files/file-system.ts";
import { openInput } from "../files/input.ts";
import { packageRoot } from "../files/package-root.ts";
import { writeFolderWhole, writeWhole } from "../files/safe-write.ts";
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
 * Copies the demo files into a folder: a new one appears whole or not at all, and of one that exists no file is
 * overwritten.
 *
 * @returns what was done and what to try next, in words
 * @throws FileError when a file is there already or cannot be written
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
  const target = resolve(cwd, into);
  const facts = await nodeFileSystem.facts(target).catch(() => undefined);
  if (facts?.kind === "folder") await fillFolder(target, into, files);
  else {
    await writeFolderWhole(
      target,
      async (folder) => {
        for (const [file, bytes] of files) await writeFile(join(folder, file), bytes);
      },
      { shownAs: into },
    );
  }
  const isHere = target === resolve(cwd);
  return `${FILES.length} files written to ${into}; next: ${isHere ? "" : `cd ${into} && `}jartally score bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo`;
}

/** Looks at every name before the first file is written. */
async function fillFolder(
  target: string,
  shownAs: string,
  files: readonly (readonly [string, Uint8Array])[],
): Promise<void> {
  const shownFile = (file: string) => join(shownAs, file);
  for (const [file] of files) {
    if (await nodeFileSystem.isTaken(join(target, file)))
      throw new FileError(shownFile(file), "exists already and is not overwritten; choose another folder");
  }
  for (const [file, bytes] of files) {
    await writeWhole(join(target, file), { force: false, shownAs: shownFile(file) }, (sink) =>
      sink.write(new TextDecoder().decode(bytes)),
    );
  }
}
