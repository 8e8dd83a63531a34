import { distinctOf, PILE_BITS } from "./counted-columns.ts";

/** What is known of a record beside the bits of its piles. */
const BITS = {
  touched: 1,
  /** Had animals before the draw. */
  lost: 32,
} as const;

/** Working memory for the records of one sample, by taxon number; emptied before the next one. */
export class RecordScratch {
  readonly #counts: Float64Array;
  readonly #kinds: Float64Array;
  readonly #bits: Uint8Array;
  /** The taxa with records, in the order in which they came; those beyond `#size` are of earlier samples. */
  readonly #touched: Int32Array;
  #size = 0;
  #anyLost = false;
  readonly #present: Int32Array;
  #presentSize = 0;
  #animals = 0;

  constructor(size: number) {
    this.#counts = new Float64Array(size);
    this.#kinds = new Float64Array(size);
    this.#bits = new Uint8Array(size);
    this.#touched = new Int32Array(size);
    this.#present = new Int32Array(size);
  }

  reset(): void {
    const touched = this.#touched;
    for (let at = 0; at < this.#size; at++) {
      const taxon = touched[at] as number;
      this.#counts[taxon] = 0;
      this.#kinds[taxon] = 0;
      this.#bits[taxon] = 0;
    }
    this.#size = 0;
    this.#anyLost = false;
  }

  /**
   * Adds a pile to the record of a taxon.
   *
   * @param count animals left by the draw
   * @param before animals before it; 0 where there was none
   * @param said bits of PILE_BITS
   * @param kinds how many taxa it stands for; the record keeps the largest, since its piles are stages of one
   *   another rather than different taxa
   */
  add(taxon: number, count: number, before: number, said: number, kinds: number): void {
    const isFind = (said & PILE_BITS.find) !== 0;
    const lost = !isFind && count <= 0;
    if (lost && !(before > 0)) return;
    const bits = this.#touch(taxon);
    if (lost) {
      this.#bits[taxon] = bits | BITS.lost;
      this.#anyLost = true;
      return;
    }
    if (!isFind) this.#counts[taxon] = (this.#counts[taxon] as number) + count;
    this.#bits[taxon] = bits | said;
    if (kinds > (this.#kinds[taxon] as number)) this.#kinds[taxon] = kinds;
  }

  /** Replaces the animals of a record, which is there from now on even if no pile named it. */
  setCount(taxon: number, count: number): void {
    const bits = this.#touch(taxon);
    if (this.#kinds[taxon] === 0) {
      this.#kinds[taxon] = 1;
      this.#bits[taxon] = bits | PILE_BITS.open;
    }
    this.#counts[taxon] = count;
  }

  /** Taxa with records, lost ones included, in the order in which they came; good until the next record. */
  get touched(): Int32Array {
    return this.#touched.subarray(0, this.#size);
  }

  /** Looks up of which taxa the sample has animals or large/rare finds; to be called when all records are there. */
  findPresent(): void {
    let present = 0;
    let animals = 0;
    for (let at = 0; at < this.#size; at++) {
      const taxon = this.#touched[at] as number;
      const count = this.#counts[taxon] as number;
      if (count <= 0 && !this.#has(taxon, PILE_BITS.find)) continue;
      animals += count;
      this.#present[present++] = taxon;
    }
    this.#presentSize = present;
    this.#animals = animals;
  }

  /** What `findPresent` found, in the order in which the taxa came: the first `presentSize` of the list. */
  get present(): Int32Array {
    return this.#present;
  }

  get presentSize(): number {
    return this.#presentSize;
  }

  /** The same as a list of its own. */
  presentTaxa(): number[] {
    return Array.from(this.#present.subarray(0, this.#presentSize));
  }

  /** Animals of all taxa that were found present. */
  get animals(): number {
    return this.#animals;
  }

  /** Whether the draw took every animal of some pile. */
  get anyLost(): boolean {
    return this.#anyLost;
  }

  countOf(taxon: number): number {
    return this.#counts[taxon] as number;
  }

  kindsOf(taxon: number): number {
    return this.#kinds[taxon] as number;
  }

  saysYes(taxon: number): boolean {
    return this.#has(taxon, PILE_BITS.yes);
  }

  /** Whether every pile of the record says that it is not another taxon. */
  saysNo(taxon: number): boolean {
    return distinctOf(this.#bits[taxon] as number) === "no";
  }

  #has(taxon: number, bit: number): boolean {
    return ((this.#bits[taxon] as number) & bit) !== 0;
  }

  #touch(taxon: number): number {
    const bits = this.#bits[taxon] as number;
    if (bits === 0) this.#touched[this.#size++] = taxon;
    this.#bits[taxon] = bits | BITS.touched;
    return bits | BITS.touched;
  }
}
