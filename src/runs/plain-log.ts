import { withoutGuard } from "../files/formula-guard.ts";
import { saysText, textIn } from "../files/text/byte-text.ts";
import { CellNumbers } from "../sheets/cell-numbers.ts";
import type { LogRows } from "../sheets/log-rows.ts";
import { LogSamples } from "../sheets/log-samples.ts";
import { endsOfCells, wholeIn } from "./plain-line.ts";
import { runTableText } from "./run-table.ts";

/** The column before those of the log itself: the line the row stood in. */
export const LINE = "line";
export const SAMPLE_ID = "sample_id";
/** So many cells of a column are remembered; a column that says more says something else in every row. */
const MOST_CELLS = 1 << 12;
const APOSTROPHE = 39;

/** A column of a log, and the texts of the cells met so far. */
interface Column {
  readonly cells: CellNumbers;
  readonly texts: string[];
}

/**
 * Reads the rows of sample-log.csv straight from their bytes, where every line is plain: a text is made once for all
 * cells of a column that say it. So nothing here complains: whatever is no log of plain lines is left to the reader
 * of tables, which says what is wrong.
 *
 * @param bytes of the file, valid UTF-8
 * @param log to which the rows are added
 * @param ids of the samples of the run, in their order, which nearly always is that of the rows
 */
export function plainLog(bytes: Buffer, log: LogRows, ids: readonly string[]): LogSamples | undefined {
  const header = Buffer.from(runTableText([LINE, ...log.names], []));
  const key = log.names.indexOf(SAMPLE_ID);
  if (key < 0 || bytes.includes("\r") || !header.equals(bytes.subarray(0, header.length))) return undefined;
  const columns = log.names.map((): Column => ({ cells: new CellNumbers(), texts: [] }));
  const ends = new Int32Array(columns.length + 1);
  const texts = log.names.map(() => "");
  const samples = new LogSamples();
  for (let start = header.length; start < bytes.length; ) {
    const end = endsOfCells(bytes, start, ends);
    const line = end < 0 ? -1 : wholeIn(bytes, start, ends[0] as number);
    if (line < 0) return undefined;
    for (let column = 0; column < columns.length; column++) {
      const begin = (ends[column] as number) + 1;
      const to = ends[column + 1] as number;
      if (column === key) {
        const id = ids[samples.size];
        const isId = id !== undefined && bytes[begin] !== APOSTROPHE && saysText(bytes, begin, to, id);
        texts[column] = isId ? id : newText(bytes, begin, to);
      } else texts[column] = textOf(columns[column] as Column, bytes, begin, to);
    }
    if (!samples.add(log.add(texts[key] as string, texts, line))) return undefined;
    start = end + 1;
  }
  return samples;
}

function textOf({ cells, texts }: Column, bytes: Uint8Array, from: number, to: number): string {
  const cell = cells.find(bytes, from, to);
  if (cell >= 0) return texts[cell] as string;
  const text = newText(bytes, from, to);
  if (cells.size < MOST_CELLS && cells.add(bytes, from, to) >= 0) texts.push(text);
  return text;
}

function newText(bytes: Uint8Array, from: number, to: number): string {
  return from === to ? "" : withoutGuard(textIn(bytes, from, to));
}
