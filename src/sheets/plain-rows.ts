import type { LineBlock, LineTaker, TakenLines } from "../files/table-reading.ts";
import { textIn } from "../files/text/byte-text.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import type { NumberedFacts, RowTable } from "../model/rows.ts";
import { LARGEST_COUNT } from "../model/rows.ts";
import { CellNumbers } from "./cell-numbers.ts";
import { cleanCell } from "./cell-text.ts";
import { type RowFactsReader, rareFaults } from "./row-facts.ts";
import { summaryKindOf } from "./summary-rows.ts";

/** Where the cells of a long sheet are; numbers of fields from 0. */
export interface PlainColumns {
  /** Cells of a row. */
  readonly width: number;
  readonly sample: number;
  readonly name: number;
  readonly count: number;
  readonly facts: readonly number[];
  /** Columns without a name; the first text in one is reported. */
  readonly nameless: { readonly open: readonly number[] };
}

/** What a byte means to the loop over a line. */
const TEXT = 0;
const DELIMITER = 1;
const LINE_FEED = 2;
const CARRIAGE_RETURN = 3;
const QUOTE = 4;

const FEED_BYTE = 10;
/** Rows that say other things beyond these are read the slow way: such sheets say something else in every row. */
const MOST_FACTS = 1 << 16;
/** A table of texts by number has no text for the number yet. */
const NOT_YET = -1;

/**
 * Reads the rows of a long bench sheet straight from the bytes of their lines. It takes a row only where every
 * cell it needs can be used as it stands; any other row is left, untouched, to the reader of records, which judges
 * it and says what is wrong. So nothing here complains, and both ways give the same rows.
 */
export class PlainRows implements LineTaker {
  readonly #columns: PlainColumns;
  readonly #table: RowTable;
  readonly #facts: RowFactsReader;
  readonly #samples = new CellNumbers();
  readonly #names = new CellNumbers();
  readonly #factKeys = new CellNumbers();
  /** Numbers in the dictionaries of the table, by number of the cell; given out when a row is added. */
  readonly #sampleNumbers: number[] = [];
  readonly #nameNumbers: number[] = [];
  readonly #sampleTexts: string[] = [];
  readonly #nameTexts: string[] = [];
  readonly #knownFacts: NumberedFacts[] = [];
  #rows = 0;
  #lastSample = -1;
  #lastFacts = -1;
  /** Offsets at which the cells of the line at hand end. */
  readonly #ends: Int32Array;
  /** The cells of facts of a row one behind the other, where there are several. */
  #key = new Uint8Array(256);
  readonly #meaning = new Uint8Array(256);

  constructor(columns: PlainColumns, table: RowTable, facts: RowFactsReader) {
    this.#columns = columns;
    this.#table = table;
    this.#facts = facts;
    this.#ends = new Int32Array(columns.width + 1);
    this.#meaning[FEED_BYTE] = LINE_FEED;
    this.#meaning[13] = CARRIAGE_RETURN;
    this.#meaning[34] = QUOTE;
  }

  /** Rows taken so far. */
  get rows(): number {
    return this.#rows;
  }

