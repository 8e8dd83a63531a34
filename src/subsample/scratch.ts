/**
 * Memory for one draw, lent and used again: for a sample of a few hundred animals, making a typed array takes
 * longer than the draw. It is lent to one borrower at a time; whoever comes meanwhile gets new memory. What is
 * left in it from the last use is never read, so nothing depends on it.
 */
export class Scratch<Memory extends { readonly length: number }> {
  readonly #make: (length: number) => Memory;
  readonly #largestKept: number;
  #spare: Memory | undefined;

  /** @param largestKept more than this is not kept for the next borrower */
  constructor(largestKept: number, make: (length: number) => Memory) {
    this.#largestKept = largestKept;
    this.#make = make;
  }

  /** Memory of at least this length with anything in it. */
  borrow(length: number): Memory {
    const spare = this.#spare;
    if (spare === undefined || spare.length < length) return this.#make(length);
    this.#spare = undefined;
    return spare;
  }

  giveBack(memory: Memory): void {
    if (memory.length <= this.#largestKept && memory.length > (this.#spare?.length ?? 0))
      this.#spare = memory;
  }
}
