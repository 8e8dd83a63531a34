import type { OutputRow, TableWriter } from "./define.ts";

/** Writes many rows; to wait for rows that are taken at once would take longer than to write them. */
export async function writeRows(
  writer: TableWriter,
  rows: Iterable<OutputRow> | AsyncIterable<OutputRow>,
): Promise<void> {
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
