import type { OutputRow, TableWriter } from "./define.ts";

/** Writes many rows; to wait for rows that are taken at once would take longer than to write them. */
export async function writeRows(
  writer: TableWriter,
  rows: Iterable<OutputRow> | AsyncIterable<OutputRow>,
): Promise<void> {
  if (Array.isArray(rows)) {
    // Without an iterator, which would make an object for every row.
    for (let at = 0; at < rows.length; at++) {
      const taken = writer.row(rows[at] as OutputRow);
      if (taken !== undefined) await taken;
    }
    return;
  }
  if (Symbol.iterator in rows) {
    for (const row of rows) {
      const taken = writer.row(row);
      if (taken !== undefined) await taken;
    }
    return;
  }
  for await (const row of rows) {
    const taken = writer.row(row);
    if (taken !== undefined) await taken;
  }
}
