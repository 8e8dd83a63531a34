import type { LifeStage } from "../model/life-stage.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import { sortNumbers } from "../model/sort-numbers.ts";
import type { RowKind } from "./row-kinds.ts";
import type { Pile } from "./sample-piles.ts";

/** What a pile takes from the kind of its rows. */
type KindOfPile = Omit<RowKind, "decision">;

/** A pile that grows row by row. Nearly all are one row, so no list is made for it. */
class GrowingPile implements Pile {
  readonly taxon: number;
  readonly key: number;
  readonly stage: LifeStage;
  readonly largeRare: boolean;
  count: number;
  distinct: Pile["distinct"];
  numberOfTaxa: number;
  readonly firstRow: number;
  #more: number[] | undefined;

  constructor(
    row: number,
    kind: KindOfPile,
    largeRare: boolean,
    count: number,
    distinct: Pile["distinct"],
    numberOfTaxa: number,
  ) {
    this.taxon = kind.taxon;
    this.key = kind.key;
    this.stage = kind.stage;
    this.largeRare = largeRare;
    this.count = count;
    this.distinct = distinct;
    this.numberOfTaxa = numberOfTaxa;
    this.firstRow = row;
  }

  get rows(): readonly number[] {
    return this.#more === undefined ? [this.firstRow] : [this.firstRow, ...this.#more];
  }

  get pile(): Pile {
    return this;
  }

  get beforeDraw(): number {
    return this.count;
  }

  join(row: number, count: number, distinct: Pile["distinct"], numberOfTaxa: number): void {
    this.count += count;
    this.#more ??= [];
    this.#more.push(row);
    this.numberOfTaxa = Math.max(this.numberOfTaxa, numberOfTaxa);
    // A pile is kept out of richness only where every row of it says so.
    if (this.distinct !== distinct)
      this.distinct = this.distinct === "yes" || distinct === "yes" ? "yes" : "";
  }
}

/** Sums the rows of one sample after the other into piles; its memory is used again for each. */
export class PileGatherer {
  /** Place of the pile of an order in `#piles`, plus 1. An order is a name, a stage and a part in one number. */
  readonly #placeOf: Uint32Array;
  #piles: GrowingPile[] = [];
  #orders: number[] = [];

  /** @param keys how many names the batch has */
  constructor(keys: number) {
    this.#placeOf = new Uint32Array(keys * LIFE_STAGES.length * 2);
  }

  add(
    row: number,
    kind: KindOfPile,
    largeRare: boolean,
    count: number,
    distinct: Pile["distinct"],
    numberOfTaxa: number,
  ): void {
    const order = kind.order * 2 + (largeRare ? 1 : 0);
    const place = this.#placeOf[order] as number;
    if (place > 0) {
      this.#piles[place - 1]?.join(row, count, distinct, numberOfTaxa);
      return;
    }
    this.#piles.push(new GrowingPile(row, kind, largeRare, count, distinct, numberOfTaxa));
    this.#orders.push(order);
    this.#placeOf[order] = this.#piles.length;
  }

  /** The piles in the draw's canonical order: name, stage, part. The next row then starts another sample. */
  take(): Pile[] {
    const orders = this.#orders;
    sortNumbers(orders);
    const sorted = new Array<Pile>(orders.length);
    for (let at = 0; at < orders.length; at++) {
      const order = orders[at] as number;
      sorted[at] = this.#piles[(this.#placeOf[order] as number) - 1] as Pile;
      this.#placeOf[order] = 0;
    }
    this.#piles = [];
    this.#orders = [];
    return sorted;
  }
}
