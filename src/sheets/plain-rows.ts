import type { LineBlock, LineTaker, TakenLines } from "../files/table-reading.ts";
import { textIn } from "../files/text/byte-text.ts";
import {
  afterCell,
  byteMeanings,
  endOfSame,
  endOfText,
  FEED_BYTE,
  plainBytes,
  RETURN_BYTE,
} from "../files/text/plain-cells.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import { ROW_WORDS, restWord } from "../model/row-words.ts";
import type { NumberedFacts, RareFacts, RowTable } from "../model/rows.ts";
import { CellNumbers } from "./cell-numbers.ts";
import { usableText } from "./cell-text.ts";
import { countIn, endOfDigits } from "./plain-count.ts";
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
/** Rows that say other things beyond these are read the slow way: such sheets say something else in every row. */
const MOST_FACTS = 1 << 16;
/** Of sheets that say nothing else of a row. */
const NO_FACTS = { stage: LIFE_STAGES.indexOf("unknown"), flags: 0, column: 0 };
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
  /** The cells of facts of a row one behind the other, where there are several. */
  #key = new Uint8Array(256);
  #meaning: Uint8Array = new Uint8Array(256);

  constructor(columns: PlainColumns, table: RowTable, facts: RowFactsReader) {
    this.#columns = columns;
    this.#table = table;
    this.#facts = facts;
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
          name = this.#names.findFrom(bytes, begin, meaning);
          at = this.#names.end;
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
      if (sample === NOT_YET) sample = this.#numberSample();
      let nameNumber = this.#nameNumbers[name] as number;
      if (nameNumber === NOT_YET) nameNumber = this.#numberName(name);
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

  #numberSample(): number {
    const cell = this.#sample;
    this.#sampleNumber = this.#table.samples.add(this.#sampleTexts[cell] as string);
    this.#sampleNumbers[cell] = this.#sampleNumber;
    return this.#sampleNumber;
  }

  #numberName(cell: number): number {
    const number = this.#table.names.add(this.#nameTexts[cell] as string);
    this.#nameNumbers[cell] = number;
    return number;
  }

  /** Says in `#sample` which sample a cell means; false when the cell needs a second look. */
  #findSample(bytes: Uint8Array, from: number, to: number): boolean {
    let cell = this.#samples.find(bytes, from, to);
    if (cell < 0) {
      const text = usableText(this.#block, from, to);
      cell = text === undefined ? -1 : this.#samples.add(bytes, from, to);
      if (text === undefined || cell < 0) return false;
      this.#sampleTexts.push(text);
      this.#sampleNumbers.push(NOT_YET);
    }
    this.#sample = cell;
    this.#sampleNumber = this.#sampleNumbers[cell] as number;
    return true;
  }

  #newName(bytes: Uint8Array, from: number, to: number): number {
    const text = usableText(this.#block, from, to);
    // Rows that sum up others are no animals; as few as they are, the other reader takes them.
    if (text === undefined || summaryKindOf(text) !== undefined) return -1;
    const cell = this.#names.add(bytes, from, to);
    if (cell < 0) return -1;
    this.#nameTexts.push(text);
    this.#nameNumbers.push(NOT_YET);
    return cell;
  }

  /** Says in `#rest` and `#rareFacts` what the row at hand says besides; false when a cell needs a second look. */
  #findFacts(bytes: Uint8Array): boolean {
    const { facts } = this.#columns;
    const [only] = facts;
    let key = bytes;
    let from = 0;
    let to = 0;
    if (only !== undefined && facts.length === 1) {
      from = this.#begins[only] as number;
      to = this.#textEnd(bytes, only);
    } else {
      to = this.#gatherKey(bytes);
      key = this.#key;
    }
    let cell = this.#factKeys.find(key, from, to);
    if (cell < 0) {
      const read = this.#readFacts(bytes);
      if (read === undefined || this.#factKeys.size >= MOST_FACTS) return false;
      cell = this.#factKeys.add(key, from, to);
      if (cell < 0) return false;
      this.#knownFacts.push(read);
    }
    const known = this.#knownFacts[cell] as NumberedFacts;
    this.#rest = restWord(this.#table.currentFile, known);
    this.#rareFacts = known.rare;
    return true;
  }

  /** Where the text of a cell of the row at hand ends. */
  #textEnd(bytes: Uint8Array, column: number): number {
    const end = (this.#ends[column] as number) - 1;
    // A plain cell holds no carriage return, so one before a line feed belongs to the end of the line.
    return end > (this.#begins[column] as number) && bytes[end - 1] === RETURN_BYTE ? end - 1 : end;
  }

  /** Writes the cells of facts into `#key`, a line feed behind each; returns the length. */
  #gatherKey(bytes: Uint8Array): number {
    let length = 0;
    for (const column of this.#columns.facts) {
      const from = this.#begins[column] as number;
      const to = this.#textEnd(bytes, column);
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

  #readFacts(bytes: Uint8Array): NumberedFacts | undefined {
    const cells = Array.from({ length: this.#columns.width }, () => "");
    for (const column of this.#columns.facts)
      cells[column] = textIn(bytes, this.#begins[column] as number, this.#textEnd(bytes, column));
    const { stage, flags, rare } = this.#facts.read(cells);
    if (this.#facts.faults.length > 0) return undefined;
    return { stage: LIFE_STAGES.indexOf(stage), flags, rare, column: this.#columns.count + 1 };
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
