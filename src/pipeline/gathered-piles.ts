import { at } from "../model/at.ts";
import type { LifeStage } from "../model/life-stage.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import type { CountedColumns } from "../taxa/counted-columns.ts";
import { distinctOf, PILE_BITS } from "../taxa/counted-columns.ts";
import type { CountedPile } from "../taxa/counted-pile.ts";
import type { PileSorter } from "./pile-sorter.ts";

/** Animals of one sample under one name and stage, out of one part of the work (the grids, or the large/rare search). */
export interface Pile extends CountedPile {
  /** Number of the normalised name: the draw's order, which no change of the taxonomy moves. */
  readonly key: number;
  readonly stage: LifeStage;
  /** Row numbers it was summed from; made when asked for, so a copy of the pile by spreading is without. */
  readonly rows: readonly number[];
  /** The first of them. */
  readonly firstRow: number;
  /** The pile itself: where nothing is drawn it stands for what the draw would leave of it. */
  readonly pile: Pile;
  /** The count, likewise. */
  readonly beforeDraw: number;
}

/** Parts of the work, the grids and the large/rare search: an order holds name, stage and part in one number. */
export const PARTS = 2;
const PART_BITS = 1;

/** Columns for the piles of many samples, one behind the other; they live as long as one of these samples. */
export class PilePage {
  readonly size: number;
  readonly taxa: Int32Array;
  readonly counts: Float64Array;
  readonly bits: Uint8Array;
  readonly kinds: Float64Array;
  /** Name, stage and part of each pile in one number. */
  readonly orders: Int32Array;
  /** The number of the first row of each pile. */
  readonly firstRows: Uint32Array;
  /** The number of the name of that row, as written: rows in any order take long to look up. */
  readonly names: Uint32Array;
  /** Rows after the first by place: nearly all piles are one row. */
  readonly more = new Map<number, number[]>();

  constructor(size: number) {
    this.size = size;
    this.taxa = new Int32Array(size);
    this.counts = new Float64Array(size);
    this.bits = new Uint8Array(size);
    this.kinds = new Float64Array(size);
    this.orders = new Int32Array(size);
    this.firstRows = new Uint32Array(size);
    this.names = new Uint32Array(size);
  }
}

/**
 * The rows of one sample summed into piles. What asks for sums takes the columns, in the order in which the piles
 * were met; a pile by its number is one in the draw's canonical order: name, stage, part.
 */
export class GatheredPiles implements CountedColumns {
  readonly from: number;
  readonly to: number;
  readonly #page: PilePage;
  readonly #sorter: PileSorter;
  #places: Int32Array | undefined;

  constructor(page: PilePage, from: number, to: number, sorter: PileSorter) {
    this.#page = page;
    this.from = from;
    this.to = to;
    this.#sorter = sorter;
  }

  get taxa(): Int32Array {
    return this.#page.taxa;
  }

  get counts(): Float64Array {
    return this.#page.counts;
  }

  get countsFrom(): number {
    return this.from;
  }

  get before(): Float64Array {
    return this.#page.counts;
  }

  get bits(): Uint8Array {
    return this.#page.bits;
  }

  get kinds(): Float64Array {
    return this.#page.kinds;
  }

  get size(): number {
    return this.to - this.from;
  }

  get firstRows(): Uint32Array {
    return this.#page.firstRows;
  }

  /** Numbers of the names in the table of rows; of several names that are normalised alike the first. */
  get names(): Uint32Array {
    return this.#page.names;
  }

  /** Where the piles stand in the columns, in canonical order. */
  get places(): Int32Array {
    // Nobody asks where nothing is drawn.
    this.#places ??= this.#sorter.sorted(this.#page.orders, this.from, this.to);
    return this.#places;
  }

  /** Where a pile stands in the columns. */
  placeOf(pile: number): number {
    return this.places[pile] as number;
  }

  taxonAt(pile: number): number {
    return this.#page.taxa[this.placeOf(pile)] as number;
  }

  countAt(pile: number): number {
    return this.#page.counts[this.placeOf(pile)] as number;
  }

  /** The first of the rows it was summed from. */
  firstRowAt(pile: number): number {
    return this.#page.firstRows[this.placeOf(pile)] as number;
  }

  /** Number of the normalised name. */
  keyAt(pile: number): number {
    return Math.floor(this.#orderAt(pile) / (LIFE_STAGES.length * PARTS));
  }

  /** Position in LIFE_STAGES. */
  stageNumberAt(pile: number): number {
    return this.stageNumberOf(this.placeOf(pile));
  }

  /** The same of the pile at a place in the columns. */
  stageNumberOf(place: number): number {
    return ((this.#page.orders[place] as number) >>> PART_BITS) % LIFE_STAGES.length;
  }

  isLargeRareAt(pile: number): boolean {
    return (this.bitsAt(pile) & PILE_BITS.find) !== 0;
  }

  /** Bits of PILE_BITS. */
  bitsAt(pile: number): number {
    return this.#page.bits[this.placeOf(pile)] as number;
  }

  numberOfTaxaAt(pile: number): number {
    return this.#page.kinds[this.placeOf(pile)] as number;
  }

  /** Row numbers it was summed from. */
  rowsAt(pile: number): number[] {
    return [this.firstRowAt(pile), ...(this.#page.more.get(this.placeOf(pile)) ?? [])];
  }

  /** All of them as objects. */
  list(): Pile[] {
    const piles: Pile[] = [];
    for (let pile = 0; pile < this.size; pile++) piles.push(new ListedPile(this, pile));
    return piles;
  }

  #orderAt(pile: number): number {
    return this.#page.orders[this.placeOf(pile)] as number;
  }
}

/** A pile taken out of the columns. */
class ListedPile implements Pile {
  readonly taxon: number;
  readonly key: number;
  readonly stage: LifeStage;
  readonly largeRare: boolean;
  readonly count: number;
  readonly distinct: Pile["distinct"];
  readonly numberOfTaxa: number;
  readonly firstRow: number;
  readonly #piles: GatheredPiles;
  readonly #number: number;

  constructor(piles: GatheredPiles, pile: number) {
    this.#piles = piles;
    this.#number = pile;
    this.taxon = piles.taxonAt(pile);
    this.key = piles.keyAt(pile);
    this.stage = at(LIFE_STAGES, piles.stageNumberAt(pile));
    this.largeRare = piles.isLargeRareAt(pile);
    this.count = piles.countAt(pile);
    this.distinct = distinctOf(piles.bitsAt(pile));
    this.numberOfTaxa = piles.numberOfTaxaAt(pile);
    this.firstRow = piles.firstRowAt(pile);
  }

  get rows(): readonly number[] {
    return this.#piles.rowsAt(this.#number);
  }

  get pile(): Pile {
    return this;
  }

  get beforeDraw(): number {
    return this.count;
  }
}
