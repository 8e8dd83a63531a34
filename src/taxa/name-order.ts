import { sortByCodePoints } from "../model/order.ts";
import { smallInt32Array } from "../model/small-arrays.ts";
import { SortedSet } from "../model/sorted-set.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";

/** The taxa of a tree in code point order of their names, ready for sorting many small lists quickly. */
export class NameOrder {
  /** Place of each taxon in the order. */
  readonly #places: Int32Array;
  /** The taxon at each place. */
  readonly #taxa: Int32Array;
  readonly #chosen: SortedSet;

  constructor(tree: TaxonTree) {
    const sorted = sortByCodePoints([...tree.names]);
    this.#taxa = new Int32Array(sorted.length);
    this.#places = new Int32Array(sorted.length);
    this.#chosen = new SortedSet(sorted.length);
    for (let place = 0; place < sorted.length; place++) {
      // Each name of a tree is there once.
      const taxon = tree.numberOf(sorted[place] as string) as number;
      this.#taxa[place] = taxon;
      this.#places[taxon] = place;
    }
  }

  /** The taxa by name, each once, as a new array. */
  sorted(taxa: readonly number[]): Int32Array<ArrayBuffer> {
    for (const taxon of taxa) this.add(taxon);
    return this.take(new Set(taxa).size);
  }

  /** Chooses a taxon. */
  add(taxon: number): void {
    this.#chosen.add(this.#places[taxon] as number);
  }

  /**
   * The taxa chosen since the last time, by name, as a new array. Numbers are sorted, not names: that is what makes
   * it quick.
   *
   * @param size how many there are
   */
  take(size: number): Int32Array<ArrayBuffer> {
    const order = smallInt32Array(size);
    this.#chosen.takeAll(order);
    for (let i = 0; i < order.length; i++) order[i] = this.#taxa[order[i] as number] as number;
    return order;
  }
}
