import { isAscii, isUtf8 } from "node:buffer";
import type { LineTaker, TakenLines } from "../table-reading.ts";
import type { BlankRows } from "./blank-rows.ts";
import type { LineBlocks } from "./line-blocks.ts";
import type { RecordReader } from "./records.ts";

const LINE_FEED = 10;
/** So many lines at most go the slow way for one that is not plain. */
const MOST_LINES = 4096;
/** So many plain lines in a row say that the ones that are not are few. */
const FEW_BETWEEN = 64;

const NOTHING: TakenLines = { end: 0, lines: 0 };

/**
 * The quick way through a table of lines: offers them to a taker as bytes, and leaves those that it does not take
 * to be decoded and cut into records as any others. The two ways take turns, at line ends only.
 */
export class PlainLines {
  readonly #blocks: LineBlocks;
  readonly #encoding: string;
  readonly #delimiter: number;
  readonly #taker: LineTaker;
  /** Lines that go the slow way next time; doubled where plain lines are rare, since each turn costs time. */
  #slowLines = 1;
  #taken = 0;

  private constructor(blocks: LineBlocks, encoding: string, delimiter: string, taker: LineTaker) {
    this.#blocks = blocks;
    this.#encoding = encoding;
    this.#delimiter = delimiter.charCodeAt(0);
    this.#taker = taker;
  }

  /** Whether the encoding writes line ends, delimiters and digits as the bytes of ASCII, and nothing else so. */
  static canBeIn(encoding: string): boolean {
    return encoding === "utf-8" || encoding === "windows-1252";
  }

  /** The quick way, where the encoding allows one. */
  static of(
    blocks: LineBlocks,
    encoding: string,
    delimiter: string,
    taker: LineTaker,
  ): PlainLines | undefined {
    return PlainLines.canBeIn(encoding) ? new PlainLines(blocks, encoding, delimiter, taker) : undefined;
  }

  /**
   * Takes lines until one is not plain; what follows then waits in the blocks.
   *
   * @param reader is told of the lines it need not read; nothing is taken while it is within a record
   * @returns how many lines were taken, each a row
   */
  async take(reader: RecordReader, blankRows: BlankRows): Promise<number> {
    let rows = 0;
    for (let block = await this.#next(); block !== undefined; block = await this.#next()) {
      const isOffered = reader.isBetweenRecords && this.#isText(block);
      const { end, lines } = isOffered
        ? this.#taker.takeLines({ bytes: block, delimiter: this.#delimiter, line: reader.line })
        : NOTHING;
      reader.skipLines(lines);
      if (lines > 0) blankRows.rowsFollow();
      rows += lines;
      this.#taken += lines;
      if (end === block.length) continue;
      this.#leave(block, end);
      return rows;
    }
    return rows;
  }

  /** Puts back the lines that are to go the slow way, and the rest behind them. */
  #leave(block: Uint8Array, from: number): void {
    this.#slowLines = this.#taken > FEW_BETWEEN ? 1 : Math.min(this.#slowLines * 2, MOST_LINES);
    this.#taken = 0;
    let end = from;
    for (let line = 0; line < this.#slowLines; line++) {
      const feed = block.indexOf(LINE_FEED, end);
      if (feed < 0) break;
      end = feed + 1;
    }
    if (end === from) end = block.length;
    this.#blocks.putBack(block.subarray(end));
    this.#blocks.putBack(block.subarray(from, end));
  }

  #isText(block: Uint8Array): boolean {
    return this.#encoding === "utf-8" ? isUtf8(block) : isAscii(block);
  }

  /** A block; undefined at the end, and where reading fails: the slow way then meets the failure and reports it. */
  async #next(): Promise<Uint8Array | undefined> {
    try {
      return await this.#blocks.next();
    } catch {
      return undefined;
    }
  }
}
