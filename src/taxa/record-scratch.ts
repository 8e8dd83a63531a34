import type { CountedPile } from "./counted-pile.ts";

/** What is known of a record, one bit each. */
const BITS = {
  touched: 1,
  /** Found by the large/rare search. */
  find: 2,
  /** A taxonomist forces it into richness. */
  yes: 4,
  /** A taxonomist keeps it out of richness. */
  no: 8,
  /** At least one pile of it says neither. */
  open: 16,
  /** Had animals before the draw. */
  lost: 32,
} as const;

/** Working memory for the records of one sample, by taxon number; emptied before the next one. */
export class RecordScratch {
  readonly #counts: Float64Array;
  readonly #kinds: Float64Array;
  readonly #bits: Uint8Array;
  #touched: number[] = [];
  #anyLost = false;

  constructor(size: number) {
    this.#counts = new Float64Array(size);
    this.#kinds = new Float64Array(size);
    this.#bits = new Uint8Array(size);
  }

  reset(): void {
    for (const taxon of this.#touched) {
      this.#counts[taxon] = 0;
      this.#kinds[taxon] = 0;
      this.#bits[taxon] = 0;
    }
    this.#touched = [];
    this.#anyLost = false;
  }

  /**
   * Adds a pile to the record of a taxon.
   *
   * @param kinds how many taxa it stands for; the record keeps the largest, since its piles are stages of one
   *   another rather than different taxa
   */
  add(taxon: number, pile: CountedPile, kinds: number): void {
    const lost = !pile.largeRare && pile.count <= 0;
    if (lost && !((pile.beforeDraw ?? 0) > 0)) return;
    let bits = this.#touch(taxon);
    if (lost) {
      this.#bits[taxon] = bits | BITS.lost;
      this.#anyLost = true;
      return;
    }
    if (pile.largeRare) bits |= BITS.find;
    else this.#counts[taxon] = this.countOf(taxon) + pile.count;
    if (pile.distinct === "yes") bits |= BITS.yes;
    else bits |= pile.distinct === "no" ? BITS.no : BITS.open;
    this.#bits[taxon] = bits;
    this.#kinds[taxon] = Math.max(this.kindsOf(taxon), kinds);
  }

  /** Replaces the animals of a record, which is there from now on even if no pile named it. */
  setCount(taxon: number, count: number): void {
    const bits = this.#touch(taxon);
    if (this.#kinds[taxon] === 0) {
      this.#kinds[taxon] = 1;
      this.#bits[taxon] = bits | BITS.open;
    }
    this.#counts[taxon] = count;
  }

  /** Taxa with records, lost ones included, in the order in which they came. */
  get touched(): readonly number[] {
    return this.#touched;
  }

  /** Whether the draw took every animal of some pile. */
  get anyLost(): boolean {
    return this.#anyLost;
  }

  /** Whether the sample has animals or large/rare finds of a taxon. */
  isPresent(taxon: number): boolean {
    return this.countOf(taxon) > 0 || this.#has(taxon, BITS.find);
  }

  countOf(taxon: number): number {
    return this.#counts[taxon] as number;
  }

  kindsOf(taxon: number): number {
    return this.#kinds[taxon] as number;
  }

  saysYes(taxon: number): boolean {
    return this.#has(taxon, BITS.yes);
  }

  /** Whether every pile of the record says that it is not another taxon. */
  saysNo(taxon: number): boolean {
    return this.#has(taxon, BITS.no) && !this.#has(taxon, BITS.open) && !this.#has(taxon, BITS.yes);
  }

  #has(taxon: number, bit: number): boolean {
    return ((this.#bits[taxon] as number) & bit) !== 0;
  }

  #touch(taxon: number): number {
    const bits = this.#bits[taxon] as number;
    if (bits === 0) this.#touched.push(taxon);
    this.#bits[taxon] = bits | BITS.touched;
    return bits | BITS.touched;
  }
}
