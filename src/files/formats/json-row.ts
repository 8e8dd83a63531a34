import { numberText } from "../../model/number-text.ts";
import type { Cell, OutputColumn, OutputRow } from "./define.ts";

/** A row as a JSON object. Built as text, so that a column may have any name and numbers are written our way. */
export function jsonRow(columns: readonly OutputColumn[], cells: OutputRow): string {
  if (cells.length !== columns.length)
    throw new RangeError(`a row has ${cells.length} cells, the header ${columns.length}`);
  const members = columns.map(
    (column, at) => `${JSON.stringify(column.name)}:${jsonCell(cells[at] ?? null, column)}`,
  );
  return `{${members.join(",")}}`;
}

function jsonCell(cell: Cell, column: OutputColumn): string {
  if (cell === null) return "null";
  if (typeof cell === "number") return numberText(cell);
  // The text of a number, made elsewhere to be exact.
  if (column.kind === "number" && /^-?(?:0|[1-9]\d*)(?:\.\d+)?$/.test(cell)) return cell;
  return JSON.stringify(cell);
}
