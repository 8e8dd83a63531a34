import { ROW_WORDS } from "./row-words.ts";

const PAGE_BITS = 14;
/** Rows of a page. */
export const PAGE_ROWS = 1 << PAGE_BITS;
const WITHIN = PAGE_ROWS - 1;

/** The number of the page of a row. */
export function pageOf(row: number): number {
  return row >>> PAGE_BITS;
}

/** The number of the first row of a page. */
export function firstOf(page: number): number {
  return page << PAGE_BITS;
}

/** Where a row stands in its page. */
export function withinPage(row: number): number {
  return row & WITHIN;
}

/** Rows as words in pages: growing copies nothing, and no page stands half empty but the last. */
export class RowPages {
  #size = 0;
  readonly #pages: Uint32Array[] = [];

  /** How many rows there are. */
  get size(): number {
    return this.#size;
  }

  /** How many pages there are. */
  get count(): number {
    return this.#pages.length;
  }

  /** Adds a row. @returns its number */
  add(sample: number, name: number, count: number, rest: number): number {
    const row = this.#size++;
    const page = this.#pageFor(row);
    let word = withinPage(row) * ROW_WORDS;
    page[word++] = sample;
    page[word++] = name;
    page[word++] = count;
    page[word] = rest;
    return row;
  }

  /** Adds rows of which the words stand one behind the other. */
  addAll(words: Uint32Array, rows: number): void {
    for (let done = 0; done < rows; ) {
      const within = withinPage(this.#size);
      const here = Math.min(rows - done, PAGE_ROWS - within);
      const own = words.subarray(done * ROW_WORDS, (done + here) * ROW_WORDS);
      this.#pageFor(this.#size).set(own, within * ROW_WORDS);
      this.#size += here;
      done += here;
    }
  }

  /** The words of a page, of which only some are in use if it is the last. */
  page(number: number): Uint32Array {
    return this.#pages[number] as Uint32Array;
  }

  /** Words of a page that are in use. */
  wordsIn(page: number): number {
    return Math.min(this.#size - firstOf(page), PAGE_ROWS) * ROW_WORDS;
  }

  /** A word of a row: SAMPLE, NAME, COUNT or REST. */
  word(row: number, word: number): number {
    // Called for every word of every row.
    return (this.#pages[row >>> PAGE_BITS] as Uint32Array)[(row & WITHIN) * ROW_WORDS + word] as number;
  }

  /**
   * Copies rows to where their words shall stand one behind the other. Rows in any order each wait for memory: the loop
   * does nothing else, so that many of them wait at the same time.
   *
   * @param rows numbers of rows, of which those from `from` up to `to` are copied
   */
  copy(rows: Uint32Array, from: number, to: number, into: Uint32Array): void {
    const pages = this.#pages;
    let own = 0;
    for (let at = from; at < to; at++, own += ROW_WORDS) {
      const row = rows[at] as number;
      const page = pages[row >>> PAGE_BITS] as Uint32Array;
      const word = (row & WITHIN) * ROW_WORDS;
      into[own] = page[word] as number;
      into[own + 1] = page[word + 1] as number;
      into[own + 2] = page[word + 2] as number;
      into[own + 3] = page[word + 3] as number;
    }
  }

  #pageFor(row: number): Uint32Array {
    let page = this.#pages[pageOf(row)];
    if (page === undefined) {
      page = new Uint32Array(PAGE_ROWS * ROW_WORDS);
      this.#pages.push(page);
    }
    return page;
  }
}
