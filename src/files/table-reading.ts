import type { FindingSink } from "../findings/collector.ts";
import { finding, wholeFile } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { FileDigest } from "./digest.ts";
import type { RowBatch } from "./text/records.ts";

/** A cell of the header row. */
export interface HeaderCell {
  /** As written, without white space at its ends. */
  readonly text: string;
  /** As written. */
  readonly raw: string;
  /** 1-based number of the field. */
  readonly column: number;
}

/** How tables are read. */
export interface TableOptions {
  /** The encoding of text files without a byte order mark; UTF-8 when left out. A name `knownEncoding` gives. */
  readonly encoding?: string | undefined;
}

/** Lines of a text table as bytes: all of it is text in the encoding of the table. */
export interface LineBlock {
  readonly bytes: Uint8Array;
  /** The character that parts cells; one byte. */
  readonly delimiter: number;
  /** Line at which the block starts. */
  readonly line: number;
}

/** How far lines of a block could be taken. */
export interface TakenLines {
  /** Offset behind the last line that was taken. */
  readonly end: number;
  readonly lines: number;
}

/**
 * Takes rows straight from the bytes of their lines, which is several times as quick as rows of texts. It stops
 * at the first line that is not plain (a quote, a blank line, a cell that needs a second look): such lines come
 * as rows in `batches`, in their turn.
 */
export interface LineTaker {
  takeLines(block: LineBlock): TakenLines;
}

/** A table being read: its header first, its rows batch by batch. */
export interface TableReading {
  /** How findings name it: the file, for a workbook with `#` and the sheet. */
  readonly place: string;
  /** Empty when the file has no header row to read. */
  readonly header: readonly HeaderCell[];
  readonly headerLine: number;
  /** The first rows below the header that have been read already, to be looked at; they are in `batches` too. */
  readonly ahead: RowBatch;
  /**
   * The rows below the header that are not blank. Can be taken once.
   *
   * @param taker is offered the lines first, where the table has lines; what it takes is not in the batches
   */
  batches(taker?: LineTaker): AsyncIterable<RowBatch>;
  /** True when a fault was met that may hide rows; final when all batches were taken. */
  readonly isBroken: boolean;
  /** Reads what is left of the file and gives its digest. */
  digest(): Promise<FileDigest>;
}

/** A table of which nothing can be read. */
export function refusedTable(
  place: string,
  digest: () => Promise<FileDigest>,
  findings: FindingSink,
  code: FindingCode,
  message: string,
  hint?: string,
): TableReading {
  findings.add(finding(code, wholeFile(place), { message, hint }));
  return {
    place,
    header: [],
    headerLine: 0,
    ahead: { rows: [], lines: { first: 0 } },
    async *batches() {},
    isBroken: true,
    digest,
  };
}
