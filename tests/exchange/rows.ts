import type { ExchangeFormat } from "../../src/exchange/define.ts";
import type { ExchangeRun, ExchangeSample } from "../../src/exchange/exchange-sample.ts";
import type { Cell } from "../../src/files/formats/define.ts";
import { RUN } from "./sample.ts";

/** The rows of samples by table, each as an object by column, and the notes. */
export function rowsOf(
  format: ExchangeFormat,
  samples: readonly ExchangeSample[],
  run: ExchangeRun = RUN,
): { readonly tables: Map<string, Record<string, Cell>[]>; readonly notes: string[] } {
  const notes: string[] = [];
  const writer = format.create(run, { add: (what, text) => notes.push(`${what} ${text}`) });
  const tables = new Map<string, Record<string, Cell>[]>(format.tables.map(({ file }) => [file, []]));
  for (const sample of samples) {
    writer.rows(sample).forEach((rows, at) => {
      const table = format.tables[at];
      for (const row of rows) {
        if (row.length !== table?.columns.length) throw new Error(`${table?.file}: ${row.length} cells`);
        tables
          .get(table.file)
          ?.push(Object.fromEntries(table.columns.map(({ name }, i) => [name, row[i] ?? null])));
      }
    });
  }
  return { tables, notes };
}
