import { numberText } from "../../model/number-text.ts";
import { withGuard } from "../formula-guard.ts";
import type { Cell } from "./define.ts";
import { delimitedText } from "./delimited-text.ts";

/** A unit of UTF-16 takes no more bytes of UTF-8. */
const BYTES_A_UNIT = 3;
export const WORD_BYTES = 4;
const START_WORDS = 256;

/**
 * Parts of rows of delimited text that are written again and again, kept as bytes: one cell or some that follow each
 * other, quoted and guarded as they are in any row, with what stands behind them. A part is put into a row by its
 * number. They lie in words of four bytes, which are quicker to copy.
 */
export class KeptCells {
  readonly #delimiter: "," | "\t";
  #words = new Int32Array(START_WORDS);
  #end = 0;
  readonly #starts: number[] = [];
  readonly #lengths: number[] = [];

  constructor(delimiter: "," | "\t") {
    this.#delimiter = delimiter;
  }

  get words(): Int32Array {
    return this.#words;
  }

  /** Where a part starts in `words`. */
  startOf(part: number): number {
    return this.#starts[part] as number;
  }

  /** Bytes of a part. */
  lengthOf(part: number): number {
    return this.#lengths[part] as number;
  }

  /** Forgets all parts. */
  clear(): void {
    this.#end = 0;
    this.#starts.length = 0;
    this.#lengths.length = 0;
  }

  /**
   * Keeps cells; texts among them are of columns of text.
   *
   * @param isEnd they are the last ones of their rows
   * @returns the number of the part, from 0 on
   */
  keep(cells: readonly Cell[], isEnd: boolean): number {
    const texts = cells.map((cell) =>
      cell === null ? "" : typeof cell === "number" ? numberText(cell) : withGuard(cell),
    );
    // An empty cell behind them gives their delimiter, one in front keeps a last cell from being alone in its row.
    const text = isEnd
      ? delimitedText([["", ...texts]], this.#delimiter).slice(1)
      : delimitedText([[...texts, ""]], this.#delimiter).slice(0, -1);
    this.#makeRoom(Math.ceil((text.length * BYTES_A_UNIT) / WORD_BYTES));
    const { buffer } = this.#words;
    const length = Buffer.from(buffer).write(text, this.#end * WORD_BYTES, "utf8");
    this.#starts.push(this.#end);
    this.#end += Math.ceil(length / WORD_BYTES);
    return this.#lengths.push(length) - 1;
  }

  #makeRoom(words: number): void {
    if (this.#end + words <= this.#words.length) return;
    const larger = new Int32Array(Math.max(this.#words.length * 2, this.#end + words));
    larger.set(this.#words);
    this.#words = larger;
  }
}
