import { FileError } from "../files/file-error.ts";
import { withoutGuard } from "../files/formula-guard.ts";
import { textIn } from "../files/text/byte-text.ts";
import { endOfSame } from "../files/text/plain-cells.ts";
import { LONGEST_RECORD } from "../files/text/records.ts";
import { COUNT, NAME, REST, ROW_WORDS, restWord, SAMPLE } from "../model/row-words.ts";
import type { RowTable } from "../model/rows.ts";
import { LARGEST_COUNT } from "../model/rows.ts";
import { fieldsOfRecord } from "../reference/package-table.ts";
import { CellNumbers } from "../sheets/cell-numbers.ts";
import { endsOfCells, MOST_DIGITS, wholeIn } from "./plain-line.ts";
import { RUN_FILES } from "./run-files.ts";
import { wholeOf } from "./run-table.ts";
import { STORED_ROW_AT as AT, STORED_ROW_COLUMNS } from "./stored-row-columns.ts";
import type { RowFacts } from "./stored-row-facts.ts";
import { storedFacts } from "./stored-row-facts.ts";
import { StoredSampleCells } from "./stored-sample-cells.ts";

const WIDTH = STORED_ROW_COLUMNS.length;
const COMMA = 44;
const LINE_FEED = 10;
const QUOTE = 34;
/** Bytes before which a cell ends. */
const CELL_ENDS = new Uint8Array(256);
for (const byte of [COMMA, LINE_FEED, QUOTE]) CELL_ENDS[byte] = 1;
/** Rows that say other things beyond these are read anew each time. */
const MOST_FACTS = 1 << 16;
/** No record is longer: the rows of a sheet are not, and their quotation marks are doubled once. */
const LONGEST_OPEN = 4 * LONGEST_RECORD;
/** So many rows at most are handed to the table at once. */
const MOST_ROWS = 1 << 9;

/**
 * Reads the rows of rows.csv into a table. The lines of a run are many and much alike, so a line without quotation
 * marks is read straight from its bytes: its sample, its name and all that stands from its stage to its file are
 * looked up by their bytes and made into text the first time only. A line with quotation marks is cut into its
 * fields first.
 */
export class StoredRowReader {
  readonly #table: RowTable;
  readonly #shown: string;
  readonly #fileNumbers: ReadonlyMap<string, number>;
  readonly #samples: StoredSampleCells;
  readonly #names = new CellNumbers();
  readonly #factKeys = new CellNumbers();
  readonly #nameNumbers: number[] = [];
  readonly #knownFacts: RowFacts[] = [];
  readonly #ends = new Int32Array(WIDTH);
  /** Rows that are not in the table yet, in its words. */
  readonly #words = new Uint32Array(MOST_ROWS * ROW_WORDS);
  #line = 1;
  #lastFacts = -1;
  /** Lines of a record that has not ended: a line feed stands within its quotation marks. */
  #open: string[] = [];
  #openLength = 0;

  /**
   * @param table with every sample already in its dictionary, and every file started
   * @param shown how messages name rows.csv
   * @param fileNumbers the number in the table of each file of the run
   */
  constructor(table: RowTable, shown: string, fileNumbers: ReadonlyMap<string, number>) {
    this.#table = table;
    this.#samples = new StoredSampleCells(table.samples);
    this.#shown = shown;
    this.#fileNumbers = fileNumbers;
  }

