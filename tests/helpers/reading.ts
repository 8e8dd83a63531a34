import type { InputFile } from "../../src/files/input.ts";
import { inputFromBytes } from "../../src/files/input.ts";
import { openTable } from "../../src/files/table.ts";
import { lineOf } from "../../src/files/text/records.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import type { Finding } from "../../src/findings/finding.ts";
import type { BenchSheets } from "../../src/sheets/bench-sheet.ts";
import { readBenchSheets } from "../../src/sheets/bench-sheet.ts";

/** A finding as short as a test wants it: place, severity and code. */
export function brief(finding: Finding): string {
  return `${finding.line}:${finding.column} ${finding.severity} ${finding.code}`;
}

/** A table read whole. */
export interface WholeTable {
  readonly place: string;
  readonly header: readonly string[];
  readonly rows: readonly (readonly string[])[];
  readonly lines: readonly number[];
  readonly isBroken: boolean;
  readonly findings: readonly Finding[];
  readonly sha256: string;
}

/** Reads all of a table from bytes or text. */
export async function readWhole(
  content: Uint8Array | string | InputFile,
  encoding?: string,
): Promise<WholeTable> {
  const findings = new FindingCollector();
  const isContent = typeof content === "string" || content instanceof Uint8Array;
  const input = isContent ? inputFromBytes("table.csv", content) : content;
  const table = await openTable(input, { encoding }, findings);
  const rows: (readonly string[])[] = [];
  const lines: number[] = [];
  for await (const batch of table.batches()) {
    batch.rows.forEach((row, at) => {
      rows.push(row);
      lines.push(lineOf(batch.lines, at));
    });
  }
  const { sha256 } = await table.digest();
  return {
    place: table.place,
    header: table.header.map((cell) => cell.text),
    rows,
    lines,
    isBroken: table.isBroken,
    findings: findings.all,
    sha256,
  };
}

/** Bytes behind the face of an input, handed over in pieces of a size. */
export function inPieces(content: Uint8Array | string, size: number, name = "table.csv"): InputFile {
  const bytes = typeof content === "string" ? new TextEncoder().encode(content) : content;
  return {
    name,
    bytes: async () => bytes,
    async *chunks() {
      for (let at = 0; at < bytes.length; at += size) yield bytes.slice(at, at + size);
    },
  };
}

/** A bench sheet read, with what was found. */
export interface SheetResult {
  readonly sheets: BenchSheets;
  readonly findings: readonly Finding[];
  /** Rows as text: sample|name|count|stage, in the order of the table. */
  readonly rows: readonly string[];
  readonly refused: Readonly<Record<string, readonly string[]>>;
}

/** Reads bench sheets from texts; the first is called a.csv, the second b.csv and so on. */
export async function readSheets(
  contents: readonly (Uint8Array | string | InputFile)[],
  encoding?: string,
): Promise<SheetResult> {
  const findings = new FindingCollector();
  const inputs = contents.map((content, at) =>
    typeof content === "string" || content instanceof Uint8Array
      ? inputFromBytes(`${String.fromCharCode(97 + at)}.csv`, content)
      : content,
  );
  const sheets = await readBenchSheets(inputs, { encoding }, findings);
  const { table } = sheets;
  const rows = Array.from({ length: table.size }, (_, row) =>
    [
      table.samples.textOf(table.sampleAt(row)),
      table.names.textOf(table.nameAt(row)),
      table.countAt(row),
      table.stageAt(row),
    ].join("|"),
  );
  return { sheets, findings: findings.all, rows, refused: Object.fromEntries(sheets.refused) };
}
