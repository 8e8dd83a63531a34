import type { FindingSink } from "../../findings/collector.ts";
import { finding } from "../../findings/finding.ts";
import type { FileDigest } from "../digest.ts";
import { PackedFileError } from "../packed-file-error.ts";
import { type LineTaker, refusedTable, type TableReading } from "../table-reading.ts";
import { BlankRows, isBlank } from "./blank-rows.ts";
import { declaredDelimiter, findDelimiter } from "./delimiter.ts";
import { type BadBytes, decodeText } from "./encoding.ts";
import { headerCells } from "./header-row.ts";
import { LineBlocks } from "./line-blocks.ts";
import { PlainLines } from "./plain-lines.ts";
import type { BrokenRecord, RowBatch } from "./records.ts";
import { LONGEST_RECORD, lineOf, RecordReader } from "./records.ts";

type Piece = string | BadBytes;

/** How much text is looked at to find the delimiter, and a header below the first row. */
const HEAD_LENGTH = 1 << 14;

/**
 * Opens delimited text: finds the delimiter, reads the header, then gives the rows.
 *
 * @param chunks the bytes without a byte order mark
 */
export async function openDelimited(
  place: string,
  chunks: AsyncIterable<Uint8Array>,
  encoding: string,
  digest: () => Promise<FileDigest>,
  findings: FindingSink,
): Promise<TableReading> {
  const reading = new DelimitedReading(place, chunks, encoding, digest, findings);
  await reading.open();
  if (reading.header.length > 0 || reading.isBroken) return reading;
  const message = reading.hadText ? "the file holds only blank lines" : "the file holds nothing but a mark";
  return refusedTable(place, digest, findings, "empty-file", message);
}

class DelimitedReading implements TableReading {
  readonly place: string;
  header: TableReading["header"] = [];
  headerLine = 0;
  isBroken = false;
  hadText = false;
  readonly digest: () => Promise<FileDigest>;
  readonly #blocks: LineBlocks;
  readonly #pieces: AsyncGenerator<Piece>;
  readonly #encoding: string;
  readonly #findings: FindingSink;
  readonly #blankRows: BlankRows;
  #delimiter = ",";
  #reader = new RecordReader(",");
  #ahead: Piece[] = [];
  #first: RowBatch | undefined;
  #isEnded = false;

  constructor(
    place: string,
    chunks: AsyncIterable<Uint8Array>,
    encoding: string,
    digest: () => Promise<FileDigest>,
    findings: FindingSink,
  ) {
    this.place = place;
    this.#blocks = new LineBlocks(chunks, PlainLines.canBeIn(encoding));
    this.#pieces = decodeText(this.#blocks, encoding);
    this.#encoding = encoding;
    this.digest = digest;
    this.#findings = findings;
    this.#blankRows = new BlankRows(place);
  }

  async open(): Promise<void> {
    this.#startReader(await this.#lookAhead());
    for (let batch = await this.#nextBatch(); batch !== undefined; batch = await this.#nextBatch()) {
      const at = batch.rows.findIndex((row) => !isBlank(row));
      const header = batch.rows[at];
      if (header === undefined) continue;
      this.headerLine = lineOf(batch.lines, at);
      this.header = headerCells(header);
      const lines = "first" in batch.lines ? { first: this.headerLine + 1 } : batch.lines.slice(at + 1);
      this.#first = { rows: batch.rows.slice(at + 1), lines };
      return;
    }
  }

  get ahead(): RowBatch {
    return this.#first ?? { rows: [], lines: { first: 0 } };
  }

