import { cleanCell } from "./cell-text.ts";

/** Other writings of a column that can mean nothing else, and that decide which animals count. */
const SAME_COLUMN: ReadonlyMap<string, string> = new Map([
  ["stage", "life_stage"],
  ["lifestage", "life_stage"],
]);

/** The name of a column as the program compares it: lower case, underscores for blanks and hyphens. */
export function columnKey(header: string): string {
  const key = cleanCell(header)
    .text.toLowerCase()
    .replace(/[\s-]+/g, "_");
  return SAME_COLUMN.get(key) ?? key;
}
