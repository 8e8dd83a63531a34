import { stringify } from "csv-stringify/sync";
import { numberText } from "../../model/number-text.ts";
import { withGuard } from "../formula-guard.ts";
import type { Cell, OutputColumn, OutputRow, TableWriter, TextSink } from "./define.ts";

/** Text that is handed on at once. */
const PIECE_LENGTH = 1 << 16;
/** Cells that may need quotes; csv-stringify then decides. */
const TELLING = /["\r\n,\t]/;

/**
 * Writes delimited text: UTF-8, LF, a header row, quotes only where they are needed (RFC 4180). A missing value
 * is an empty cell. Text that a spreadsheet program would run as a formula gets an apostrophe in front.
 */
export function delimitedWriter(
  sink: TextSink,
  columns: readonly OutputColumn[],
  delimiter: "," | "\t",
): TableWriter {
  const isText = columns.map((column) => column.kind === "text");
  let pending = "";
  const flush = async () => {
    if (pending === "") return;
    const text = pending;
    pending = "";
    await sink.write(text);
  };
  return {
    async start() {
      pending += delimitedText([columns.map((column) => withGuard(column.name))], delimiter);
    },
    async row(cells: OutputRow) {
      if (cells.length !== columns.length)
        throw new RangeError(`a row has ${cells.length} cells, the header ${columns.length}`);
      pending += rowText(cells, isText, delimiter);
      if (pending.length >= PIECE_LENGTH) await flush();
    },
    async end() {
      await flush();
      await sink.flush?.();
    },
  };
}

/** One row with its line end. Rows without a telling character are only joined: that is nearly all of them. */
function rowText(cells: OutputRow, isText: readonly boolean[], delimiter: "," | "\t"): string {
  const texts: string[] = [];
  // An empty cell that is alone would be a blank line.
  let isPlain = cells.length > 1;
  for (let at = 0; at < cells.length; at++) {
    const cell = cells[at] ?? null;
    const text = cellText(cell, isText[at] === true);
    if (typeof cell === "string" && TELLING.test(text)) isPlain = false;
    texts.push(text);
  }
  return isPlain ? `${texts.join(delimiter)}\n` : quotedRow(texts, delimiter);
}

/** Delimited text of rows whose cells are texts already. */
export function delimitedText(rows: readonly (readonly string[])[], delimiter: "," | "\t"): string {
  let text = "";
  for (const row of rows)
    text +=
      row.length > 1 && !row.some((cell) => TELLING.test(cell))
        ? `${row.join(delimiter)}\n`
        : quotedRow(row, delimiter);
  return text;
}

function quotedRow(row: readonly string[], delimiter: "," | "\t"): string {
  return stringify([[...row]], {
    delimiter,
    record_delimiter: "\n",
    // A lone CR ends a row for many readers, and a row of one empty cell would be a blank line.
    quoted_match: /[\r\n]/,
    quoted_empty: row.length === 1,
  });
}

function cellText(cell: Cell, isText: boolean): string {
  if (cell === null) return "";
  if (typeof cell === "number") return numberText(cell);
  return isText ? withGuard(cell) : cell;
}
