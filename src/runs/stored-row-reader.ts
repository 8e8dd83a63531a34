import { FileError } from "../files/file-error.ts";
import { withoutGuard } from "../files/formula-guard.ts";
import { saysText, textIn } from "../files/text/byte-text.ts";
import { LONGEST_RECORD } from "../files/text/records.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import type { NumberedFacts, RareFacts, RowTable } from "../model/rows.ts";
import { LARGEST_COUNT, ROW_FLAGS } from "../model/rows.ts";
import { fieldsOfRecord } from "../reference/package-table.ts";
import { CellNumbers } from "../sheets/cell-numbers.ts";
import { endsOfCells } from "./plain-line.ts";
import { RUN_FILES } from "./run-files.ts";
import { wholeOf, wordOf } from "./run-table.ts";
import { STORED_ROW_AT as AT, NUMBER_FACTS, STORED_ROW_COLUMNS, TEXT_FACTS } from "./stored-row-columns.ts";

const WIDTH = STORED_ROW_COLUMNS.length;
const COMMA = 44;
const LINE_FEED = 10;
const QUOTE = 34;
const APOSTROPHE = 39;
/** Bytes before which a cell ends. */
const CELL_ENDS = new Uint8Array(256);
for (const byte of [COMMA, LINE_FEED, QUOTE]) CELL_ENDS[byte] = 1;
/** Rows that say other things beyond these are read anew each time. */
const MOST_FACTS = 1 << 16;
/** No record is longer: the rows of a sheet are not, and their quotation marks are doubled once. */
const LONGEST_OPEN = 4 * LONGEST_RECORD;
/** Digits of the largest whole number that a run holds. */
const MOST_DIGITS = 10;

