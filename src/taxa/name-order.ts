import { sortByCodePoints } from "../model/order.ts";
import { smallInt32Array } from "../model/small-arrays.ts";
import { sortNumbers } from "../model/sort-numbers.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";

/** The taxa of a tree in code point order of their names, ready for sorting many small lists quickly. */
export class NameOrder {
  /** Place of each taxon in the order. */
  readonly #places: Int32Array;
  /** The taxon at each place. */
  readonly #taxa: Int32Array;

  constructor(tree: TaxonTree) {
    const sorted = sortByCodePoints([...tree.names]);
    this.#taxa = new Int32Array(sorted.length);
    this.#places = new Int32Array(sorted.length);
    for (let place = 0; place < sorted.length; place++) {
      // Each name of a tree is there once.
      const taxon = tree.numberOf(sorted[place] as string) as number;
      this.#taxa[place] = taxon;
      this.#places[taxon] = place;
    }
  }

  /** The taxa by name, as a new array. Numbers are sorted, not names: that is what makes it quick. */
  sorted(taxa: readonly number[]): Int32Array<ArrayBuffer> {
    const places = new Array<number>(taxa.length);
    for (let i = 0; i < taxa.length; i++) places[i] = this.#places[taxa[i] as number] as number;
    sortNumbers(places);
    const order = smallInt32Array(places.length);
    for (let i = 0; i < order.length; i++) order[i] = this.#taxa[places[i] as number] as number;
    return order;
  }
}
