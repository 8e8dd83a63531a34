import type { HeaderCell, TableReading } from "../files/table-reading.ts";
import type { Place } from "../findings/finding.ts";
import type { CellFault } from "./count.ts";

/** Watches columns without a name in the header: with text in them they are left out, and that is said. */
export class NamelessColumns {
  readonly #table: TableReading;
  #empty: readonly HeaderCell[];
  #open: readonly number[];
  readonly #filled: { readonly column: number; readonly line: number }[] = [];

  constructor(table: TableReading, columns: readonly HeaderCell[]) {
    this.#table = table;
    this.#empty = columns;
    this.#open = indexesOf(columns);
  }

  /** 0-based numbers of the cells that have been empty so far. */
  get open(): readonly number[] {
    return this.#open;
  }

  /** True when every column without a name has been seen to hold something, or there is none. */
  get isDone(): boolean {
    return this.#empty.length === 0;
  }

  look(cells: readonly string[], line: number): void {
    const filled = this.#empty.filter((cell) => (cells[cell.column - 1] ?? "").trim() !== "");
    if (filled.length === 0) return;
    for (const { column } of filled) this.#filled.push({ column, line });
    this.#empty = this.#empty.filter((cell) => !filled.includes(cell));
    this.#open = indexesOf(this.#empty);
  }

  report(say: (place: Place, fault: CellFault) => void): void {
    for (const { column, line } of this.#filled) {
      say(
        { file: this.#table.place, line: this.#table.headerLine, column },
        {
          code: "nameless-column",
          message: `field ${column} has no name in the header and a value in line ${line}`,
        },
      );
    }
  }
}

function indexesOf(columns: readonly HeaderCell[]): number[] {
  return columns.map(({ column }) => column - 1);
}
