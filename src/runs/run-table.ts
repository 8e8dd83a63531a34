import { isUtf8 } from "node:buffer";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { asFileError, FileError, systemCode } from "../files/file-error.ts";
import { delimitedText } from "../files/formats/delimited-text.ts";
import { withGuard, withoutGuard } from "../files/formula-guard.ts";
import { quoted } from "../files/visible-text.ts";
import type { PackageRow } from "../reference/package-table.ts";
import { packageRows } from "../reference/package-table.ts";

/** A run folder to be read. */
export interface RunFolder {
  /** Where it lies. */
  readonly path: string;
  /** How messages name it. */
  readonly shownAs: string;
}

/** The text of a table of a run: comma-separated, LF; texts a spreadsheet would run as formulas are guarded. */
export function runTableText(header: readonly string[], rows: readonly (readonly string[])[]): string {
  return delimitedText([header, ...rows.map((row) => row.map(withGuard))], ",");
}

/** An error of reading a run, where the word given may be a file and no folder at all. */
export function asRunError(folder: RunFolder, shown: string, error: unknown): unknown {
  if (systemCode(error) !== "ENOTDIR") return asFileError(shown, error);
  const reason = "is a file; a run is the folder that score --run leaves, so name the folder";
  return new FileError(folder.shownAs, reason, { cause: error });
}

/**
 * Reads a text file of a run, as its bytes.
 *
 * @throws FileError when it is not there or no UTF-8
 */
export async function readRunBytes(folder: RunFolder, name: string): Promise<Buffer> {
  const shown = `${folder.shownAs}/${name}`;
  let bytes: Buffer;
  try {
    // At once: they are short, and a turn of waiting takes longer where threads have the cores.
    bytes = readFileSync(join(folder.path, name));
  } catch (error) {
    throw asRunError(folder, shown, error);
  }
  if (!isUtf8(bytes)) throw new FileError(shown, "is not UTF-8 text");
  return bytes;
}

/** The same as a text. @throws FileError as `readRunBytes` does */
export async function readRunText(folder: RunFolder, name: string): Promise<string> {
  return (await readRunBytes(folder, name)).toString();
}

/**
 * Reads a table of a run whose header must be the given one.
 *
 * @returns its rows, each read when its turn comes
 * @throws FileError naming the line of a fault, that of a row when its turn comes
 */
export async function readRunTable(
  folder: RunFolder,
  name: string,
  header: readonly string[],
): Promise<Iterable<PackageRow>> {
  const shown = `${folder.shownAs}/${name}`;
  const text = await readRunText(folder, name);
  const { rows } = packageRows(shown, text, header);
  if (text.slice(0, text.indexOf("\n")) !== header.join(","))
    throw new FileError(shown, "line 1: the header is not that of a run");
  return rows;
}

/** The cell as it was before it was guarded. */
export function cellOf(row: PackageRow, at: number): string {
  return withoutGuard(row.cells[at] as string);
}

/** A whole number of a run's table. @throws FileError when it is none */
export function wholeOf(row: PackageRow, at: number, shown: string): number {
  const text = row.cells[at] as string;
  if (!/^(0|[1-9]\d{0,9})$/.test(text))
    throw new FileError(shown, `line ${row.line}: ${quoted(text)} is not a whole number`);
  return Number(text);
}

/** One of the words allowed. @throws FileError when it is none */
export function wordOf<const Word extends string>(
  row: PackageRow,
  at: number,
  words: readonly Word[],
  shown: string,
): Word {
  const text = row.cells[at] as string;
  const word = words.find((one) => one === text);
  if (word === undefined)
    throw new FileError(shown, `line ${row.line}: ${quoted(text)} is none of ${words.join(", ")}`);
  return word;
}
