import { numberText } from "../../model/number-text.ts";
import { withGuard } from "../formula-guard.ts";
import { LONGEST_DECIMAL, writeDecimal } from "./decimal-bytes.ts";
import type { Cell, OutputColumn, OutputRow } from "./define.ts";
import { delimitedText } from "./delimited-text.ts";
import type { KeptCells } from "./kept-cells.ts";
import { WORD_BYTES } from "./kept-cells.ts";
import { NOT_PLAIN, putPlainCell } from "./plain-cell.ts";

/** Room that a new page has; it grows for a row that is longer. */
const PAGE_BYTES = 1 << 17;
/** A page that has become larger is given up when it was taken. */
const LARGEST_KEPT = 1 << 20;
/** Digits of the numbers that are written digit by digit. */
const MOST_DIGITS = 9;
/** A unit of UTF-16 takes no more bytes of UTF-8. */
const BYTES_A_UNIT = 3;
const FEED_BYTE = 10;
const ZERO_BYTE = 48;
const DIGITS_END = 10 ** MOST_DIGITS;
/** More than any number takes that is written, about 300 digits and a sign. */
const LONGEST_NUMBER = 512;
/** Kept parts are words as they lie in the memory of this machine. */
const IS_LITTLE_ENDIAN = new Uint8Array(new Uint32Array([1]).buffer)[0] === 1;

/**
 * Makes rows of delimited text as bytes, one page of them after the other. Rows of plain ASCII, nearly all, are
 * written as they stand while they are looked at; a row with any other character goes to `delimitedText`.
 */
export class RowBytes {
  readonly #isText: readonly boolean[];
  readonly #delimiter: "," | "\t";
  readonly #delimiterByte: number;
  #page: Buffer = Buffer.allocUnsafeSlow(PAGE_BYTES);
  #view = viewOf(this.#page);
  #end = 0;

  constructor(columns: readonly OutputColumn[], delimiter: "," | "\t") {
    this.#isText = columns.map((column) => column.kind === "text");
    this.#delimiter = delimiter;
    this.#delimiterByte = delimiter.charCodeAt(0);
  }

  /** Bytes that are not taken yet. */
  get length(): number {
    return this.#end;
  }

  /** The bytes so far, good until the next row is added. */
  take(): Uint8Array {
    const bytes = this.#page.subarray(0, this.#end);
    this.#end = 0;
    if (this.#page.length > LARGEST_KEPT) this.#setPage(Buffer.allocUnsafeSlow(PAGE_BYTES));
    return bytes;
  }

  /**
   * @throws RangeError for a number that is not finite, or cells that are more or fewer than the columns; the
   *   bytes are then as they were
   */
  add(cells: OutputRow): void {
    const columns = this.#isText.length;
    if (cells.length !== columns)
      throw new RangeError(`a row has ${cells.length} cells, the header ${columns}`);
    // An empty cell that is alone would be a blank line.
    if (columns < 2 || !this.#addPlain(cells)) this.addTexts(cells.map(this.#textOf));
  }

  /** Adds a row whose cells are texts that need no guard. */
  addTexts(cells: readonly string[]): void {
    const line = delimitedText([cells], this.#delimiter);
    this.#makeRoom(this.#end, line.length * BYTES_A_UNIT);
    this.#end += this.#page.write(line, this.#end, "utf8");
  }

  /**
   * Adds a row of a number between parts that are kept: two in front of it, one that ends the row behind.
   *
   * @throws RangeError for a number that is not finite; the bytes are then as they were
   */
  addKept(
    front: KeptCells,
    frontPart: number,
    middle: KeptCells,
    middlePart: number,
    number: number,
    back: KeptCells,
    backPart: number,
  ): void {
    const frontWords = front.words;
    const middleWords = middle.words;
    const backWords = back.words;
    const parts =
      (frontWords[frontPart] as number) +
      (middleWords[middlePart] as number) +
      (backWords[backPart] as number);
    // The last word of a part may go beyond its end.
    this.#makeRoom(this.#end, parts + LONGEST_NUMBER + WORD_BYTES);
    const view = this.#view;
    let at = copyPart(frontWords, frontPart, view, this.#end);
    at = copyPart(middleWords, middlePart, view, at);
    if (number >= 0 && number < 10 && Number.isInteger(number)) {
      // Most counts: one digit.
      this.#page[at++] = ZERO_BYTE + number;
    } else if (isShortNumber(number)) at = writeDigits(this.#page, at, number);
    else at += this.#page.write(numberText(number), at, "latin1");
    this.#page[at++] = this.#delimiterByte;
    this.#end = copyPart(backWords, backPart, view, at);
  }

  readonly #textOf = (cell: Cell, at: number): string => {
    if (cell === null) return "";
    if (typeof cell === "number") return numberText(cell);
    return this.#isText[at] === true ? withGuard(cell) : cell;
  };

  /** False, with nothing added, for a row that is not plain. */
  #addPlain(cells: OutputRow): boolean {
    const isText = this.#isText;
    let at = this.#end;
    for (let column = 0; column < cells.length; column++) {
      const cell = cells[column] ?? "";
      if (typeof cell === "number" && isShortNumber(cell)) {
        this.#makeRoom(at, MOST_DIGITS + 1);
        at = writeDigits(this.#page, at, cell);
        this.#page[at++] = this.#delimiterByte;
        continue;
      }
      if (typeof cell === "number") {
        this.#makeRoom(at, LONGEST_DECIMAL + 1);
        const end = writeDecimal(this.#page, at, cell);
        if (end >= 0) {
          at = end;
          this.#page[at++] = this.#delimiterByte;
          continue;
        }
      }
      const text = typeof cell === "number" ? numberText(cell) : cell;
      this.#makeRoom(at, text.length + 1);
      at = putPlainCell(text, typeof cell === "string" && isText[column] === true, this.#page, at);
      if (at === NOT_PLAIN) return false;
      this.#page[at++] = this.#delimiterByte;
    }
    this.#page[at - 1] = FEED_BYTE;
    this.#end = at;
    return true;
  }

  #setPage(page: Buffer): void {
    this.#page = page;
    this.#view = viewOf(page);
  }

  /** Room for `bytes` more from `at` on; what lies before it is kept. */
  #makeRoom(at: number, bytes: number): void {
    if (at + bytes <= this.#page.length) return;
    const larger = Buffer.allocUnsafeSlow(Math.max(this.#page.length * 2, at + bytes));
    larger.set(this.#page.subarray(0, at));
    this.#setPage(larger);
  }
}

function viewOf(page: Buffer): DataView {
  return new DataView(page.buffer, page.byteOffset, page.length);
}

/** Copies a part by whole words, so up to three bytes more are written behind it. @returns its end */
function copyPart(words: Int32Array, part: number, view: DataView, at: number): number {
  const end = at + (words[part] as number);
  let word = part;
  for (let to = at; to < end; to += WORD_BYTES) view.setInt32(to, words[++word] as number, IS_LITTLE_ENDIAN);
  return end;
}

/** Whether a number is written digit by digit. */
function isShortNumber(number: number): boolean {
  return number >= 0 && number < DIGITS_END && Number.isInteger(number);
}

/** Writes a whole number from 0 on. @returns the place behind it */
function writeDigits(page: Uint8Array, at: number, number: number): number {
  let digits = 1;
  for (let least = 10; number >= least; least *= 10) digits++;
  const end = at + digits;
  let rest = number;
  for (let place = end - 1; place >= at; place--) {
    const tenth = (rest / 10) | 0;
    page[place] = ZERO_BYTE + rest - tenth * 10;
    rest = tenth;
  }
  return end;
}
