import { at } from "../model/at.ts";
import type { RowTable } from "../model/rows.ts";
import { ROW_FLAGS } from "../model/rows.ts";
import { runTableText } from "./run-table.ts";
import { NUMBER_FACTS, TEXT_FACTS } from "./stored-row-columns.ts";

/** Kinds of rows whose middle is remembered. */
const MOST_MIDDLES = 1 << 12;

/**
 * Writes rows of a batch as lines of rows.csv. Of all that a row says only its count and its place are its own in
 * nearly every sheet, so its name, and all from its stage to its file, are made ready for the table once.
 */
export class StoredRowText {
  readonly #table: RowTable;
  readonly #files: readonly string[];
  readonly #names: (string | undefined)[] = [];
  /** By stage, flags and file. */
  readonly #middles = new Map<number, string>();
  #lastSample = -1;
  #sample = "";

  /** @param files names of the files in the run, by the number of the file in the table */
  constructor(table: RowTable, files: readonly string[]) {
    this.#table = table;
    this.#files = files;
  }

  /** The line of a row, with its line end. */
  lineOf(row: number): string {
    const table = this.#table;
    const sample = table.sampleAt(row);
    if (sample !== this.#lastSample) {
      this.#sample = fields([table.samples.textOf(sample)]);
      this.#lastSample = sample;
    }
    const name = table.nameAt(row);
    this.#names[name] ??= fields([table.names.textOf(name)]);
    const place = `${table.lineAt(row)},${table.columnAt(row)}`;
    return `${this.#sample}${this.#names[name]}${table.countAt(row)},${this.#middleOf(row)}${place}\n`;
  }

  #middleOf(row: number): string {
    const table = this.#table;
    if (table.rareAt(row) !== undefined) return fields(this.#middleCells(row));
    const key = (table.fileNumberAt(row) * 256 + table.stageNumberAt(row)) * 256 + table.flagsAt(row);
    const known = this.#middles.get(key);
    if (known !== undefined) return known;
    const middle = fields(this.#middleCells(row));
    if (this.#middles.size < MOST_MIDDLES) this.#middles.set(key, middle);
    return middle;
  }

  #middleCells(row: number): string[] {
    const table = this.#table;
    const flags = table.flagsAt(row);
    const stage = table.stageAt(row);
    const rare = table.rareAt(row);
    const has = (flag: number, word: string) => ((flags & flag) === 0 ? "" : word);
    return [
      stage === "unknown" ? "" : stage,
      has(ROW_FLAGS.largeRare, "large-rare"),
      has(ROW_FLAGS.distinctYes, "yes") || has(ROW_FLAGS.distinctNo, "no"),
      has(ROW_FLAGS.released, "released"),
      has(ROW_FLAGS.expanded, "expanded"),
      ...NUMBER_FACTS.map(([, key]) => String(rare?.[key] ?? "")),
      ...TEXT_FACTS.map(([, key]) => rare?.[key] ?? ""),
      at(this.#files, table.fileNumberAt(row)),
    ];
  }
}

/** Cells as fields of the table, a comma behind each. */
function fields(cells: readonly string[]): string {
  // The empty cell behind them gives the last comma; the line end goes.
  return runTableText([...cells, ""], []).slice(0, -1);
}
