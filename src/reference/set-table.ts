import { inputFromBytes } from "../files/input.ts";
import { openTable } from "../files/table.ts";
import { lineOf } from "../files/text/records.ts";
import type { FindingSink } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import { didYouMean } from "../metrics/closest.ts";
import type { SetFile } from "./folder.ts";

/** One row of a table of a set folder. */
export interface SetRow<Column extends string> {
  readonly line: number;
  /** The cell without white space at its ends; empty where the table has no such column. */
  text(column: Column): string;
  /** Where the cell stands; the row's first cell where the table has no such column. */
  place(column: Column): Place;
}

/** A table read whole: tables of sets are small. */
export interface SetTable<Column extends string> {
  readonly rows: readonly SetRow<Column>[];
  /** A fault may have hidden rows, or a required column is missing. */
  readonly isBroken: boolean;
}

/**
 * Reads a CSV table of a set folder with the columns it may have. Unknown columns are faults: a misspelt column
 * would silently drop what it says.
 */
export async function readSetTable<Column extends string>(
  file: SetFile,
  columns: { readonly required: readonly Column[]; readonly optional: readonly Column[] },
  findings: FindingSink,
  code: "bad-set" | "bad-attributes" = "bad-set",
): Promise<SetTable<Column>> {
  // A table without rows is usual: a set whose index is a metric's value has no thresholds.
  const sink: FindingSink = {
    add: (one) => {
      if (one.code !== "no-rows") findings.add(one);
    },
  };
  const reading = await openTable(inputFromBytes(file.shownAs, file.bytes), {}, sink);
  const known = [...columns.required, ...columns.optional];
  const fields = new Map<string, number>();
  let isBroken = false;
  const fault = (column: number, message: string): void => {
    isBroken = true;
    findings.add(finding(code, { file: reading.place, line: reading.headerLine, column }, { message }));
  };
  for (const { text, column } of reading.header) {
    const name = text.toLowerCase();
    if (!known.some((one) => one === name))
      fault(column, `"${text}" is no column of this table${didYouMean(name, known)}`);
    else if (fields.has(name)) fault(column, `the column "${name}" is there twice`);
    else fields.set(name, column);
  }
  if (reading.header.length > 0) {
    for (const column of columns.required)
      if (!fields.has(column)) fault(1, `the column "${column}" is missing`);
  }
  const rows: SetRow<Column>[] = [];
  for await (const batch of reading.batches()) {
    batch.rows.forEach((cells, index) => {
      const line = lineOf(batch.lines, index);
      if (
        cells.length > reading.header.length &&
        cells.slice(reading.header.length).some((cell) => cell.trim() !== "")
      ) {
        isBroken = true;
        findings.add(
          finding(
            code,
            { file: reading.place, line, column: reading.header.length + 1 },
            {
              message: `the row has ${cells.length} cells and the header ${reading.header.length}`,
            },
          ),
        );
      }
      rows.push({
        line,
        text: (column) => (cells[(fields.get(column) ?? 0) - 1] ?? "").trim(),
        place: (column) => ({ file: reading.place, line, column: fields.get(column) ?? 1 }),
      });
    });
  }
  return { rows, isBroken: isBroken || reading.isBroken };
}
