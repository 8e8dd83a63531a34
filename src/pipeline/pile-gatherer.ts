import { at as entryAt } from "../model/at.ts";
import type { LifeStage } from "../model/life-stage.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import { SortedSet } from "../model/sorted-set.ts";
import type { RowKind } from "./row-kinds.ts";
import type { Pile } from "./sample-piles.ts";

/** What a pile takes from the kind of its rows. */
type KindOfPile = Omit<RowKind, "decision">;

/** What a row may say of whether its animals are another taxon; columns hold the position in this list. */
export const DISTINCT_WORDS = ["", "yes", "no"] as const;
const YES = DISTINCT_WORDS.indexOf("yes");
const UNSAID = DISTINCT_WORDS.indexOf("");

/** The piles of one sample in the draw's canonical order, in columns: good until the next sample is gathered. */
export interface PileColumns {
  readonly size: number;
  countAt(pile: number): number;
  /** The first of the rows it was summed from. */
  firstRowAt(pile: number): number;
  /** Position in LIFE_STAGES. */
  stageNumberAt(pile: number): number;
  isLargeRareAt(pile: number): boolean;
  /** Position in DISTINCT_WORDS. */
  distinctAt(pile: number): number;
  numberOfTaxaAt(pile: number): number;
  /** All of them as objects, which stay good. */
  piles(): Pile[];
}

/** Room for so many piles; it grows. */
const START_PILES = 128;
/** An order is a name, a stage and a part in one number. */
const STAGE_ORDERS = LIFE_STAGES.length;

/** Sums the rows of one sample after the other into piles; its memory is used again for each. */
export class PileGatherer implements PileColumns {
  /** By order: the place of its pile in the columns, plus 1; all 0 between samples. */
  readonly #placeOf: Uint32Array;
  // Columns of piles, in the order in which they were met.
  #counts = new Float64Array(START_PILES);
  #firstRows = new Int32Array(START_PILES);
  #distinct = new Uint8Array(START_PILES);
  #taxa = new Float64Array(START_PILES);
  readonly #kinds: KindOfPile[] = [];
  /** Rows after the first by place; nearly all piles are one row. */
  readonly #more = new Map<number, number[]>();
  #met = 0;
  readonly #orders: SortedSet;
  /** Orders of the sample, ascending. */
  #sortedOrders = new Int32Array(START_PILES);
  /** Places by canonical order. */
  #sorted = new Int32Array(START_PILES);
  #isTaken = false;

  /** @param keys how many names the batch has */
  constructor(keys: number) {
    const orders = keys * STAGE_ORDERS * 2;
    this.#placeOf = new Uint32Array(orders);
    this.#orders = new SortedSet(orders);
  }

  /** @param distinct position in DISTINCT_WORDS */
  add(
    row: number,
    kind: KindOfPile,
    largeRare: boolean,
    count: number,
    distinct: number,
    numberOfTaxa: number,
  ): void {
    if (this.#isTaken) this.#startSample();
    const order = kind.order * 2 + (largeRare ? 1 : 0);
    const known = this.#placeOf[order] as number;
    if (known > 0) {
      this.#join(known - 1, row, count, distinct, numberOfTaxa);
      return;
    }
    const place = this.#met++;
    if (place === this.#counts.length) this.#grow();
    this.#counts[place] = count;
    this.#firstRows[place] = row;
    this.#distinct[place] = distinct;
    this.#taxa[place] = numberOfTaxa;
    this.#kinds[place] = kind;
    this.#orders.add(order);
    this.#placeOf[order] = place + 1;
  }

  /** The piles in canonical order: name, stage, part. The next row then starts another sample. */
  take(): PileColumns {
    if (this.#isTaken) this.#startSample();
    const orders = this.#sortedOrders;
    this.#orders.takeAll(orders);
    for (let at = 0; at < this.#met; at++) {
      const order = orders[at] as number;
      this.#sorted[at] = (this.#placeOf[order] as number) - 1;
      this.#placeOf[order] = 0;
    }
    this.#isTaken = true;
    return this;
  }

  get size(): number {
    return this.#met;
  }

  countAt(pile: number): number {
    return this.#counts[this.#sorted[pile] as number] as number;
  }

  firstRowAt(pile: number): number {
    return this.#firstRows[this.#sorted[pile] as number] as number;
  }

  stageNumberAt(pile: number): number {
    return ((this.#sortedOrders[pile] as number) >>> 1) % STAGE_ORDERS;
  }

  isLargeRareAt(pile: number): boolean {
    return ((this.#sortedOrders[pile] as number) & 1) === 1;
  }

  distinctAt(pile: number): number {
    return this.#distinct[this.#sorted[pile] as number] as number;
  }

  numberOfTaxaAt(pile: number): number {
    return this.#taxa[this.#sorted[pile] as number] as number;
  }

  piles(): Pile[] {
    const piles = new Array<Pile>(this.#met);
    for (let at = 0; at < piles.length; at++) {
      const place = this.#sorted[at] as number;
      piles[at] = new GatheredPile(
        this.#kinds[place] as KindOfPile,
        this.isLargeRareAt(at),
        this.#counts[place] as number,
        entryAt(DISTINCT_WORDS, this.#distinct[place] as number),
        this.#taxa[place] as number,
        this.#firstRows[place] as number,
        this.#more.size === 0 ? undefined : this.#more.get(place),
      );
    }
    return piles;
  }

  #startSample(): void {
    this.#isTaken = false;
    this.#met = 0;
    if (this.#more.size > 0) this.#more.clear();
  }

  #join(place: number, row: number, count: number, distinct: number, numberOfTaxa: number): void {
    this.#counts[place] = (this.#counts[place] as number) + count;
    this.#taxa[place] = Math.max(this.#taxa[place] as number, numberOfTaxa);
    const before = this.#distinct[place] as number;
    // A pile is kept out of richness only where every row of it says so.
    if (before !== distinct) this.#distinct[place] = before === YES || distinct === YES ? YES : UNSAID;
    const more = this.#more.get(place);
    if (more === undefined) this.#more.set(place, [row]);
    else more.push(row);
  }

  #grow(): void {
    const piles = this.#counts.length * 2;
    const longer = <Numbers extends { set(from: Numbers): void }>(from: Numbers, to: Numbers) => {
      to.set(from);
      return to;
    };
    this.#counts = longer(this.#counts, new Float64Array(piles));
    this.#firstRows = longer(this.#firstRows, new Int32Array(piles));
    this.#distinct = longer(this.#distinct, new Uint8Array(piles));
    this.#taxa = longer(this.#taxa, new Float64Array(piles));
    this.#sorted = longer(this.#sorted, new Int32Array(piles));
    this.#sortedOrders = new Int32Array(piles);
  }
}

class GatheredPile implements Pile {
  readonly taxon: number;
  readonly key: number;
  readonly stage: LifeStage;
  readonly largeRare: boolean;
  readonly count: number;
  readonly distinct: Pile["distinct"];
  readonly numberOfTaxa: number;
  readonly firstRow: number;
  readonly #more: readonly number[] | undefined;

  constructor(
    kind: KindOfPile,
    largeRare: boolean,
    count: number,
    distinct: Pile["distinct"],
    numberOfTaxa: number,
    firstRow: number,
    more: readonly number[] | undefined,
  ) {
    this.taxon = kind.taxon;
    this.key = kind.key;
    this.stage = kind.stage;
    this.largeRare = largeRare;
    this.count = count;
    this.distinct = distinct;
    this.numberOfTaxa = numberOfTaxa;
    this.firstRow = firstRow;
    this.#more = more;
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
}
