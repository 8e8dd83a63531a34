import { KeptCells } from "../../files/formats/kept-cells.ts";
import { RowBytes } from "../../files/formats/row-bytes.ts";
import type { RowTable } from "../../model/rows.ts";
import type { DrawnBlock, DrawnSample } from "./drawn-sample.ts";
import type { KeptRow, KeptTable } from "./kept-table.ts";
import { KEPT_KINDS } from "./kept-table.ts";
import type { SheetShape } from "./sheet-rows.ts";
import { emptyRow, endCells, hasNoRow, sheetColumns, sheetRow, startCells } from "./sheet-rows.ts";

/** A part that is not kept yet. */
const NONE = -1;

/**
 * The rows of `sheetRows` as bytes of delimited text. A row says the id of its sample, a name and a kind, each of
 * which many rows say: they are made into bytes once and then copied, and only counts are written digit by digit.
 * Rows that name a grid or stand for several taxa are made cell by cell.
 */
export class SheetBytes {
  readonly #table: RowTable;
  readonly #shape: SheetShape;
  readonly #rows: RowBytes;
  /** The start of the rows of the sample at hand. */
  readonly #start: KeptCells;
  readonly #names: KeptCells;
  readonly #ends: KeptCells;
  /** Parts of `#names` by name, and of `#ends` by kind. */
  readonly #partOfName: Int32Array;
  readonly #partOfKind = new Int32Array(KEPT_KINDS).fill(NONE);

  constructor(table: RowTable, shape: SheetShape, delimiter: "," | "\t") {
    this.#table = table;
    this.#shape = shape;
    this.#rows = new RowBytes(sheetColumns(shape), delimiter);
    this.#start = new KeptCells(delimiter);
    this.#names = new KeptCells(delimiter);
    this.#ends = new KeptCells(delimiter);
    this.#partOfName = new Int32Array(table.names.size).fill(NONE);
  }

  /** The rows of a block; good until the next block is given. */
  of({ samples, kept }: DrawnBlock): Uint8Array {
    for (const sample of samples) {
      if (hasNoRow(sample)) continue;
      if (sample.start === sample.end) this.#addCells(sample, emptyRow(sample, this.#table));
      else this.#addSample(sample, kept);
    }
    return this.#rows.take();
  }

  #addSample(sample: DrawnSample, kept: KeptTable): void {
    const start = this.#start;
    start.clear();
    start.keep(startCells(sample, this.#shape), false);
    const isByCells = this.#shape.by === "grid";
    for (let row = sample.start; row < sample.end; row++) {
      if (isByCells || kept.numberOfTaxaAt(row) !== 1) {
        this.#addCells(sample, kept.rowAt(row));
        continue;
      }
      const name = kept.nameAt(row);
      let namePart = this.#partOfName[name] as number;
      if (namePart === NONE) namePart = this.#keepName(name);
      let endPart = this.#partOfKind[kept.kindAt(row)] as number;
      if (endPart === NONE) endPart = this.#keepEnd(kept, row);
      this.#rows.addKept(start, 0, this.#names, namePart, kept.countAt(row), this.#ends, endPart);
    }
  }

  #addCells(sample: DrawnSample, row: KeptRow): void {
    this.#rows.add(sheetRow(sample, row, this.#table, this.#shape));
  }

  #keepName(name: number): number {
    const part = this.#names.keep([this.#table.names.textOf(name)], false);
    this.#partOfName[name] = part;
    return part;
  }

  #keepEnd(kept: KeptTable, row: number): number {
    const part = this.#ends.keep(endCells(kept.rowAt(row), this.#shape), true);
    this.#partOfKind[kept.kindAt(row)] = part;
    return part;
  }
}
