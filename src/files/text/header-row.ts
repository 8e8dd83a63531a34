import type { HeaderCell } from "../table-reading.ts";

/** The cells of a header row, without white space at their ends and with single blanks within. */
export function headerCells(row: readonly string[]): HeaderCell[] {
  return row.map((raw, index) => ({
    raw,
    text: raw.normalize("NFC").trim().replace(/\s+/g, " "),
    column: index + 1,
  }));
}
