import { numberText } from "../../model/number-text.ts";
import { visibleText } from "../visible-text.ts";
import type { Cell, OutputColumn, TableLook, TableWriter, TextSink } from "./define.ts";
import { fitWidths, headerLines } from "./table-widths.ts";
import { padToWidth, shownWidth, wrapToWidth } from "./text-width.ts";

const GAP = "  ";
/** Rows that take more lines than this in the mean are read more easily as lists. */
const MOST_LINES = 4;

/**
 * Gathers the rows, since the widths of the columns are known only at the end, and writes them aligned. Where a
 * width is given, columns without content are left out, texts are wrapped, and a table that still does not fit
 * becomes a list, one line a value.
 */
export function alignedWriter(
  sink: TextSink,
  columns: readonly OutputColumn[],
  look: TableLook,
): TableWriter {
  const rows: string[][] = [];
  return {
    async start() {},
    row(cells) {
      if (cells.length !== columns.length)
        throw new RangeError(`a row has ${cells.length} cells, the header ${columns.length}`);
      rows.push(cells.map((cell) => shownCell(cell, look.decimals)));
      return undefined;
    },
    end: () => writeTable(sink, columns, rows, look),
  };
}

/** A missing value is shown as a dash, so that it is seen to be missing. */
function shownCell(cell: Cell, decimals: number | undefined): string {
  if (cell === null) return "-";
  if (typeof cell !== "number") return visibleText(cell);
  return numberText(decimals === undefined ? cell : shortened(cell, decimals));
}

/** Rounded for the eye; a small number keeps as many digits as its first ones, so that it does not become 0. */
function shortened(value: number, decimals: number): number {
  const isSmall = Math.abs(value) < 10 ** (1 - decimals);
  return Number(isSmall ? value.toPrecision(decimals) : value.toFixed(decimals));
}

async function writeTable(
  sink: TextSink,
  columns: readonly OutputColumn[],
  rows: readonly (readonly string[])[],
  look: TableLook,
): Promise<void> {
  const table = fitted({ columns, rows }, look.width ?? Number.POSITIVE_INFINITY);
  if (table.isList) await writeList(sink, table, look);
  else await writeColumns(sink, table, look);
  if (table.empty.length > 0) await sink.write(`nothing in ${table.empty.join(", ")}\n`);
  await sink.flush?.();
}

interface Table {
  readonly columns: readonly OutputColumn[];
  readonly rows: readonly (readonly string[])[];
}

interface FittedTable extends Table {
  readonly widths: readonly number[];
  /** Whether it does not fit side by side. */
  readonly isList: boolean;
  /** Names of columns without content, left out to make room. */
  readonly empty: readonly string[];
}

function fitted(table: Table, total: number): FittedTable {
  const whole = widthsOf(table, total);
  if (fits(whole.natural, total)) return { ...table, widths: whole.widths, isList: false, empty: [] };
  const isKept = table.columns.map(
    (column, at) => at === 0 || column.kind === "number" || (whole.content[at] ?? 0) > 0,
  );
  const kept = {
    columns: table.columns.filter((_, at) => isKept[at]),
    rows: table.rows.map((row) => row.filter((_, at) => isKept[at])),
  };
  const { widths } = widthsOf(kept, total);
  const lines = kept.rows.reduce(
    (sum, row) => sum + Math.max(...row.map((cell, at) => shownWidth(cell) / Math.max(1, widths[at] ?? 0))),
    0,
  );
  const isSqueezed = lines > MOST_LINES * kept.rows.length;
  return {
    ...kept,
    widths,
    isList: table.rows.length > 0 && (isSqueezed || !fits(widths, total)),
    empty: table.columns.filter((_, at) => !isKept[at]).map((column) => visibleText(column.name)),
  };
}

function fits(widths: readonly number[], total: number): boolean {
  return widths.reduce((sum, width) => sum + width + GAP.length, -GAP.length) <= total;
}

function widthsOf({ columns, rows }: Table, total: number) {
  const content = columns.map((_, at) =>
    rows.reduce((widest, row) => Math.max(widest, shownWidth(row[at] ?? "")), 0),
  );
  const names = columns.map((column) => visibleText(column.name));
  const widths = fitWidths({
    names,
    content,
    // The first column holds the ids by which a row is known, so it is never broken; nor is a date.
    canShrink: columns.map(
      (column, at) =>
        at > 0 && column.kind === "text" && !column.name.endsWith("_on") && column.name !== "date",
    ),
    gap: GAP.length,
    total,
  });
  const natural = names.map((name, at) => Math.max(shownWidth(name), content[at] ?? 0));
  return { content, widths, natural };
}

async function writeColumns(sink: TextSink, table: FittedTable, look: TableLook): Promise<void> {
  const { columns, rows, widths } = table;
  const isRight = columns.map(
    (column) => (column.align ?? (column.kind === "number" ? "right" : "left")) === "right",
  );
  const line = (cells: readonly string[], paint: (cell: string, at: number) => string): string =>
    `${cells
      .map((cell, at) => {
        const isLast = at === cells.length - 1 && isRight[at] !== true;
        return paint(isLast ? cell : padToWidth(cell, widths[at] ?? 0, isRight[at] === true), at);
      })
      .join(GAP)
      .replace(/ +$/, "")}\n`;
  const paintHeader = look.paintHeader ?? ((cell: string) => cell);
  const names = columns.map((column) => visibleText(column.name));
  let text = "";
  for (const header of headerLines(names, widths)) text += line(header, paintHeader);
  text += `${widths.map((width) => "─".repeat(width)).join(GAP)}\n`;
  for (const row of rows) {
    const cells = row.map((cell, at) => wrapToWidth(cell, widths[at] ?? 0));
    const height = Math.max(1, ...cells.map((lines) => lines.length));
    for (let at = 0; at < height; at++)
      text += line(
        cells.map((lines) => lines[at] ?? ""),
        (cell, column) => columns[column]?.paint?.(cell) ?? cell,
      );
    if (text.length > 1 << 16) {
      await sink.write(text);
      text = "";
    }
  }
  await sink.write(text);
}

/** One value a line, one block a row. */
async function writeList(sink: TextSink, { columns, rows }: FittedTable, look: TableLook): Promise<void> {
  const names = columns.map((column) => visibleText(column.name));
  const widest = names.reduce((wide, name) => Math.max(wide, shownWidth(name)), 0);
  const room = Math.max(20, (look.width ?? Number.POSITIVE_INFINITY) - widest - GAP.length);
  const paintHeader = look.paintHeader ?? ((cell: string) => cell);
  let isFirst = true;
  for (const row of rows) {
    let text = isFirst ? "" : "\n";
    isFirst = false;
    row.forEach((cell, at) => {
      if (cell === "") return;
      const paint = columns[at]?.paint ?? ((part: string) => part);
      wrapToWidth(cell, room).forEach((part, line) => {
        const name = padToWidth(line === 0 ? (names[at] ?? "") : "", widest, false);
        text += `${paintHeader(name)}${GAP}${paint(part)}\n`;
      });
    });
    await sink.write(text);
  }
}
