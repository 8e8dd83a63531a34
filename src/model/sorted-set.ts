const BITS = 32;

/**
 * A set of whole numbers below a limit that gives them in ascending order and is then empty: a bit for each number,
 * a bit for each 32 of these, and so on up to one word. For some dozens of numbers, again and again, a fourth of the
 * time of sorting them.
 */
export class SortedSet {
  /** From single numbers to the words that hold all; a bit of a level says that its word of the level before is not 0. */
  readonly #levels: readonly Int32Array[];

  /** @param limit numbers from 0 to below it can be held */
  constructor(limit: number) {
    const levels: Int32Array[] = [];
    let words = limit;
    do {
      words = Math.max(1, Math.ceil(words / BITS));
      levels.push(new Int32Array(words));
    } while (words > 1);
    this.#levels = levels;
  }

  add(number: number): void {
    let bit = number;
    for (const level of this.#levels) {
      const word = bit >>> 5;
      const before = level[word] as number;
      level[word] = before | (1 << (bit & 31));
      // The levels above know of this word.
      if (before !== 0) return;
      bit = word;
    }
  }

  /**
   * Takes all numbers out.
   *
   * @param to room for all of them
   * @returns how many there were
   */
  takeAll(to: Int32Array): number {
    return this.#take(this.#levels.length - 1, 0, to, 0);
  }

  #take(depth: number, word: number, to: Int32Array, from: number): number {
    const level = this.#levels[depth] as Int32Array;
    let at = from;
    let rest = level[word] as number;
    level[word] = 0;
    while (rest !== 0) {
      const bit = word * BITS + (31 - Math.clz32(rest & -rest));
      rest &= rest - 1;
      if (depth === 0) to[at++] = bit;
      else at = this.#take(depth - 1, bit, to, at);
    }
    return at;
  }
}