  async *batches(taker?: LineTaker): AsyncGenerator<RowBatch> {
    if (this.header.length === 0) return;
    const plain = taker && PlainLines.of(this.#blocks, this.#encoding, this.#delimiter, taker);
    let count = 0;
    let batch = this.#first;
    while (batch !== undefined) {
      const filled = this.#blankRows.withoutBlanks(batch);
      count += filled.rows.length;
      if (filled.rows.length > 0) yield filled;
      // Only where nothing has been decoded that is not read yet.
      if (plain !== undefined && this.#ahead.length === 0 && !this.isBroken)
        count += await plain.take(this.#reader, this.#blankRows);
      batch = await this.#nextBatch();
    }
    this.#blankRows.report(this.#findings);
    this.#reportStray();
    if (count === 0 && !this.isBroken) {
      const at = { file: this.place, line: this.headerLine, column: 0 };
      this.#findings.add(finding("no-rows", at, { message: "there is a header and no row below it" }));
    }
  }

  /** Rows that became whole with the next piece of text; undefined at the end. */
  async #nextBatch(): Promise<RowBatch | undefined> {
    if (this.#isEnded) return undefined;
    const piece = await this.#nextPiece();
    if (piece === undefined || this.#reader.broken !== undefined) {
      this.#isEnded = true;
      const last = this.#reader.end();
      if (this.#reader.broken !== undefined) this.#reportBroken(this.#reader.broken);
      return last;
    }
    if (typeof piece === "string") return this.#reader.push(piece);
    this.#reportBadByte(piece.badByte);
    return { rows: [], lines: { first: 0 } };
  }

  async #nextPiece(): Promise<Piece | undefined> {
    return this.#ahead.length > 0 ? (this.#ahead.shift() ?? undefined) : this.#pull();
  }

  async #pull(): Promise<Piece | undefined> {
    try {
      const step = await this.#pieces.next();
      return step.done === true ? undefined : step.value;
    } catch (error) {
      if (!(error instanceof PackedFileError)) throw error;
      this.isBroken = true;
      const { line, field } = this.#reader.position();
      this.#add("bad-gzip", line, field, error.message);
      return undefined;
    }
  }

  async #lookAhead(): Promise<string> {
    let text = "";
    while (text.length < HEAD_LENGTH) {
      const piece = await this.#pull();
      if (piece === undefined) break;
      this.#ahead.push(piece);
      if (typeof piece === "string") text += piece;
    }
    this.hadText = text !== "";
    // In whatever pieces the text came, the same of it is looked at.
    this.#ahead = partedAt(HEAD_LENGTH, this.#ahead);
    return text.slice(0, HEAD_LENGTH);
  }

  #startReader(head: string): void {
    const firstLine = /^[^\r\n]*(\r\n|\n|\r)?/.exec(head)?.[0] ?? "";
    const declared = declaredDelimiter(firstLine.replace(/[\r\n]+$/, ""));
    this.#delimiter = declared ?? findDelimiter(head);
    this.#reader = new RecordReader(this.#delimiter, declared === undefined ? 1 : 2);
    if (declared === undefined) return;
    // The line that declares the delimiter is no row.
    let left = firstLine.length;
    this.#ahead = this.#ahead.map((piece) => {
      if (typeof piece !== "string") return piece;
      const cut = Math.min(left, piece.length);
      left -= cut;
      return piece.slice(cut);
    });
  }

  #reportBadByte(byte: number): void {
    this.isBroken = true;
    const { line, field } = this.#reader.position();
    const shown = `0x${byte.toString(16).toUpperCase().padStart(2, "0")}`;
    this.#add("bad-encoding", line, field, `byte ${shown} is not ${this.#encoding.toUpperCase()}`);
  }

  #reportBroken(broken: BrokenRecord): void {
    this.isBroken = true;
    const { line, field } = broken;
    switch (broken.kind) {
      case "unclosed":
        this.#add("broken-quoting", line, field, "a quote opens here and is never closed");
        return;
      case "after-closing":
        this.#add("broken-quoting", line, field, "text follows the quote that closes this cell");
        return;
      case "too-long":
        this.#add("too-long", line, field, `a row is longer than ${LONGEST_RECORD / 2 ** 20} MiB`);
    }
  }

  #reportStray(): void {
    const stray = this.#reader.stray;
    if (stray === undefined) return;
    const what =
      stray.count === 1
        ? "a quote stands within a cell that does not start with one"
        : `${stray.count} quotes stand within cells that do not start with one, the first here`;
    this.#add("stray-quote", stray.line, stray.field, `${what}; taken as it stands`);
  }

  #add(
    code: "bad-encoding" | "bad-gzip" | "broken-quoting" | "stray-quote" | "too-long",
    line: number,
    column: number,
    message: string,
  ): void {
    this.#findings.add(finding(code, { file: this.place, line, column }, { message }));
  }
}

/** The same pieces, those of text joined where they follow one another, and parted where `length` characters end. */
function partedAt(length: number, pieces: readonly Piece[]): Piece[] {
  const parted: Piece[] = [];
  let left = length;
  let isOpen = false;
  const add = (text: string) => {
    if (isOpen) parted.push(`${parted.pop()}${text}`);
    else if (text !== "") parted.push(text);
    isOpen = text !== "" || isOpen;
  };
  for (const piece of pieces) {
    if (typeof piece !== "string") {
      parted.push(piece);
      isOpen = false;
      continue;
    }
    add(piece.slice(0, left));
    if (piece.length >= left && left > 0) isOpen = false;
    add(piece.slice(left));
    left = Math.max(0, left - piece.length);
  }
  return parted;
}
