import { stringify } from "csv-stringify/sync";

/** Cells that may need quotes; csv-stringify then decides. */
const TELLING = /["\r\n,\t]/;

/**
 * Delimited text of rows whose cells are texts already: LF, quotes only where they are needed (RFC 4180). Rows
 * without a telling character are only joined: that is nearly all of them.
 */
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
