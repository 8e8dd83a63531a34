import type { CellFault } from "./count.ts";
import { countFault, plainCount } from "./count.ts";
import type { SheetRecord } from "./records.ts";

/** The whole number in a cell of a record; a fault is reported and gives undefined. */
export function countOf(record: SheetRecord, column: string): number | undefined {
  const text = record.text(column);
  const count = plainCount(text);
  if (count >= 0) return count;
  const fault: CellFault = countFault(text);
  record.fault(column, { ...fault, message: `${column}: ${fault.message}` });
  return undefined;
}
