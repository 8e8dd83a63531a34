import { textIn } from "../files/text/byte-text.ts";
import { FEED_BYTE, RETURN_BYTE } from "../files/text/plain-cells.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import type { NumberedFacts } from "../model/rows.ts";
import { CellNumbers } from "./cell-numbers.ts";
import type { RowFactsReader } from "./row-facts.ts";

/** Rows that say other things beyond these are read the slow way: such sheets say something else in every row. */
const MOST_FACTS = 1 << 16;

/** Where the cells are that say something of a row beside its sample, name and count; numbers of fields from 0. */
export interface FactColumns {
  /** Cells of a row. */
  readonly width: number;
  readonly count: number;
  readonly facts: readonly number[];
}

/** Reads what rows say beside sample, name and count, once for all rows that say the same. */
export class PlainFacts {
  readonly #columns: FactColumns;
  readonly #reader: RowFactsReader;
  readonly #keys = new CellNumbers();
  readonly #known: NumberedFacts[] = [];
  /** The cells of a row one behind the other, where there are several. */
  #key = new Uint8Array(256);

  constructor(columns: FactColumns, reader: RowFactsReader) {
    this.#columns = columns;
    this.#reader = reader;
  }

  /**
   * What a row says; undefined when one of its cells needs a second look.
   *
   * @param begins where the cells of the row begin, by column
   * @param ends where they end with what parts them from the next
   */
  find(bytes: Uint8Array, begins: Int32Array, ends: Int32Array): NumberedFacts | undefined {
    const { facts } = this.#columns;
    const [only] = facts;
    let key = bytes;
    let from = 0;
    let to = 0;
    if (only !== undefined && facts.length === 1) {
      from = begins[only] as number;
      to = textEnd(bytes, from, ends[only] as number);
    } else {
      to = this.#gatherKey(bytes, begins, ends);
      key = this.#key;
    }
    const cell = this.#keys.find(key, from, to);
    if (cell >= 0) return this.#known[cell];
    const read = this.#read(bytes, begins, ends);
    if (read === undefined || this.#keys.size >= MOST_FACTS || this.#keys.add(key, from, to) < 0)
      return undefined;
    this.#known.push(read);
    return read;
  }

  /** Writes the cells of a row into `#key`, a line feed behind each; returns the length. */
  #gatherKey(bytes: Uint8Array, begins: Int32Array, ends: Int32Array): number {
    let length = 0;
    for (const column of this.#columns.facts) {
      const from = begins[column] as number;
      const to = textEnd(bytes, from, ends[column] as number);
      if (length + to - from >= this.#key.length) {
        const longer = new Uint8Array((length + to - from) * 2);
        longer.set(this.#key);
        this.#key = longer;
      }
      for (let at = from; at < to; at++) this.#key[length++] = bytes[at] as number;
      this.#key[length++] = FEED_BYTE;
    }
    return length;
  }

  #read(bytes: Uint8Array, begins: Int32Array, ends: Int32Array): NumberedFacts | undefined {
    const cells = Array.from({ length: this.#columns.width }, () => "");
    for (const column of this.#columns.facts) {
      const from = begins[column] as number;
      cells[column] = textIn(bytes, from, textEnd(bytes, from, ends[column] as number));
    }
    const { stage, flags, rare } = this.#reader.read(cells);
    if (this.#reader.faults.length > 0) return undefined;
    return { stage: LIFE_STAGES.indexOf(stage), flags, rare, column: this.#columns.count + 1 };
  }
}

/** Where the text of a cell ends. @param end where the cell ends with what parts it from the next */
function textEnd(bytes: Uint8Array, from: number, end: number): number {
  // A plain cell holds no carriage return, so one before a line feed belongs to the end of the line.
  return end - 1 > from && bytes[end - 2] === RETURN_BYTE ? end - 2 : end - 1;
}
