import type { LineBlock, LineTaker, TakenLines } from "../files/table-reading.ts";
import {
  afterCell,
  byteMeanings,
  endOfSame,
  endOfText,
  FEED_BYTE,
  plainBytes,
} from "../files/text/plain-cells.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import { ROW_WORDS, restWord } from "../model/row-words.ts";
import type { RareFacts, RowTable } from "../model/rows.ts";
import { usableText } from "./cell-text.ts";
import { DictionaryCells, NOT_YET } from "./dictionary-cells.ts";
import { countIn, endOfDigits } from "./plain-count.ts";
import type { FactColumns } from "./plain-facts.ts";
import { PlainFacts } from "./plain-facts.ts";
import { type RowFactsReader, rareFaults } from "./row-facts.ts";
import { summaryKindOf } from "./summary-rows.ts";

/** Where the cells of a long sheet are; numbers of fields from 0. */
export interface PlainColumns extends FactColumns {
  readonly sample: number;
  readonly name: number;
  /** Columns without a name; the first text in one is reported. */
  readonly nameless: { readonly open: readonly number[] };
}

/** What the loop does with the cells of a column. */
const NAME = 0;
const COUNT = 1;
const SAMPLE = 2;
const FACT = 3;
/** A column without a name, as long as nothing stands in it. */
const EMPTY = 4;
const OTHER = 5;

/** So many rows at most are handed to the table at once. */
const MOST_ROWS = 1 << 9;
/** Of sheets that say nothing else of a row. */
const NO_FACTS = { stage: LIFE_STAGES.indexOf("unknown"), flags: 0, column: 0 };

/**
 * Reads the rows of a long bench sheet straight from the bytes of their lines. It takes a row only where every
 * cell it needs can be used as it stands; any other row is left, untouched, to the reader of records, which judges
 * it and says what is wrong. So nothing here complains, and both ways give the same rows.
 */
export class PlainRows implements LineTaker {
  readonly #columns: PlainColumns;
  readonly #table: RowTable;
  readonly #samples: DictionaryCells;
  readonly #names: DictionaryCells;
  readonly #facts: PlainFacts;
  #rows = 0;
  /** What the row at hand says: the cell of its sample, the number in the table, its last word, what few rows have. */
  #sample = -1;
  #sampleNumber = NOT_YET;
  #rest: number;
  #rareFacts: RareFacts | undefined;
  readonly #kinds: Uint8Array;
  /**
   * Of the first of several columns side by side that are neither name nor count the last of them, else the column
   * itself: what says the same as above is compared in one go.
   */
  readonly #runEnds: Int32Array;
  /**
   * Where the cells of the row at hand begin, and where they end with what parts them from the next; of a run of
   * columns that say the same as above, in the row in which they said it first.
   */
  readonly #begins: Int32Array;
  readonly #ends: Int32Array;
  /** Rows that are not in the table yet, in its words, and how many of the words are used. */
  readonly #words = new Uint32Array(MOST_ROWS * ROW_WORDS);
  #filled = 0;
  /** The block at hand, to make texts of. */
  #block: Buffer = Buffer.alloc(0);
  /** Facts that few rows have, of those rows. */
  readonly #rare: { readonly row: number; readonly facts: RareFacts }[] = [];
  #meaning: Uint8Array = new Uint8Array(256);

  constructor(columns: PlainColumns, table: RowTable, facts: RowFactsReader) {
    this.#columns = columns;
    this.#table = table;
    this.#samples = new DictionaryCells(table.samples);
    this.#names = new DictionaryCells(table.names);
    this.#facts = new PlainFacts(columns, facts);
    this.#rest = restWord(table.currentFile, NO_FACTS);
    this.#kinds = new Uint8Array(columns.width).fill(OTHER);
    for (const column of columns.facts) this.#kinds[column] = FACT;
    this.#kinds[columns.sample] = SAMPLE;
    this.#kinds[columns.name] = NAME;
    this.#kinds[columns.count] = COUNT;
    this.#runEnds = runEndsOf(this.#kinds);
    this.#begins = new Int32Array(columns.width);
    this.#ends = new Int32Array(columns.width);
  }

  /** Rows taken so far. */
  get rows(): number {
    return this.#rows;
  }

  takeLines({ bytes: given, delimiter, line }: LineBlock): TakenLines {
    const bytes = plainBytes(given);
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
    this.#block = Buffer.from(given.buffer, given.byteOffset, given.length);
    this.#meaning = byteMeanings(delimiter);
    this.#watchNameless();
    const last = bytes.lastIndexOf(FEED_BYTE);
    let end = 0;
    let lines = 0;
    let taken = MOST_ROWS;
    while (taken === MOST_ROWS) {
      end = this.#takeSome(bytes, view, end, last);
      taken = this.#handOver(line + lines);
      lines += taken;
    }
    this.#rows += lines;
    return { end, lines };
  }

