import { stringify } from "csv-stringify/sync";
import { numberText } from "../../model/number-text.ts";
import { withGuard } from "../formula-guard.ts";
import type { Cell, OutputColumn, OutputRow, TableWriter, TextSink } from "./define.ts";

/** Rows that are turned into text at once. */
const ROWS_AT_ONCE = 256;

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
  let pending: string[][] = [];
  const flush = async () => {
    if (pending.length === 0) return;
    const rows = pending;
    pending = [];
    await sink.write(delimitedText(rows, delimiter));
  };
  return {
    async start() {
      pending.push(columns.map((column) => withGuard(column.name)));
    },
    async row(cells: OutputRow) {
      if (cells.length !== columns.length)
        throw new RangeError(`a row has ${cells.length} cells, the header ${columns.length}`);
      pending.push(cells.map((cell, at) => cellText(cell, isText[at] === true)));
      if (pending.length >= ROWS_AT_ONCE) await flush();
    },
    async end() {
      await flush();
      await sink.flush?.();
    },
  };
}

/** Delimited text of rows whose cells are texts already. */
export function delimitedText(rows: readonly (readonly string[])[], delimiter: "," | "\t"): string {
  return stringify(
    rows.map((row) => [...row]),
    {
      delimiter,
      record_delimiter: "\n",
      // A lone CR ends a row for many readers, and a row of one empty cell would be a blank line.
      quoted_match: /[\r\n]/,
      quoted_empty: rows[0]?.length === 1,
    },
  );
}

function cellText(cell: Cell, isText: boolean): string {
  if (cell === null) return "";
  if (typeof cell === "number") return numberText(cell);
  return isText ? withGuard(cell) : cell;
}
