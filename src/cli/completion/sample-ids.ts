import { open, readdir, stat } from "node:fs/promises";
import { join, resolve } from "node:path";
import { at } from "../../model/at.ts";
import { compareCodePoints } from "../../model/order.ts";

/** So much of a file is looked at: whoever presses the tab key does not wait for the end of a large sheet. */
const MOST_BYTES = 1 << 21;
/** More words than this help nobody to choose. */
const MOST_IDS = 5000;
const DELIMITERS = [",", ";", "\t"];
/** Columns of a cross-tab sheet that are surely no samples; a few words too many do no harm here. */
const NO_SAMPLES = new Set(
  "taxon rank order family genus group total note notes remarks life_stage".split(" "),
);

/**
 * The sample ids of a sheet, a log or a run folder, in the order in which they first appear; of a folder of
 * sheets, of each of them. None of a workbook, of a packed file, and of whatever cannot be read.
 */
export async function sampleIdsIn(path: string, cwd: string): Promise<readonly string[]> {
  const full = resolve(cwd, path);
  const facts = await stat(full).catch(() => undefined);
  if (facts === undefined) return [];
  if (!facts.isDirectory()) return idsOfFile(full);
  const members = (await readdir(full)).sort(compareCodePoints);
  // A run folder lists its samples in its scores.
  const sheets = members.includes("run.json") ? ["scores.csv"] : members.filter(isTable);
  const ids: string[] = [];
  for (const sheet of sheets) ids.push(...(await idsOfFile(join(full, sheet))));
  return [...new Set(ids)].slice(0, MOST_IDS);
}

/** The first column of a table without its header, each word once. */
export async function firstCells(path: string): Promise<readonly string[]> {
  const cells = new Set<string>();
  for (const [first = ""] of [...records(await head(path))].slice(1)) if (first !== "") cells.add(first);
  return [...cells];
}

function isTable(name: string): boolean {
  return /\.(csv|tsv|txt)$/i.test(name) && !name.startsWith(".");
}

async function idsOfFile(path: string): Promise<readonly string[]> {
  const ids = new Set<string>();
  let at: number | undefined;
  for (const record of records(await head(path).catch(() => ""))) {
    if (at === undefined) {
      if (record.every((cell) => cell === "")) continue;
      const keys = record.map(keyOf);
      at = keys.indexOf("sample_id");
      if (at < 0) return keys.includes("taxon") ? record.filter((_, field) => isSample(keys[field])) : [];
      continue;
    }
    const id = record[at] ?? "";
    if (id !== "") ids.add(id);
    if (ids.size >= MOST_IDS) break;
  }
  return [...ids];
}

function isSample(key: string | undefined): boolean {
  return key !== undefined && key !== "" && !NO_SAMPLES.has(key);
}

function keyOf(header: string): string {
  return header.toLowerCase().replace(/[\s-]+/g, "_");
}

/** The start of a text file up to its last whole line; empty when it is no text. */
async function head(path: string): Promise<string> {
  const facts = await stat(path);
  // Whoever looks into a pipe takes what is meant for the command.
  if (!facts.isFile()) return "";
  const file = await open(path);
  try {
    const buffer = new Uint8Array(Math.min(facts.size, MOST_BYTES));
    const { bytesRead } = await file.read(buffer, 0, buffer.length, 0);
    const text = decoded(buffer.subarray(0, bytesRead));
    return bytesRead < facts.size ? text.slice(0, text.lastIndexOf("\n") + 1) : text;
  } finally {
    await file.close();
  }
}

function decoded(bytes: Uint8Array): string {
  const [first, second] = bytes;
  const encoding =
    first === 0xff && second === 0xfe ? "utf-16le" : first === 0xfe && second === 0xff ? "utf-16be" : "utf-8";
  const text = new TextDecoder(encoding).decode(bytes);
  return text.includes("\0") ? "" : text;
}

/** The records of a delimited text, cells without white space at their ends. */
function* records(text: string): Generator<string[]> {
  const firstLine = text.slice(0, Math.max(0, text.search(/[\r\n]|$/)));
  const counts = DELIMITERS.map((mark) => firstLine.split(mark).length);
  const delimiter = at(DELIMITERS, counts.indexOf(Math.max(...counts)));
  let record: string[] = [];
  let cell = "";
  let isQuoted = false;
  for (let at = 0; at < text.length; at++) {
    const mark = text[at] as string;
    if (isQuoted) {
      if (mark !== '"') cell += mark;
      else if (text[at + 1] === '"') cell += text[++at];
      else isQuoted = false;
    } else if (mark === '"' && cell === "") isQuoted = true;
    else if (mark === delimiter) {
      record.push(cell.trim());
      cell = "";
    } else if (mark === "\n" || mark === "\r") {
      if (mark === "\r" && text[at + 1] === "\n") at++;
      yield [...record, cell.trim()];
      record = [];
      cell = "";
    } else cell += mark;
  }
  if (record.length > 0 || cell !== "") yield [...record, cell.trim()];
}