  takeLines({ bytes, delimiter, line }: LineBlock): TakenLines {
    const meaning = this.#meaning;
    meaning[delimiter] = DELIMITER;
    const ends = this.#ends;
    const { width } = this.#columns;
    const last = bytes.lastIndexOf(FEED_BYTE);
    let start = 0;
    let lines = 0;
    // One turn a line: find where its cells end, one look a byte, then read the few cells that are needed. No
    // bound is checked, since a line feed is ahead.
    while (start <= last) {
      let cells = 0;
      let at = start;
      for (;;) {
        const what = meaning[bytes[at] ?? 0];
        if (what === TEXT) {
          at++;
          continue;
        }
        if (what === DELIMITER && cells < width) {
          ends[cells++] = at++;
          continue;
        }
        break;
      }
      let next = at + 1;
      if (meaning[bytes[at] ?? 0] === CARRIAGE_RETURN && bytes[next] === FEED_BYTE) next++;
      else if (meaning[bytes[at] ?? 0] !== LINE_FEED) break;
      ends[cells++] = at;
      if (cells !== width || !this.#takeRow(bytes, start, line + lines)) break;
      start = next;
      lines++;
    }
    this.#rows += lines;
    return { end: start, lines };
  }

  /** Adds the row whose cells end at `#ends`; false when it needs a second look, with nothing changed. */
  #takeRow(bytes: Uint8Array, start: number, line: number): boolean {
    const ends = this.#ends;
    const columns = this.#columns;
    const count = countIn(bytes, this.#startOf(columns.count, start), ends[columns.count] ?? 0);
    if (count < 0) return false;
    for (const column of columns.nameless.open)
      if (this.#startOf(column, start) !== (ends[column] ?? 0)) return false;

    const sampleFrom = this.#startOf(columns.sample, start);
    const sampleTo = ends[columns.sample] ?? 0;
    // Sheets are written sample by sample, so most rows have the id of the row above.
    let sample = this.#lastSample;
    if (!this.#samples.is(sample, bytes, sampleFrom, sampleTo)) {
      sample = this.#textOf(this.#samples, this.#sampleTexts, bytes, sampleFrom, sampleTo);
      if (sample < 0) return false;
      this.#lastSample = sample;
    }
    const nameFrom = this.#startOf(columns.name, start);
    const name = this.#textOf(this.#names, this.#nameTexts, bytes, nameFrom, ends[columns.name] ?? 0);
    if (name < 0) return false;
    const facts = this.#factsOf(bytes, start);
    if (facts === undefined) return false;
    if (facts.rare !== undefined && rareFaults(facts.rare, count).length > 0) return false;

    const table = this.#table;
    let sampleNumber = this.#sampleNumbers[sample] ?? NOT_YET;
    if (sampleNumber === NOT_YET) {
      sampleNumber = table.samples.add(this.#sampleTexts[sample] ?? "");
      this.#sampleNumbers[sample] = sampleNumber;
    }
    let nameNumber = this.#nameNumbers[name] ?? NOT_YET;
    if (nameNumber === NOT_YET) {
      nameNumber = table.names.add(this.#nameTexts[name] ?? "");
      this.#nameNumbers[name] = nameNumber;
    }
    table.addNumbered(sampleNumber, nameNumber, count, line, facts);
    return true;
  }

  #startOf(column: number, start: number): number {
    return column === 0 ? start : (this.#ends[column - 1] ?? 0) + 1;
  }

  /** The number of a text cell that can be used as it stands, -1 for any other. */
  #textOf(cells: CellNumbers, texts: string[], bytes: Uint8Array, from: number, to: number): number {
    const known = cells.find(bytes, from, to);
    if (known >= 0) return known;
    const { text, fault } = cleanCell(textIn(bytes, from, to));
    if (text === "" || fault !== undefined) return -1;
    // Rows that sum up others are no animals; as few as they are, the other reader takes them.
    if (cells === this.#names && summaryKindOf(text) !== undefined) return -1;
    const number = cells.add(bytes, from, to);
    if (number >= 0) texts[number] = text;
    return number;
  }

  #factsOf(bytes: Uint8Array, start: number): NumberedFacts | undefined {
    const { facts } = this.#columns;
    const [first] = facts;
    let key = bytes;
    let from = 0;
    let to = 0;
    if (first !== undefined && facts.length === 1) {
      from = this.#startOf(first, start);
      to = this.#ends[first] ?? 0;
    } else if (first !== undefined) {
      to = this.#gatherKey(bytes, start);
      key = this.#key;
    }
    if (this.#factKeys.is(this.#lastFacts, key, from, to)) return this.#knownFacts[this.#lastFacts];
    let number = this.#factKeys.find(key, from, to);
    if (number < 0) {
      const read = this.#readFacts(bytes, start);
      if (read === undefined || this.#factKeys.size >= MOST_FACTS) return undefined;
      number = this.#factKeys.add(key, from, to);
      if (number < 0) return undefined;
      this.#knownFacts[number] = read;
    }
    this.#lastFacts = number;
    return this.#knownFacts[number];
  }

  /** Writes the cells of facts into `#key`, a line feed behind each; returns the length. */
  #gatherKey(bytes: Uint8Array, start: number): number {
    let length = 0;
    for (const column of this.#columns.facts) {
      const from = this.#startOf(column, start);
      const to = this.#ends[column] ?? 0;
      if (length + to - from >= this.#key.length) {
        const longer = new Uint8Array((length + to - from) * 2);
        longer.set(this.#key);
        this.#key = longer;
      }
      for (let at = from; at < to; at++) this.#key[length++] = bytes[at] ?? 0;
      this.#key[length++] = FEED_BYTE;
    }
    return length;
  }

  #readFacts(bytes: Uint8Array, start: number): NumberedFacts | undefined {
    const cells: string[] = [];
    for (let column = 0; column < this.#columns.width; column++)
      cells.push(textIn(bytes, this.#startOf(column, start), this.#ends[column] ?? 0));
    const { stage, flags, rare } = this.#facts.read(cells);
    if (this.#facts.faults.length > 0) return undefined;
    return { stage: LIFE_STAGES.indexOf(stage), flags, rare, column: this.#columns.count + 1 };
  }
}

/** A count in plain digits without a leading zero, as `plainCount` reads it; -1 for anything else. */
function countIn(bytes: Uint8Array, from: number, to: number): number {
  const digits = to - from;
  if (digits === 0 || digits > 10 || (digits > 1 && bytes[from] === 48)) return -1;
  let count = 0;
  for (let at = from; at < to; at++) {
    const digit = (bytes[at] ?? 0) - 48;
    if (digit < 0 || digit > 9) return -1;
    count = count * 10 + digit;
  }
  return count <= LARGEST_COUNT ? count : -1;
}
