import { smallInt32Array } from "../model/small-arrays.ts";
import { SortedSet } from "../model/sorted-set.ts";

/** Sorts the piles of one sample after the other by their orders, all of them different; keeps nothing in between. */
export class PileSorter {
  readonly #orders: SortedSet;
  /** By order, of the piles at hand. */
  readonly #placeOf: Int32Array;

  /** @param limit orders are below it */
  constructor(limit: number) {
    this.#orders = new SortedSet(limit);
    this.#placeOf = new Int32Array(limit);
  }

  /**
   * The places from one place up to another, in ascending order of what stands there.
   *
   * @param orders by place
   */
  sorted(orders: Int32Array, from: number, to: number): Int32Array {
    const places = smallInt32Array(to - from);
    for (let place = from; place < to; place++) {
      const order = orders[place] as number;
      this.#orders.add(order);
      this.#placeOf[order] = place;
    }
    this.#orders.takeAll(places);
    for (let at = 0; at < places.length; at++) places[at] = this.#placeOf[places[at] as number] as number;
    return places;
  }
}
