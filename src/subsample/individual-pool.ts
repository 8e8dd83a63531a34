/**
 * The animals of a sample in a row, pile after pile, while a draw puts them in random order from the front.
 * An animal is known by the number of its pile only.
 */
export interface IndividualPool {
  /** Back to the row before any draw. */
  reset(): void;
  /**
   * Takes the animal at place `from`; the one at place `at`, the first not yet taken, moves into its place.
   *
   * @returns the number of the pile of the animal taken
   */
  take(at: number, from: number): number;
}

/** Holds the row animal by animal: quick, and as large as the sample. */
export class DensePool implements IndividualPool {
  readonly #start: Uint16Array | Uint32Array;
  readonly #row: Uint16Array | Uint32Array;

  /** @param total sum of the counts */
  constructor(counts: ArrayLike<number>, total: number) {
    this.#start = counts.length <= 65_536 ? new Uint16Array(total) : new Uint32Array(total);
    let from = 0;
    for (let pile = 0; pile < counts.length; pile++) {
      const to = from + (counts[pile] ?? 0);
      this.#start.fill(pile, from, to);
      from = to;
    }
    this.#row = this.#start.slice();
  }

  reset(): void {
    this.#row.set(this.#start);
  }

  take(at: number, from: number): number {
    const pile = this.#row[from] ?? 0;
    this.#row[from] = this.#row[at] ?? 0;
    return pile;
  }
}

/** Holds only the places that a draw has touched: as large as the draw, however large the sample. */
export class SparsePool implements IndividualPool {
  /** Number of animals in the piles up to and including each pile. */
  readonly #ends: Float64Array;
  readonly #moved = new Map<number, number>();

  constructor(counts: ArrayLike<number>) {
    this.#ends = Float64Array.from(counts);
    for (let pile = 1; pile < this.#ends.length; pile++)
      this.#ends[pile] = (this.#ends[pile] ?? 0) + (this.#ends[pile - 1] ?? 0);
  }

  reset(): void {
    this.#moved.clear();
  }

  take(at: number, from: number): number {
    const pile = this.#pileAt(from);
    this.#moved.set(from, this.#pileAt(at));
    // No later step looks at the places already passed.
    this.#moved.delete(at);
    return pile;
  }

  #pileAt(place: number): number {
    const moved = this.#moved.get(place);
    if (moved !== undefined) return moved;
    let low = 0;
    let high = this.#ends.length - 1;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if ((this.#ends[middle] ?? 0) > place) high = middle;
      else low = middle + 1;
    }
    return low;
  }
}
