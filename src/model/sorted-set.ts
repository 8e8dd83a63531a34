const BITS = 5;
const LAST = (1 << BITS) - 1;

/**
 * A set of whole numbers below a limit that gives them in ascending order and is then empty. For some dozens of
 * numbers, again and again, a fourth of the time of sorting them.
 *
 * It holds a bit for each number, a bit for each word of these that is not 0, and a bit for each word of those.
 */
export class SortedSet {
  readonly #numbers: Int32Array;
  readonly #words: Int32Array;
  /** Looked through from end to end: one word for each 32,768 numbers below the limit. */
  readonly #top: Int32Array;

  /** @param limit numbers from 0 to below it can be held */
  constructor(limit: number) {
    this.#numbers = new Int32Array(wordsFor(limit));
    this.#words = new Int32Array(wordsFor(this.#numbers.length));
    this.#top = new Int32Array(wordsFor(this.#words.length));
  }

  add(number: number): void {
    const word = number >>> BITS;
    const before = this.#numbers[word] as number;
    this.#numbers[word] = before | (1 << (number & LAST));
    if (before !== 0) return;
    const above = word >>> BITS;
    const known = this.#words[above] as number;
    this.#words[above] = known | (1 << (word & LAST));
    if (known === 0)
      this.#top[above >>> BITS] = (this.#top[above >>> BITS] as number) | (1 << (above & LAST));
  }

  /**
   * Takes all numbers out.
   *
   * @param to room for all of them
   * @returns how many there were
   */
  takeAll(to: Int32Array): number {
    const numbers = this.#numbers;
    const words = this.#words;
    const top = this.#top;
    let at = 0;
    for (let highest = 0; highest < top.length; highest++) {
      let aboves = top[highest] as number;
      top[highest] = 0;
      for (; aboves !== 0; aboves &= aboves - 1) {
        const above = (highest << BITS) | lowestBit(aboves);
        let filled = words[above] as number;
        words[above] = 0;
        for (; filled !== 0; filled &= filled - 1) {
          const word = (above << BITS) | lowestBit(filled);
          let bits = numbers[word] as number;
          numbers[word] = 0;
          for (; bits !== 0; bits &= bits - 1) to[at++] = (word << BITS) | lowestBit(bits);
        }
      }
    }
    return at;
  }
}

function wordsFor(bits: number): number {
  return Math.max(1, Math.ceil(bits / (LAST + 1)));
}

/** The place of the lowest bit that is set. */
function lowestBit(word: number): number {
  return LAST - Math.clz32(word & -word);
}