  /**
   * Puts the next rows into `#words`, MOST_ROWS unless a line is met that is not plain, and returns where their lines
   * end. One turn a line, one look a byte, and no bound to be checked, since a line feed is ahead. Most cells of a
   * sheet say the same as those above them: they are compared before anything else, with the delimiter behind them,
   * and then neither looked through nor looked up.
   *
   * @param last where the last line feed stands
   */
  #takeSome(bytes: Uint8Array, view: DataView, from: number, last: number): number {
    const meaning = this.#meaning;
    const kinds = this.#kinds;
    const runEnds = this.#runEnds;
    const begins = this.#begins;
    // No row counts as above the first. Said again for every some, so that what a first row takes is no rare thing when
    // the loop is compiled.
    const ends = this.#ends.fill(-1);
    const words = this.#words;
    const names = this.#names;
    const lastColumn = kinds.length - 1;
    let sample = this.#sampleNumber;
    let rest = this.#rest;
    let start = from;
    let word = 0;
    rows: while (start <= last && word < words.length) {
      let at = start;
      let name = 0;
      let count = 0;
      let isNewFacts = false;
      for (let column = 0; column <= lastColumn; column++) {
        const kind = kinds[column];
        const begin = at;
        if (kind === NAME) {
          name = names.cells.findFrom(bytes, begin, meaning);
          at = names.cells.end;
          if (name < 0) name = this.#newName(bytes, begin, at);
          if (name < 0) break rows;
        } else if (kind === COUNT) {
          at = endOfDigits(bytes, begin);
          count = countIn(bytes, begin, at);
          if (count < 0) break rows;
        } else {
          // First all columns of a run, then each of them.
          const runEnd = runEnds[column] as number;
          at = endOfSame(view, bytes.length, begin, begins[column] as number, ends[runEnd] as number);
          if (at >= 0) {
            if (runEnd === column) {
              begins[column] = begin;
              ends[column] = at;
            }
            column = runEnd;
            continue;
          }
          if (runEnd > column) {
            at = endOfSame(view, bytes.length, begin, begins[column] as number, ends[column] as number);
            if (at >= 0) {
              begins[column] = begin;
              ends[column] = at;
              continue;
            }
          }
          at = endOfText(bytes, begin, meaning);
          if (kind === FACT) isNewFacts = true;
          if (kind === EMPTY && at > begin) break rows;
          if (kind === SAMPLE) {
            if (!this.#findSample(bytes, begin, at)) break rows;
            sample = this.#sampleNumber;
          }
        }
        at = afterCell(bytes, at, meaning, column === lastColumn);
        if (at < 0) break rows;
        begins[column] = begin;
        ends[column] = at;
      }
      if (isNewFacts) {
        if (!this.#findFacts(bytes)) break;
        rest = this.#rest;
      }
      if (this.#rareFacts !== undefined && !this.#keepRare(this.#rareFacts, count, word / ROW_WORDS)) break;
      if (sample === NOT_YET) {
        sample = this.#samples.giveNumber(this.#sample);
        this.#sampleNumber = sample;
      }
      let nameNumber = names.numberOf(name);
      if (nameNumber === NOT_YET) nameNumber = names.giveNumber(name);
      words[word] = sample;
      words[word + 1] = nameNumber;
      words[word + 2] = count;
      words[word + 3] = rest;
      word += ROW_WORDS;
      start = at;
    }
    this.#filled = word;
    return start;
  }

  /** Columns without a name must stay empty until something was seen in one, which is reported elsewhere. */
  #watchNameless(): void {
    const { nameless } = this.#columns;
    for (let column = 0; column < this.#kinds.length; column++)
      if (this.#kinds[column] === EMPTY) this.#kinds[column] = OTHER;
    for (const column of nameless.open) this.#kinds[column] = EMPTY;
  }

  /** Adds the rows in `#words` to the table; returns how many. */
  #handOver(firstLine: number): number {
    const rows = this.#filled / ROW_WORDS;
    const first = this.#table.size;
    this.#table.addRows(this.#words, rows, firstLine, this.#columns.count + 1);
    for (const { row, facts } of this.#rare) this.#table.setRare(first + row, facts);
    this.#rare.length = 0;
    return rows;
  }

  /** Remembers facts that few rows have; false when they do not go with the count. */
  #keepRare(facts: RareFacts, count: number, row: number): boolean {
    if (rareFaults(facts, count).length > 0) return false;
    this.#rare.push({ row, facts });
    return true;
  }

  /** Says in `#sample` which sample a cell means; false when the cell needs a second look. */
  #findSample(bytes: Uint8Array, from: number, to: number): boolean {
    let cell = this.#samples.cells.find(bytes, from, to);
    if (cell < 0) {
      const text = usableText(this.#block, from, to);
      cell = text === undefined ? -1 : this.#samples.add(bytes, from, to, text);
      if (cell < 0) return false;
    }
    this.#sample = cell;
    this.#sampleNumber = this.#samples.numberOf(cell);
    return true;
  }

  #newName(bytes: Uint8Array, from: number, to: number): number {
    const text = usableText(this.#block, from, to);
    // Rows that sum up others are no animals; as few as they are, the other reader takes them.
    if (text === undefined || summaryKindOf(text) !== undefined) return -1;
    return this.#names.add(bytes, from, to, text);
  }

  /** Says in `#rest` and `#rareFacts` what the row at hand says besides; false when a cell needs a second look. */
  #findFacts(bytes: Uint8Array): boolean {
    const facts = this.#facts.find(bytes, this.#begins, this.#ends);
    if (facts === undefined) return false;
    this.#rest = restWord(this.#table.currentFile, facts);
    this.#rareFacts = facts.rare;
    return true;
  }
}

function runEndsOf(kinds: Uint8Array): Int32Array {
  const isSteady = (column: number) => column >= 0 && kinds[column] !== NAME && kinds[column] !== COUNT;
  return Int32Array.from(kinds, (_, column) => {
    let end = column;
    if (isSteady(column) && !isSteady(column - 1)) while (end + 1 < kinds.length && isSteady(end + 1)) end++;
    return end;
  });
}
