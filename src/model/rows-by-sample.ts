import { RowBlock } from "./row-block.ts";
import type { RowPages } from "./row-pages.ts";
import { firstOf, PAGE_ROWS, pageOf, withinPage } from "./row-pages.ts";
import { countSamples, numberFrom, putInOrder, putKindsInOrder, ROW_WORDS } from "./row-words.ts";

/**
 * The rows of a table sample by sample, each sample's in the order of the files: `order` holds row numbers, and those
 * from place `starts[s]` up to place `starts[s + 1]` are those of sample s.
 *
 * Whoever needs what the rows of one sample after the other say lets their words be laid ready. Where rows lie sample
 * by sample their page is what is read; rows in any order are copied many at a time, which takes a fraction of the time
 * of looking up one after the other in between other work.
 */
export class RowsBySample {
  readonly order: Uint32Array;
  readonly starts: Uint32Array;
  readonly #rows: RowPages;
  /** Copies of rows; undefined where they lie sample by sample. */
  readonly #block: RowBlock | undefined;
  #words: Uint32Array = new Uint32Array(0);
  #word = 0;

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
    const isGrouped = last >= 0;
    this.#block = isGrouped ? undefined : new RowBlock(rows, this.order, starts);
    const next = starts.slice();
    // Rows that lie sample by sample are in order as they are.
    for (let page = 0; page < rows.count; page++) {
      const first = firstOf(page);
      if (isGrouped) numberFrom(first, this.order.subarray(first, first + PAGE_ROWS));
      else putInOrder(rows.page(page), rows.wordsIn(page), first, this.order, next);
    }
  }

  /** The numbers of the rows of a sample. */
  rowsOf(sample: number): Uint32Array {
    return this.order.subarray(this.starts[sample] as number, this.starts[sample + 1] as number);
  }

  /**
   * Lays the words of rows ready, from a place of `order` on: those of the first are then in `words` from `word` on, and
   * those of the others behind them, until this is called again. The number of the sample need not be among them.
   *
   * @param to the place behind the last that is needed
   * @returns how many rows are ready, at least one and at most those up to `to`: a sample may need several turns
   */
  lay(from: number, to: number): number {
    if (this.#block === undefined) {
      this.#words = this.#rows.page(pageOf(from));
      this.#word = withinPage(from) * ROW_WORDS;
      return Math.min(to, firstOf(pageOf(from) + 1)) - from;
    }
    const end = this.#block.lay(from, to);
    this.#words = this.#block.words;
    this.#word = this.#block.wordOf(from);
    return end - from;
  }

  /** The words that hold those that were laid ready. */
  get words(): Uint32Array {
    return this.#words;
  }

  /** Where the first of them stands. */
  get word(): number {
    return this.#word;
  }

  /**
   * Name and stage of every row, as `kindIn` has them, in this order; to be used before rows are laid ready.
   *
   * @param limit they are below it
   */
  kinds(limit: number): Uint16Array | Uint32Array {
    const next = this.starts.slice();
    const { size, count } = this.#rows;
    const bytes = size * (limit <= 1 << 16 ? 2 : 4);
    const room = this.#block?.lend(bytes) ?? new ArrayBuffer(bytes);
    const kinds = limit <= 1 << 16 ? new Uint16Array(room, 0, size) : new Uint32Array(room, 0, size);
    for (let page = 0; page < count; page++)
      putKindsInOrder(this.#rows.page(page), this.#rows.wordsIn(page), kinds, next);
    return kinds;
  }
}