  /** Reads whole lines, the header not among them. @throws FileError naming the line of a fault */
  take(bytes: Uint8Array): void {
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    const last = bytes.lastIndexOf(LINE_FEED);
    let start = 0;
    while (start < bytes.length) {
      this.#line++;
      if (this.#open.length === 0 && endsOfCells(bytes, start, this.#ends) >= 0) {
        const before = this.#lastFacts;
        const facts = this.#plainRow(bytes, start);
        const end = (this.#ends[WIDTH - 1] as number) + 1;
        // Where rows say one thing and another, looking for more that are alike is in vain.
        start = this.#lastFacts === before ? this.#takeLike(bytes, view, last, facts) : end;
        continue;
      }
      const end = endOfLine(bytes, start);
      this.#otherLine(textIn(bytes, start, end));
      start = end + 1;
    }
  }

  /** Says that no line follows. @throws FileError when a record has not ended */
  end(): void {
    if (this.#open.length > 0) this.#record(this.#open.join("\n"));
  }

  /**
   * Takes the lines below a plain row for as long as they say the same as it from their stage to their file and in
   * their field, as most do: what is the same is compared and neither looked through nor looked up. One turn a line,
   * and no bound to be checked, since a line feed is ahead. Any other line is left as it is, also one with a fault.
   *
   * @param last where the last line feed stands
   * @param facts of the row, whose cells end at `#ends`
   * @returns where the first line begins that was not taken
   */
  #takeLike(bytes: Uint8Array, view: DataView, last: number, facts: RowFacts): number {
    const { length } = bytes;
    const names = this.#names;
    const ends = this.#ends;
    const words = this.#words;
    const rest = restWord(facts.file, facts);
    // What stands between a count and a line, and between a line and the end of its row, with what parts them.
    const factsBegin = ends[AT.count] as number;
    const factsEnd = (ends[AT.file] as number) + 1;
    const fieldBegin = ends[AT.line] as number;
    const fieldEnd = (ends[AT.field] as number) + 1;
    // Rows lie sample by sample, so a row's field is compared together with the sample below it.
    let joinBegin = 0;
    let joinEnd = 0;
    let sampleLength = 0;
    let sample = 0;
    let firstLine = 0;
    let word = 0;
    let start = fieldEnd;
    // Where the name of the line begins; not known yet in the first line of a sample.
    let at = -1;
    while (start <= last) {
      if (at < 0) {
        at = endOfCell(bytes, start);
        sample = bytes[at] === COMMA ? this.#samples.numberIn(bytes, start, at) : -1;
        if (sample < 0) break;
        at++;
        sampleLength = at - start;
        joinBegin = start - (fieldEnd - fieldBegin);
        joinEnd = at;
      }
      const name = names.findFrom(bytes, at, CELL_ENDS);
      if (name < 0 || bytes[names.end] !== COMMA) break;
      const count = this.#digits(bytes, names.end + 1);
      if (count < 0 || count > LARGEST_COUNT) break;
      at = endOfSame(view, length, this.#end, factsBegin, factsEnd);
      if (at < 0) break;
      const line = this.#digits(bytes, at);
      if (line < 0) break;
      at = endOfSame(view, length, this.#end, joinBegin, joinEnd);
      const next = at < 0 ? endOfSame(view, length, this.#end, fieldBegin, fieldEnd) : at - sampleLength;
      if (next < 0) break;
      // The table takes rows together that stand one below the other in their sheet.
      if (line !== firstLine + word / ROW_WORDS || word === words.length) {
        this.#handOver(word / ROW_WORDS, firstLine, facts);
        firstLine = line;
        word = 0;
      }
      words[word + SAMPLE] = sample;
      words[word + NAME] = this.#nameNumbers[name] as number;
      words[word + COUNT] = count;
      words[word + REST] = rest;
      word += ROW_WORDS;
      this.#line++;
      start = next;
    }
    this.#handOver(word / ROW_WORDS, firstLine, facts);
    return start;
  }

  /** Adds the rows in `#words` to the table, which stand line by line one below the other. */
  #handOver(rows: number, firstLine: number, facts: RowFacts): void {
    if (rows === 0) return;
    const table = this.#table;
    const words = this.#words;
    const first = table.size;
    table.continueFile(facts.file);
    if (rows === 1) {
      // As all rows come of a sheet in any order.
      const count = words[COUNT] as number;
      table.addNumbered(words[SAMPLE] as number, words[NAME] as number, count, firstLine, facts);
      return;
    }
    table.addRows(words, rows, firstLine, facts.column);
    if (facts.rare === undefined) return;
    for (let row = first; row < table.size; row++) table.setRare(row, facts.rare);
  }

  /** A whole number in plain digits, which ends at `#end`; -1 where there is none. */
  #digits(bytes: Uint8Array, from: number): number {
    let number = 0;
    let at = from;
    for (; at < from + MOST_DIGITS; at++) {
      const digit = (bytes[at] as number) - 48;
      // Beyond the last byte this is no number and so no digit.
      if (!(digit >= 0 && digit <= 9)) break;
      number = number * 10 + digit;
    }
    this.#end = at;
    return at === from || (at > from + 1 && bytes[from] === 48) ? -1 : number;
  }

  /** Where the number looked at ends. */
  #end = 0;

  /** Adds the row of a line whose cells end at `#ends`; returns what it says besides. */
  #plainRow(bytes: Uint8Array, start: number): RowFacts {
    const ends = this.#ends;
    const startOf = (column: number) => (column === 0 ? start : (ends[column - 1] as number) + 1);
    const endOf = (column: number) => ends[column] as number;
    const whole = (column: number) => {
      const number = wholeIn(bytes, startOf(column), endOf(column));
      return number < 0 ? this.#whole(textIn(bytes, startOf(column), endOf(column))) : number;
    };

    const sample = this.#samples.numberIn(bytes, start, endOf(AT.sample));
    if (sample < 0) throw this.#unknownSample();
    const name = this.#nameIn(bytes, startOf(AT.taxon), endOf(AT.taxon));
    const count = whole(AT.count);
    const from = startOf(AT.stage);
    const to = endOf(AT.file);
    let number = this.#lastFacts;
    if (!this.#factKeys.is(number, bytes, from, to)) number = this.#factKeys.find(bytes, from, to);
    let facts = this.#knownFacts[number];
    if (facts === undefined) {
      const cells = Array.from(ends, (end, column) => textIn(bytes, startOf(column), end));
      facts = this.#readFacts(cells);
      number = this.#factKeys.size < MOST_FACTS ? this.#factKeys.add(bytes, from, to) : -1;
    }
    const column = whole(AT.field);
    // Cross-tabs have another column for every sample.
    if (facts.column !== column) facts = { ...facts, column };
    if (number >= 0) this.#knownFacts[number] = facts;
    this.#lastFacts = number;
    this.#add(sample, name, count, whole(AT.line), facts);
    return facts;
  }

  /** A line that is no record of plain cells: one in quotation marks, a part of one, or a fault. */
  #otherLine(line: string): void {
    const isOpen = this.#open.length > 0;
    if (line === "" && !isOpen) return;
    const isTurned = quotesIn(line) % 2 === 1;
    if (!isOpen && !isTurned) {
      this.#record(line);
      return;
    }
    this.#open.push(line);
    this.#openLength += line.length;
    // A quotation mark that was lost or added would make one record of all that is left.
    if (this.#openLength > LONGEST_OPEN) throw this.#fault("a quotation mark is not closed");
    if (!isOpen || !isTurned) return;
    const record = this.#open.join("\n");
    this.#open = [];
    this.#openLength = 0;
    this.#record(record);
  }

  #record(text: string): void {
    const cells = fieldsOfRecord(
      text,
      (problem) => new FileError(this.#shown, `not a CSV table: line ${this.#line}: ${problem}`),
    );
    if (cells.length !== WIDTH) throw this.#fault(`${cells.length} fields where the header has ${WIDTH}`);
    const sample = this.#samples.numberOf(cells[AT.sample] as string);
    if (sample < 0) throw this.#unknownSample();
    const name = this.#table.names.add(withoutGuard(cells[AT.taxon] as string));
    const facts = { ...this.#readFacts(cells), column: this.#whole(cells[AT.field] as string) };
    this.#add(
      sample,
      name,
      this.#whole(cells[AT.count] as string),
      this.#whole(cells[AT.line] as string),
      facts,
    );
  }

  #add(sample: number, name: number, count: number, line: number, facts: RowFacts): void {
    if (count > LARGEST_COUNT) throw this.#fault("the count is too large");
    this.#table.continueFile(facts.file);
    this.#table.addNumbered(sample, name, count, line, facts);
  }

  #unknownSample(): FileError {
    return this.#fault(`the sample is not in ${RUN_FILES.samples}`);
  }

