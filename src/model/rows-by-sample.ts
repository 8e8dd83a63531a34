import type { RowPages } from "./row-pages.ts";
import { firstOf, PAGE_ROWS, pageOf, withinPage } from "./row-pages.ts";
import { countSamples, numberFrom, putInOrder, putKindsInOrder, ROW_WORDS } from "./row-words.ts";

/** Rows of which the words are laid ready at once; those of one sample may be more. */
const BLOCK_ROWS = 1 << 12;

/**
 * The rows of a table sample by sample, each sample's in the order of the files: `order` holds row numbers, and those
 * from place `starts[s]` up to place `starts[s + 1]` are those of sample s.
 *
 * Whoever needs what the rows of one sample after the other say lets their words be laid ready. Where rows lie sample
 * by sample their page is what is read; rows in any order are copied some thousand at a time, which takes a fraction of
 * the time of looking up one after the other in between other work.
 */
export class RowsBySample {
  readonly order: Uint32Array;
  readonly starts: Uint32Array;
  readonly #rows: RowPages;
  readonly #isGrouped: boolean;
  #words: Uint32Array = NO_WORDS;
  #word = 0;
  /** Words of the places from `#from` up to `#to`; nothing where rows lie sample by sample. */
  #block = NO_WORDS;
  #from = 0;
  #to = 0;

  /**
   * @param rows none may be added later
   * @param samples how many there are
   */
  constructor(rows: RowPages, samples: number) {
    this.#rows = rows;
    const starts = new Uint32Array(samples + 1);
    let last = 0;
    for (let page = 0; page < rows.count; page++)
      last = countSamples(rows.page(page), rows.wordsIn(page), starts, last);
    for (let s = 0; s < samples; s++) starts[s + 1] = (starts[s + 1] as number) + (starts[s] as number);
    this.starts = starts;
    this.order = new Uint32Array(rows.size);
    this.#isGrouped = last >= 0;
    const next = starts.slice();
    // Rows that lie sample by sample are in order as they are.
    for (let page = 0; page < rows.count; page++) {
      const first = firstOf(page);
      if (this.#isGrouped) numberFrom(first, this.order.subarray(first, first + PAGE_ROWS));
      else putInOrder(rows.page(page), rows.wordsIn(page), first, this.order, next);
    }
  }

  /** The numbers of the rows of a sample. */
  rowsOf(sample: number): Uint32Array {
    return this.order.subarray(this.starts[sample] as number, this.starts[sample + 1] as number);
  }

  /**
   * Lays the words of rows ready, from a place of `order` on: those of the first are then in `words` from `word` on, and
   * those of the others behind them, until this is called again.
   *
   * @param to the place behind the last that is needed
   * @returns how many rows are ready, at least one and at most those up to `to`: a sample may need several turns
   */
  lay(from: number, to: number): number {
    if (this.#isGrouped) {
      this.#words = this.#rows.page(pageOf(from));
      this.#word = withinPage(from) * ROW_WORDS;
      return Math.min(to, firstOf(pageOf(from) + 1)) - from;
    }
    if (from < this.#from || from >= this.#to) this.#copy(from, to);
    this.#words = this.#block;
    this.#word = (from - this.#from) * ROW_WORDS;
    return Math.min(to, this.#to) - from;
  }

  /** The words that hold those that were laid ready. */
  get words(): Uint32Array {
    return this.#words;
  }

  /** Where the first of them stands. */
  get word(): number {
    return this.#word;
  }

  /** Name and stage of every row, as `kindIn` has them, in this order. @param limit they are below it */
  kinds(limit: number): Uint16Array | Uint32Array {
    const next = this.starts.slice();
    const { size, count } = this.#rows;
    const kinds = limit <= 1 << 16 ? new Uint16Array(size) : new Uint32Array(size);
    for (let page = 0; page < count; page++)
      putKindsInOrder(this.#rows.page(page), this.#rows.wordsIn(page), kinds, next);
    return kinds;
  }

  #copy(from: number, to: number): void {
    // Who takes samples in turn needs the next ones too; who picks single ones does not.
    const isInTurn = from === this.#to;
    if (this.#block.length === 0) this.#block = new Uint32Array(BLOCK_ROWS * ROW_WORDS);
    this.#from = from;
    this.#to = Math.min(from + BLOCK_ROWS, isInTurn ? this.order.length : to);
    this.#rows.copy(this.order, this.#from, this.#to, this.#block);
  }
}

const NO_WORDS = new Uint32Array(0);
