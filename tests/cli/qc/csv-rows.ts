import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import type { RunResult } from "../../helpers/run-jartally.ts";
import { freshFolder, runJartally } from "../../helpers/run-jartally.ts";

export type Row = Record<string, string>;

/** The rows of a CSV text as records of texts. */
export function csvRows(text: string): Row[] {
  return parse(text, { columns: true }) as Row[];
}

/** A fresh folder with these files in it. */
export function folderWith(files: Readonly<Record<string, string>>): string {
  const folder = freshFolder();
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  return folder;
}

/** Runs `jartally qc ...` in a folder with these files. `rows` are those of CSV output. */
export function runQc(
  files: Readonly<Record<string, string>>,
  words: readonly string[],
): RunResult & { readonly rows: Row[]; readonly folder: string } {
  const folder = folderWith(files);
  const result = runJartally(["qc", ...words], { cwd: folder });
  const isOther = words.some((word) => word === "json" || word === "table");
  return { ...result, folder, rows: isOther ? [] : csvRows(result.stdout) };
}
