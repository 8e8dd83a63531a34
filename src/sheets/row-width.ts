import type { CellFault } from "./count.ts";

/** What is wrong with a row of another width than the header; nothing when its extra cells are blank. */
export function checkWidth(cells: readonly string[], width: number): CellFault | undefined {
  let length = cells.length;
  while (length > width && (cells[length - 1] ?? "").trim() === "") length--;
  if (length === width) return undefined;
  return {
    code: "ragged-row",
    message: `the row has ${length} ${length === 1 ? "cell" : "cells"}, the header ${width}`,
    hint:
      length > width
        ? "put a cell with a delimiter in it into quotes"
        : "write every delimiter, also before empty cells; check that the row is not cut off",
  };
}