  #nameIn(bytes: Uint8Array, from: number, to: number): number {
    let number = this.#names.find(bytes, from, to);
    if (number < 0) {
      const known = this.#table.names.add(withoutGuard(textIn(bytes, from, to)));
      number = this.#names.add(bytes, from, to);
      if (number < 0) return known;
      this.#nameNumbers[number] = known;
    }
    return this.#nameNumbers[number] as number;
  }

  #readFacts(cells: readonly string[]): RowFacts {
    return storedFacts({ cells, line: this.#line }, this.#fileNumbers, this.#shown);
  }

  #whole(text: string): number {
    return wholeOf({ cells: [text], line: this.#line }, 0, this.#shown);
  }

  #fault(what: string): FileError {
    return new FileError(this.#shown, `line ${this.#line}: ${what}`);
  }
}

function endOfCell(bytes: Uint8Array, from: number): number {
  let at = from;
  while (CELL_ENDS[bytes[at] as number] === 0) at++;
  return at;
}

function endOfLine(bytes: Uint8Array, from: number): number {
  const feed = bytes.indexOf(LINE_FEED, from);
  return feed < 0 ? bytes.length : feed;
}

function quotesIn(text: string): number {
  let quotes = 0;
  for (let at = text.indexOf('"'); at >= 0; at = text.indexOf('"', at + 1)) quotes++;
  return quotes;
}
