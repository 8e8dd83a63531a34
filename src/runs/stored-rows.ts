import { FileError } from "../files/file-error.ts";
import type { TextSink } from "../files/formats/define.ts";
import { compareCodePoints } from "../model/order.ts";
import { RowTable } from "../model/rows.ts";
import type { Watcher } from "../model/watcher.ts";
import { unwatched } from "../model/watcher.ts";
import { RUN_FILES } from "./run-files.ts";
import { runLines } from "./run-lines.ts";
import type { RunFolder } from "./run-table.ts";
import { runTableText } from "./run-table.ts";
import { STORED_ROW_COLUMNS } from "./stored-row-columns.ts";
import { StoredRowReader } from "./stored-row-reader.ts";
import { StoredRowText } from "./stored-row-text.ts";

/** Text that is handed on at once. */
const PIECE_LENGTH = 1 << 16;

/**
 * Writes the rows of a batch, sorted by sample id (code point), then file, line and field, so that the same rows
 * give the same bytes in whatever order they came.
 *
 * @param names of the files in the run, by the number of the file in the table
 */
export async function writeRows(sink: TextSink, table: RowTable, names: readonly string[]): Promise<void> {
  await sink.write(runTableText(STORED_ROW_COLUMNS, []));
  const text = new StoredRowText(table, names);
  let pending = "";
  const samples = [...table.samples.texts.keys()].sort((a, b) =>
    compareCodePoints(table.samples.textOf(a), table.samples.textOf(b)),
  );
  for (const sample of samples) {
    const rows = rowsInOrder(table, sample);
    for (let at = 0; at < rows.length; at++) {
      pending += text.lineOf(rows[at] as number);
      if (pending.length < PIECE_LENGTH) continue;
      await sink.write(pending);
      pending = "";
    }
  }
  await sink.write(pending);
}

/** The rows of a sample by file, line and field, as they nearly always lie in the table. */
function rowsInOrder(table: RowTable, sample: number): Uint32Array {
  const { order, starts } = table.bySample();
  const rows = order.subarray(starts[sample] as number, starts[sample + 1] as number);
  const compare = (a: number, b: number) =>
    table.fileNumberAt(a) - table.fileNumberAt(b) ||
    table.lineAt(a) - table.lineAt(b) ||
    table.columnAt(a) - table.columnAt(b);
  for (let at = 1; at < rows.length; at++)
    if (compare(rows[at - 1] as number, rows[at] as number) > 0) return rows.slice().sort(compare);
  return rows;
}

/** A bench sheet of a run: its name and the field in which it had its names. */
export interface StoredSheet {
  readonly file: string;
  readonly nameField: number;
}

/**
 * Reads rows.csv back. Samples are numbered in code point order, those without a row included.
 *
 * @throws FileError naming the line of a fault
 */
export async function readRows(
  folder: RunFolder,
  sheets: readonly StoredSheet[],
  sampleIds: readonly string[],
  watch: Watcher = unwatched,
): Promise<RowTable> {
  const shown = `${folder.shownAs}/${RUN_FILES.rows}`;
  const table = new RowTable();
  const numberOf = new Map<string, number>();
  for (const { file, nameField } of sheets) {
    numberOf.set(file, numberOf.size);
    table.startFile(file);
    table.setNameColumn(nameField);
  }
  for (const id of sampleIds) table.samples.add(id);
  const reader = new StoredRowReader(table, shown, numberOf);
  let isHeader = true;
  for await (const lines of runLines(folder, RUN_FILES.rows, watch)) {
    reader.take(isHeader ? withoutHeader(lines, shown) : lines);
    isHeader = false;
  }
  if (isHeader) withoutHeader(new Uint8Array(0), shown);
  reader.end();
  return table;
}

const HEADER = new TextEncoder().encode(runTableText(STORED_ROW_COLUMNS, []));

/** @throws FileError when the first line is not the header of rows.csv */
function withoutHeader(lines: Uint8Array, shown: string): Uint8Array {
  if (Buffer.compare(lines.subarray(0, HEADER.length), HEADER) === 0) return lines.subarray(HEADER.length);
  throw new FileError(shown, "line 1: the header is not that of a run");
}
