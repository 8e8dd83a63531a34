import type { RowPages } from "./row-pages.ts";
import { ROW_WORDS, takeSamples } from "./row-words.ts";

/** Rows that are copied one by one at a time: so few that they are still near when they are read. */
const PIECE_ROWS = 1 << 12;
/** Rows of whole samples are collected in so many rounds, each of which goes through the whole table. */
const ROUNDS = 8;
/** Rows farther from one another than this lie in different places of memory. */
const NEAR_ROWS = 16;

/**
 * The words of some rows of a table, copied to where they stand in the order by sample. Who takes one sample after the
 * other finds those of the next ones here as well.
 */
export class RowBlock {
  readonly #rows: RowPages;
  readonly #order: Uint32Array;
  readonly #starts: Uint32Array;
  #words = new Uint32Array(0);
  /** The places in the order whose rows are here, the last left out. */
  #from = -1;
  #to = -1;

  /** @param order numbers of rows sample by sample, those of sample s from place `starts[s]` up to `starts[s + 1]` */
  constructor(rows: RowPages, order: Uint32Array, starts: Uint32Array) {
    this.#rows = rows;
    this.#order = order;
    this.#starts = starts;
  }

  get words(): Uint32Array {
    return this.#words;
  }

  /** Where the words of the row at a place begin, after `lay` of this place. */
  wordOf(place: number): number {
    return (place - this.#from) * ROW_WORDS;
  }

  /** Sees to it that the row at a place is here. @returns the place behind the last, at most `to`, that is here too */
  lay(from: number, to: number): number {
    if (from < this.#from || from >= this.#to) this.#copy(from, to);
    return Math.min(to, this.#to);
  }

  /**
   * Memory of at least so many bytes, free until rows are laid here again: what else is needed of rows in order is
   * needed before, and need not come on top of it. The rows here now are lost.
   */
  lend(bytes: number): ArrayBuffer {
    this.#from = -1;
    this.#to = -1;
    const forWords = Math.max(PIECE_ROWS, Math.ceil(this.#order.length / ROUNDS));
    const rows = Math.max(forWords, Math.ceil(bytes / (ROW_WORDS * 4)));
    if (this.#words.length < rows * ROW_WORDS) this.#words = new Uint32Array(rows * ROW_WORDS);
    return this.#words.buffer;
  }

  #copy(from: number, to: number): void {
    const { length } = this.#order;
    if (this.#words.length === 0) this.lend(0);
    // Who picks single samples has no use for the next ones.
    const isInTurn = from === this.#to;
    if (isInTurn && this.#isScattered(from) && this.#collect(from)) return;
    this.#from = from;
    this.#to = Math.min(from + PIECE_ROWS, isInTurn ? length : to);
    this.#rows.copy(this.#order, this.#from, this.#to, this.#words);
  }

  /** Whether most rows from a place on would have to be waited for, one by one. */
  #isScattered(from: number): boolean {
    const end = Math.min(from + PIECE_ROWS, this.#order.length);
    let far = 0;
    for (let at = from + 1; at < end; at++)
      if ((this.#order[at] as number) - (this.#order[at - 1] as number) > NEAR_ROWS) far++;
    return far * 2 > end - from;
  }

  /**
   * Goes through the table and takes the rows of as many samples as there is room for: to look for rows of an eighth of
   * the samples in the order in which they lie takes half of the time of fetching them in another.
   *
   * @returns false, with nothing done, where no sample begins, and where the one that does is larger than the room
   */
  #collect(from: number): boolean {
    const starts = this.#starts;
    let first = 0;
    while ((starts[first] as number) < from) first++;
    const room = from + this.#words.length / ROW_WORDS;
    let end = first;
    while (end + 1 < starts.length && (starts[end + 1] as number) <= room) end++;
    if (starts[first] !== from || starts[end] === from) return false;
    const next = starts.slice(first, end).map((start) => (start - from) * ROW_WORDS);
    for (let page = 0; page < this.#rows.count; page++)
      takeSamples(this.#rows.page(page), this.#rows.wordsIn(page), first, next, this.#words);
    this.#from = from;
    this.#to = starts[end] as number;
    return true;
  }
}