/** What a row says from its stage to its file. */
interface RowFacts extends NumberedFacts {
  readonly file: number;
}

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
  readonly #samples = new CellNumbers();
  readonly #names = new CellNumbers();
  readonly #factKeys = new CellNumbers();
  readonly #sampleNumbers: number[] = [];
  readonly #nameNumbers: number[] = [];
  readonly #knownFacts: RowFacts[] = [];
  readonly #ends = new Int32Array(WIDTH);
  /** The lines at hand, to be compared some bytes at a time. */
  #view: DataView = new DataView(new ArrayBuffer(0));
  #line = 1;
  #lastSample = -1;
  #lastFacts = -1;
  /** The highest number of a sample that was met; what lies beyond has no row so far. */
  #highest = -1;
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
    this.#shown = shown;
    this.#fileNumbers = fileNumbers;
  }

  /** Reads whole lines, the header not among them. @throws FileError naming the line of a fault */
  take(bytes: Uint8Array): void {
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    let start = 0;
    while (start < bytes.length) {
      this.#line++;
      const isOpen = this.#open.length > 0;
      let end = isOpen ? -1 : this.#likeLast(bytes, start);
      if (end < 0) {
        const plainEnd = isOpen ? -1 : endsOfCells(bytes, start, this.#ends);
        const isPlain = plainEnd >= 0;
        end = isPlain ? plainEnd : endOfLine(bytes, start);
        if (isPlain) this.#plainRow(bytes, start);
        else this.#otherLine(textIn(bytes, start, end));
      }
      start = end + 1;
    }
  }

  /** Says that no line follows. @throws FileError when a record has not ended */
  end(): void {
    if (this.#open.length > 0) this.#record(this.#open.join("\n"));
  }

  /**
   * Adds the row of a line that says the same as the one before from its stage to its file, as most do: what is the
   * same is compared and not looked for.
   *
   * @returns where the line ends; -1, with nothing added, for any other line
   */
  #likeLast(bytes: Uint8Array, start: number): number {
    const facts = this.#knownFacts[this.#lastFacts];
    if (facts === undefined) return -1;
    // Rows lie sample by sample.
    let afterSample = this.#samples.endOf(this.#lastSample, this.#view, bytes.length, start);
    const isSameSample = bytes[afterSample] === COMMA;
    if (!isSameSample) {
      this.#samples.findFrom(bytes, start, CELL_ENDS);
      afterSample = this.#samples.end;
    }
    if (bytes[afterSample] !== COMMA) return -1;
    const from = afterSample + 1;
    const name = this.#names.findFrom(bytes, from, CELL_ENDS);
    const to = this.#names.end;
    if (bytes[to] !== COMMA) return -1;
    const count = this.#digits(bytes, to + 1, COMMA);
    if (count < 0 || count > LARGEST_COUNT) return -1;
    const afterFacts = this.#factKeys.endOf(this.#lastFacts, this.#view, bytes.length, this.#end + 1);
    if (afterFacts < 0 || bytes[afterFacts] !== COMMA) return -1;
    const line = this.#digits(bytes, afterFacts + 1, COMMA);
    if (line < 0) return -1;
    const column = this.#digits(bytes, this.#end + 1, LINE_FEED);
    if (column !== facts.column) return -1;
    const end = this.#end;
    const sample = isSameSample
      ? (this.#sampleNumbers[this.#lastSample] as number)
      : this.#sampleIn(bytes, start, afterSample);
    const nameNumber = name < 0 ? this.#nameIn(bytes, from, to) : (this.#nameNumbers[name] as number);
    this.#add(sample, nameNumber, count, line, facts);
    return end;
  }

  /** A whole number in plain digits up to a byte, whose place is left in `#end`; -1 for anything else. */
  #digits(bytes: Uint8Array, from: number, until: number): number {
    let number = 0;
    let at = from;
    for (; at < from + MOST_DIGITS; at++) {
      const digit = (bytes[at] as number) - 48;
      // Beyond the last byte this is no number and so no digit.
      if (!(digit >= 0 && digit <= 9)) break;
      number = number * 10 + digit;
    }
    this.#end = at;
    if (bytes[at] !== until || at === from || (at > from + 1 && bytes[from] === 48)) return -1;
    return number;
  }

  /** Where the number looked at ends. */
  #end = 0;

  #plainRow(bytes: Uint8Array, start: number): void {
    const ends = this.#ends;
    const startOf = (column: number) => (column === 0 ? start : (ends[column - 1] as number) + 1);
    const endOf = (column: number) => ends[column] as number;
    const whole = (column: number) => this.#whole(textIn(bytes, startOf(column), endOf(column)));

    const sample = this.#sampleIn(bytes, start, endOf(AT.sample));
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
    const sample = this.#sampleNumber(withoutGuard(cells[AT.sample] as string));
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

  #sampleIn(bytes: Uint8Array, from: number, to: number): number {
    // Rows lie sample by sample.
    if (!this.#samples.is(this.#lastSample, bytes, from, to)) {
      const isNext = this.#isNext(bytes, from, to);
      let number = isNext ? -1 : this.#samples.find(bytes, from, to);
      if (number < 0) {
        const known = isNext ? this.#highest + 1 : this.#sampleNumber(withoutGuard(textIn(bytes, from, to)));
        this.#highest = Math.max(this.#highest, known);
        number = this.#samples.add(bytes, from, to);
        if (number < 0) return known;
        this.#sampleNumbers[number] = known;
      }
      this.#lastSample = number;
    }
    return this.#sampleNumbers[this.#lastSample] as number;
  }

  /** Whether a cell is the id of the sample behind the last one met, as it is nearly always when another begins. */
  #isNext(bytes: Uint8Array, from: number, to: number): boolean {
    const { samples } = this.#table;
    const next = this.#highest + 1;
    // An apostrophe may be a guard.
    return (
      next < samples.size && bytes[from] !== APOSTROPHE && saysText(bytes, from, to, samples.textOf(next))
    );
  }

  #sampleNumber(id: string): number {
    const number = this.#table.samples.numberOf(id);
    if (number === undefined) throw this.#fault(`the sample is not in ${RUN_FILES.samples}`);
    return number;
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
    const file = this.#fileNumbers.get(withoutGuard(cells[AT.file] as string));
    if (file === undefined) throw this.#fault("the file is none of the inputs in run.json");
    const row = { cells, line: this.#line };
    const stage = cells[AT.stage] === "" ? "unknown" : wordOf(row, AT.stage, LIFE_STAGES, this.#shown);
    const flag = (at: number, word: string, bit: number) =>
      wordOf(row, at, ["", word], this.#shown) === "" ? 0 : bit;
    const distinct = wordOf(row, AT.distinct, ["", "yes", "no"], this.#shown);
    const flags =
      flag(AT.part, "large-rare", ROW_FLAGS.largeRare) |
      flag(AT.disposition, "released", ROW_FLAGS.released) |
      flag(AT.basis, "expanded", ROW_FLAGS.expanded) |
      (distinct === "yes" ? ROW_FLAGS.distinctYes : distinct === "no" ? ROW_FLAGS.distinctNo : 0);
    return { file, stage: LIFE_STAGES.indexOf(stage), flags, rare: this.#rareOf(cells), column: 0 };
  }

  #rareOf(cells: readonly string[]): RareFacts | undefined {
    const facts: { -readonly [Key in keyof RareFacts]: RareFacts[Key] } = {};
    let isAny = false;
    NUMBER_FACTS.forEach(([, key], index) => {
      const text = cells[AT.firstNumber + index] as string;
      if (text === "") return;
      facts[key] = this.#whole(text);
      isAny = true;
    });
    TEXT_FACTS.forEach(([, key], index) => {
      const text = withoutGuard(cells[AT.firstText + index] as string);
      if (text === "") return;
      facts[key] = text;
      isAny = true;
    });
    return isAny ? facts : undefined;
  }

  #whole(text: string): number {
    return wholeOf({ cells: [text], line: this.#line }, 0, this.#shown);
  }

  #fault(what: string): FileError {
    return new FileError(this.#shown, `line ${this.#line}: ${what}`);
  }
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
