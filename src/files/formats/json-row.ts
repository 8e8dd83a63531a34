import { numberText } from "../../model/number-text.ts";
import type { Cell, OutputColumn, OutputRow } from "./define.ts";

/** Text of a number that was made elsewhere to be exact. */
const NUMBER_TEXT = /^-?(?:0|[1-9]\d*)(?:\.\d+)?$/;

/**
 * Makes rows JSON objects. They are built as text, so that a column may have any name and numbers are written our
 * way.
 *
 * @returns the text of a row; it throws RangeError for cells that are more or fewer than the columns, and for a
 *   number that is not finite
 */
export function jsonRows(columns: readonly OutputColumn[]): (cells: OutputRow) => string {
  const names = columns.map(({ name }, at) => `${at === 0 ? "" : ","}${JSON.stringify(name)}:`);
  const isNumber = columns.map(({ kind }) => kind === "number");
  return (cells) => {
    if (cells.length !== names.length)
      throw new RangeError(`a row has ${cells.length} cells, the header ${names.length}`);
    let text = "{";
    for (let at = 0; at < names.length; at++)
      text += (names[at] as string) + jsonCell(cells[at] ?? null, isNumber[at] === true);
    return `${text}}`;
  };
}

function jsonCell(cell: Cell, isNumber: boolean): string {
  if (cell === null) return "null";
  if (typeof cell === "number") return numberText(cell);
  return isNumber && NUMBER_TEXT.test(cell) ? cell : JSON.stringify(cell);
}
