import { numberText } from "../../model/number-text.ts";
import { withGuard } from "../formula-guard.ts";
import type { Cell } from "./define.ts";
import { delimitedText } from "./delimited-text.ts";
import { NOT_PLAIN, putPlainCell } from "./plain-cell.ts";

/** A unit of UTF-16 takes no more bytes of UTF-8. */
const BYTES_A_UNIT = 3;
export const WORD_BYTES = 4;
const START_WORDS = 256;
const FEED_BYTE = 10;

/**
 * Parts of rows of delimited text that are written again and again, kept as bytes: one cell or some that follow each
 * other, quoted and guarded as they are in any row, with what stands behind them. They lie in words of four bytes,
 * which are quicker to copy.
 */
export class KeptCells {
  readonly #delimiter: "," | "\t";
  readonly #delimiterByte: number;
  #words = new Int32Array(START_WORDS);
  #bytes = Buffer.from(this.#words.buffer);
  #end = 0;

  constructor(delimiter: "," | "\t") {
    this.#delimiter = delimiter;
    this.#delimiterByte = delimiter.charCodeAt(0);
  }

  /** Of each part its number of bytes, then the bytes. */
  get words(): Int32Array {
    return this.#words;
  }

  /** Forgets all parts. */
  clear(): void {
    this.#end = 0;
  }

  /**
   * Keeps cells; texts among them are of columns of text.
   *
   * @param isEnd they are the last ones of their rows
   * @returns the part: its place in `words`; that of the first is 0
   */
  keep(cells: readonly Cell[], isEnd: boolean): number {
    const part = this.#end;
    const start = part + 1;
    let end = this.#putPlain(cells, isEnd, start * WORD_BYTES);
    if (end === NOT_PLAIN) end = this.#put(cells, isEnd, start * WORD_BYTES);
    this.#words[part] = end - start * WORD_BYTES;
    this.#end = Math.ceil(end / WORD_BYTES);
    return part;
  }

  #putPlain(cells: readonly Cell[], isEnd: boolean, start: number): number {
    let at = start;
    for (let cell = 0; cell < cells.length; cell++) {
      const given = cells[cell] ?? "";
      const text = typeof given === "number" ? numberText(given) : given;
      this.#makeRoom(at + text.length + 1);
      at = putPlainCell(text, typeof given === "string", this.#bytes, at);
      if (at === NOT_PLAIN) return NOT_PLAIN;
      this.#bytes[at++] = isEnd && cell === cells.length - 1 ? FEED_BYTE : this.#delimiterByte;
    }
    return at;
  }

  #put(cells: readonly Cell[], isEnd: boolean, start: number): number {
    const texts = cells.map((cell) =>
      cell === null ? "" : typeof cell === "number" ? numberText(cell) : withGuard(cell),
    );
    // An empty cell behind them gives their delimiter, one in front keeps a last cell from being alone in its row.
    const text = isEnd
      ? delimitedText([["", ...texts]], this.#delimiter).slice(1)
      : delimitedText([[...texts, ""]], this.#delimiter).slice(0, -1);
    this.#makeRoom(start + text.length * BYTES_A_UNIT);
    return start + this.#bytes.write(text, start, "utf8");
  }

  #makeRoom(bytes: number): void {
    if (bytes <= this.#bytes.length) return;
    const larger = new Int32Array(Math.max(this.#words.length * 2, Math.ceil(bytes / WORD_BYTES)));
    larger.set(this.#words);
    this.#words = larger;
    this.#bytes = Buffer.from(larger.buffer);
  }
}
