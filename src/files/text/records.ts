import { parse } from "csv-parse/sync";
import { scanQuotes } from "./quotes.ts";
import { RecordEnds } from "./record-ends.ts";

/** Some rows of a table, with the line on which each starts. */
export interface RowBatch {
  readonly rows: readonly (readonly string[])[];
  /** Line of each row; a row with line breaks in its cells takes several. */
  readonly lines: LineNumbers;
}

/** Lines of the rows of a batch, kept as one number where rows follow each other line by line. */
export type LineNumbers = { readonly first: number } | readonly number[];

/** The line on which a row of a batch starts. */
export function lineOf(lines: LineNumbers, row: number): number {
  return "first" in lines ? lines.first + row : (lines[row] ?? 0);
}

/** A fault after which rows cannot be told apart any more. */
export interface BrokenRecord {
  readonly kind: "unclosed" | "after-closing" | "too-long";
  readonly line: number;
  readonly field: number;
}

/** Quotes in cells that do not start with one. */
export interface StrayQuotes {
  readonly count: number;
  readonly line: number;
  readonly field: number;
}

/** Longest record; more is a quote that is not closed or no table at all. */
export const LONGEST_RECORD = 1 << 20;

/**
 * Cuts decoded text into rows, whatever pieces it comes in and whichever line ends it has (CRLF, LF, CR, mixed).
 * Records without a quote are split right here, which is several times as quick; those with quotes go to
 * csv-parse.
 */
export class RecordReader {
  readonly #delimiter: string;
  /** Text of the record that has not ended yet. */
  #rest = "";
  readonly #ends: RecordEnds;
  /** Line on which `#rest` starts. */
  #line: number;
  #broken: BrokenRecord | undefined;
  #stray: StrayQuotes | undefined;

  constructor(delimiter: string, firstLine = 1) {
    this.#delimiter = delimiter;
    this.#ends = new RecordEnds(delimiter);
    this.#line = firstLine;
  }

  /** The fault that ended the reading, when there was one. */
  get broken(): BrokenRecord | undefined {
    return this.#broken;
  }

  /** The quotes so far that stand within cells and are read as they are; the place is that of the first. */
  get stray(): StrayQuotes | undefined {
    return this.#stray;
  }

  /** Line on which the next record starts, or the one that has not ended yet. */
  get line(): number {
    return this.#line;
  }

  /** Whether the text so far ends with a record: the next character starts one. */
  get isBetweenRecords(): boolean {
    return this.#rest === "" && this.#broken === undefined;
  }

  /** Passes over lines that were read by someone else, each a record. */
  skipLines(lines: number): void {
    this.#line += lines;
  }

  /** Takes the next piece of text and gives the rows that are whole by now. */
  push(text: string): RowBatch {
    if (this.#broken !== undefined) return NO_ROWS;
    const cut = this.#ends.last(text);
    if (cut < 0) {
      this.#rest += text;
      if (this.#rest.length > LONGEST_RECORD) return this.#breakOff(this.#rest);
      return NO_ROWS;
    }
    const whole = this.#rest + text.slice(0, cut);
    this.#rest = text.slice(cut);
    return this.#rowsOf(whole);
  }

  /** The rows that are left when the text has ended. */
  end(): RowBatch {
    if (this.#broken !== undefined || this.#rest === "") return NO_ROWS;
    const whole = this.#rest;
    this.#rest = "";
    return this.#rowsOf(whole);
  }

  /** Where the next character belongs: a line and the 1-based number of a field. */
  position(): { readonly line: number; readonly field: number } {
    const { field, lineBreaks } = endOfRecordPart(this.#rest, this.#delimiter);
    return { line: this.#line + lineBreaks, field };
  }

  #rowsOf(whole: string): RowBatch {
    const start = this.#line;
    if (!whole.includes('"')) {
      const rows = this.#plainRows(whole);
      this.#line = start + rows.length;
      return { rows, lines: { first: start } };
    }
    const { fault, stray, stretches } = scanQuotes(whole, this.#delimiter);
    if (fault !== undefined) return this.#breakOff(whole);
    if (stray.first !== undefined)
      this.#noteStray(stray.count, whole.slice(0, stray.first.at), stray.first.field);
    const rows: string[][] = [];
    const lines: number[] = [];
    for (const { start, end, isQuoted } of stretches) {
      const text = whole.slice(start, end);
      for (const row of isQuoted ? this.#quotedRows(text) : this.#plainRows(text)) {
        rows.push(row);
        lines.push(this.#line);
        this.#line += 1 + (isQuoted ? lineBreaksWithin(row) : 0);
      }
    }
    return { rows, lines };
  }

  /** Rows of whole records without a quote. */
  #plainRows(text: string): string[][] {
    const lines = text.includes("\r") ? text.split(/\r\n|\n|\r/) : text.split("\n");
    if (lines[lines.length - 1] === "") lines.pop();
    const rows: string[][] = [];
    for (const line of lines) rows.push(line.split(this.#delimiter));
    return rows;
  }

  /** Rows of whole records, some of them with quotes. */
  #quotedRows(text: string): string[][] {
    return parse(text, {
      delimiter: this.#delimiter,
      record_delimiter: ["\r\n", "\n", "\r"],
      relax_column_count: true,
      relax_quotes: true,
      skip_empty_lines: false,
      bom: false,
    });
  }

  /** Keeps the rows before the fault and stops there. */
  #breakOff(text: string): RowBatch {
    const { fault } = scanQuotes(text, this.#delimiter);
    const good = text.slice(0, fault?.recordStart ?? 0);
    const batch = good === "" ? NO_ROWS : this.#rowsOf(good);
    const before = text.slice(good.length, fault?.at ?? good.length);
    this.#broken = {
      kind: fault?.kind ?? "too-long",
      line: this.#line + lineBreaksIn(before),
      field: fault?.field ?? 1,
    };
    this.#rest = "";
    return batch;
  }

  #noteStray(count: number, before: string, field: number): void {
    const known = this.#stray;
    this.#stray =
      known === undefined
        ? { count, line: this.#line + lineBreaksIn(before), field }
        : { ...known, count: known.count + count };
  }
}

const NO_ROWS: RowBatch = { rows: [], lines: { first: 0 } };

function lineBreaksWithin(row: readonly string[]): number {
  let breaks = 0;
  for (const cell of row) {
    if (cell.includes("\n") || cell.includes("\r")) breaks += lineBreaksIn(cell);
  }
  return breaks;
}

function lineBreaksIn(text: string): number {
  let breaks = 0;
  for (let at = 0; at < text.length; at++) {
    const unit = text.charCodeAt(at);
    if (unit === 10 || (unit === 13 && text.charCodeAt(at + 1) !== 10)) breaks++;
  }
  return breaks;
}

function endOfRecordPart(text: string, delimiter: string): { field: number; lineBreaks: number } {
  const { fault } = scanQuotes(text, delimiter);
  // Within a cell in quotes, its own field; else the text up to here holds whole cells and one that goes on.
  if (fault?.kind === "unclosed") return { field: fault.field, lineBreaks: lineBreaksIn(text) };
  let field = 1;
  let isQuoted = false;
  for (let at = 0; at < text.length; at++) {
    const starts = at === 0 || text[at - 1] === delimiter;
    if (text[at] === '"' && (isQuoted || starts)) isQuoted = !isQuoted;
    else if (text[at] === delimiter && !isQuoted) field++;
  }
  return { field, lineBreaks: lineBreaksIn(text) };
}
