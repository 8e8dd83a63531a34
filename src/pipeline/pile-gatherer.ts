import { LIFE_STAGES } from "../model/life-stage.ts";
import { PILE_BITS } from "../taxa/counted-columns.ts";
import { GatheredPiles, PARTS, PilePage } from "./gathered-piles.ts";
import { PileSorter } from "./pile-sorter.ts";

/** What a pile takes from the kind of its rows. */
interface KindOfPile {
  readonly taxon: number;
  /** Place among name and stage in the draw's canonical order. */
  readonly order: number;
  /** A number of its own for each order, less than there are orders. */
  readonly slot: number;
}

/** Rows that a page has room for; more where a single sample has more. */
const PAGE_ROWS = 4096;
/** So many piles can be told apart by when they were met. */
const MOST_MET = 0x7fff_ffff;

/** Sums the rows of one sample after the other into piles. */
export class PileGatherer {
  /**
   * By slot and part, when its pile was met, among all piles of all samples; one met before the sample at hand began is
   * another sample's.
   */
  readonly #metAs: Int32Array;
  /** Piles of all samples so far, which is also when the first of the sample at hand will have been met, less 1. */
  #before = 0;
  #page = new PilePage(0);
  #from = 0;
  #piles = 0;
  readonly #mostMet: number;
  readonly #sorter: PileSorter;

  /**
   * @param keys how many names the batch has
   * @param mostMet piles after which counting begins again
   */
  constructor(keys: number, mostMet = MOST_MET) {
    this.#mostMet = mostMet;
    const orders = keys * LIFE_STAGES.length * PARTS;
    this.#metAs = new Int32Array(orders);
    this.#sorter = new PileSorter(orders);
  }

  /** Begins a sample of so many rows. */
  start(rows: number): void {
    this.#before += this.#piles;
    this.#from += this.#piles;
    this.#piles = 0;
    if (this.#from + rows > this.#page.size) {
      this.#page = new PilePage(Math.max(PAGE_ROWS, rows));
      this.#from = 0;
    }
    if (this.#before + rows <= this.#mostMet) return;
    this.#metAs.fill(0);
    this.#before = 0;
  }

  /**
   * Adds a row to its pile.
   *
   * @param row its number in the table
   * @param name the number of its name there
   * @param said bits of PILE_BITS
   */
  add(row: number, name: number, kind: KindOfPile, said: number, count: number, numberOfTaxa: number): void {
    const page = this.#page;
    const part = (said & PILE_BITS.find) === 0 ? 0 : 1;
    const slot = kind.slot * PARTS + part;
    const own = (this.#metAs[slot] as number) - this.#before;
    if (own > 0) {
      const place = this.#from + own - 1;
      const more = page.more.get(place);
      if (more === undefined) page.more.set(place, [row]);
      else more.push(row);
      page.counts[place] = (page.counts[place] as number) + count;
      page.bits[place] = (page.bits[place] as number) | said;
      if (numberOfTaxa > (page.kinds[place] as number)) page.kinds[place] = numberOfTaxa;
      return;
    }
    const place = this.#from + this.#piles++;
    this.#metAs[slot] = this.#before + this.#piles;
    page.orders[place] = kind.order * PARTS + part;
    page.firstRows[place] = row;
    page.names[place] = name;
    page.taxa[place] = kind.taxon;
    page.counts[place] = count;
    page.bits[place] = said;
    page.kinds[place] = numberOfTaxa;
  }

  /** The piles of the sample. */
  take(): GatheredPiles {
    return new GatheredPiles(this.#page, this.#from, this.#from + this.#piles, this.#sorter);
  }
}
