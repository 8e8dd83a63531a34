import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import type { RowTable } from "../model/rows.ts";
import type { SubtreePlaces } from "../model/subtree-places.ts";
import { subtreePlaces } from "../model/subtree-places.ts";
import { RANKS } from "../model/taxon-tree.ts";
import type { BatchNames } from "./batch-names.ts";
import type { SamplePiles } from "./sample-piles.ts";
import { placeOfName } from "./sample-piles.ts";

const FAMILY = RANKS.indexOf("family");
/** Rows and animals below a name that are no coincidence any more when they add up to its own. */
const LEAST_ROWS = 2;
const LEAST_ANIMALS = 10;
/** Names that a message gives before it only counts them. */
const MOST_NAMED = 4;

/** A taxon of family rank or coarser in the sample at hand. */
interface CoarseTaxon {
  readonly taxon: number;
  /** Its first row. */
  readonly row: number;
  animals: number;
}

/** A coarse taxon with as many animals as all finer rows within it. */
interface Subtotal extends CoarseTaxon {
  /** There are enough rows and animals below it that this is no coincidence. */
  readonly isPlain: boolean;
}

/**
 * Finds rows of a sample that seem to be subtotals: a family, order or other coarse name with as many animals as
 * the rows of all finer names within it. Counted as animals of their own they would double the sample.
 */
export class SubtotalFinder {
  readonly #table: RowTable;
  readonly #names: BatchNames;
  readonly #tree: SubtreePlaces;
  /** By taxon, 1 for those that may be a subtotal. */
  readonly #isCoarse: Uint8Array;
  /** Of the rows of the sample at hand: the places of their taxa, their animals. Memory for the largest sample so far. */
  #places = new Int32Array(64);
  #animals = new Float64Array(64);
  #rows = 0;

  constructor(table: RowTable, names: BatchNames) {
    this.#table = table;
    this.#names = names;
    const { ranks, parents, operational } = names.tree;
    this.#tree = subtreePlaces(parents);
    this.#isCoarse = Uint8Array.from(ranks, (rank, taxon) =>
      rank <= FAMILY && !operational.has(taxon) ? 1 : 0,
    );
  }

  /**
   * @param own row numbers of the sample
   * @param piles the same rows gathered, where they are: in most samples no animal is coarse
   */
  report(sampleId: string, own: Uint32Array, findings: FindingSink, piles?: SamplePiles): void {
    if (piles !== undefined && !this.#hasCoarse(piles)) return;
    const coarse = this.#gather(own);
    if (coarse.length === 0) return;
    const found = this.#subtotals(coarse);
    const [first] = found;
    if (first === undefined || !found.some((one) => one.isPlain)) return;
    const named = found.map((one) => `${this.#names.tree.nameOf(one.taxon)} ${one.animals}`);
    const rest = named.length > MOST_NAMED ? ` and ${named.length - MOST_NAMED} more` : "";
    const message = `${named.slice(0, MOST_NAMED).join(", ")}${rest}: as many animals as the rows of finer names within; if these rows are subtotals, animals of ${sampleId} count twice`;
    findings.add(finding("possible-subtotal", placeOfName(this.#table, first.row), { message, sampleId }));
  }

  /** False where no row can be of a coarse taxon. */
  #hasCoarse({ columns, leftOut }: SamplePiles): boolean {
    if (leftOut.length > 0) return true;
    const { taxa, from, to } = columns;
    for (let at = from; at < to; at++) if (this.#isCoarse[taxa[at] as number] === 1) return true;
    return false;
  }

  /** Keeps place and animals of every row. @returns the coarse taxa, without doubles */
  #gather(own: Uint32Array): CoarseTaxon[] {
    const table = this.#table;
    const { taxa } = this.#names;
    const coarse: CoarseTaxon[] = [];
    if (own.length > this.#places.length) {
      this.#places = new Int32Array(own.length * 2);
      this.#animals = new Float64Array(own.length * 2);
    }
    let rows = 0;
    for (let at = 0; at < own.length; at++) {
      const row = own[at] as number;
      const taxon = taxa[table.nameAt(row)] as number;
      if (taxon < 0) continue;
      const animals = table.countAt(row);
      this.#places[rows] = this.#tree.places[taxon] as number;
      this.#animals[rows++] = animals;
      if (this.#isCoarse[taxon] === 0) continue;
      const known = coarse.find((one) => one.taxon === taxon);
      if (known === undefined) coarse.push({ taxon, row, animals });
      else known.animals += animals;
    }
    this.#rows = rows;
    return coarse;
  }

  /** From the finest on: what is a subtotal itself is no animal of the coarser ones. @returns in the order of rows */
  #subtotals(coarse: CoarseTaxon[]): Subtotal[] {
    const { places } = this.#tree;
    const found: Subtotal[] = [];
    if (coarse.length > 1) coarse.sort((a, b) => b.taxon - a.taxon);
    for (const one of coarse) {
      if (one.animals === 0) continue;
      let rows = 0;
      let animals = 0;
      for (let at = 0; at < this.#rows; at++)
        if (this.#isBelow(this.#places[at] as number, one.taxon)) {
          rows++;
          animals += this.#animals[at] as number;
        }
      for (const finer of found)
        if (this.#isBelow(places[finer.taxon] as number, one.taxon)) {
          rows--;
          animals -= finer.animals;
        }
      if (rows === 0 || animals !== one.animals) continue;
      found.push({ ...one, isPlain: rows >= LEAST_ROWS && animals >= LEAST_ANIMALS });
    }
    return found.length > 1 ? found.sort((a, b) => a.row - b.row) : found;
  }

  #isBelow(place: number, taxon: number): boolean {
    return place > (this.#tree.places[taxon] as number) && place < (this.#tree.ends[taxon] as number);
  }
}
