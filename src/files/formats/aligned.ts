import { numberText } from "../../model/number-text.ts";
import { visibleText } from "../visible-text.ts";
import type { Cell, OutputColumn, TableLook, TableWriter, TextSink } from "./define.ts";
import { fitWidths, headerLines } from "./table-widths.ts";
import { cutToWidth, padToWidth, shownWidth } from "./text-width.ts";

const GAP = "  ";

/** Gathers the rows, since the widths of the columns are known only at the end, and writes them aligned. */
export function alignedWriter(
  sink: TextSink,
  columns: readonly OutputColumn[],
  look: TableLook,
): TableWriter {
  const rows: string[][] = [];
  return {
    async start() {},
    async row(cells) {
      if (cells.length !== columns.length)
        throw new RangeError(`a row has ${cells.length} cells, the header ${columns.length}`);
      rows.push(cells.map(shownCell));
    },
    end: () => writeTable(sink, columns, rows, look),
  };
}

/** A missing value is shown as a dash, so that it is seen to be missing. */
function shownCell(cell: Cell): string {
  if (cell === null) return "-";
  return typeof cell === "number" ? numberText(cell) : visibleText(cell);
}

async function writeTable(
  sink: TextSink,
  columns: readonly OutputColumn[],
  rows: readonly (readonly string[])[],
  look: TableLook,
): Promise<void> {
  const natural = columns.map((_, at) =>
    rows.reduce((widest, row) => Math.max(widest, shownWidth(row[at] ?? "")), 0),
  );
  const names = columns.map((column) => visibleText(column.name));
  const widths = fitWidths({
    names,
    content: natural,
    // The first column holds the ids by which a row is known, so it is never cut; nor is a date.
    canShrink: columns.map(
      (column, at) =>
        at > 0 && column.kind === "text" && !column.name.endsWith("_on") && column.name !== "date",
    ),
    gap: GAP.length,
    total: look.width ?? Number.POSITIVE_INFINITY,
  });
  const isRight = columns.map(
    (column) => (column.align ?? (column.kind === "number" ? "right" : "left")) === "right",
  );
  const line = (cells: readonly string[], paint: (cell: string, at: number) => string): string =>
    `${cells
      .map((cell, at) => {
        const width = widths[at] ?? 0;
        const cut = cutToWidth(cell, width);
        const isLast = at === cells.length - 1 && isRight[at] !== true;
        return paint(isLast ? cut : padToWidth(cut, width, isRight[at] === true), at);
      })
      .join(GAP)
      .replace(/ +$/, "")}\n`;
  const paintHeader = look.paintHeader ?? ((cell: string) => cell);
  let text = "";
  for (const header of headerLines(names, widths)) text += line(header, paintHeader);
  text += `${widths.map((width) => "─".repeat(width)).join(GAP)}\n`;
  for (const row of rows) {
    text += line(row, (cell, at) => columns[at]?.paint?.(cell) ?? cell);
    if (text.length > 1 << 16) {
      await sink.write(text);
      text = "";
    }
  }
  await sink.write(text);
  await sink.flush?.();
}
