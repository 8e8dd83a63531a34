import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import type { RowTable } from "../model/rows.ts";
import { RANKS } from "../model/taxon-tree.ts";
import type { BatchNames } from "./batch-names.ts";
import { placeOfName } from "./sample-piles.ts";

const FAMILY = RANKS.indexOf("family");
/** Rows and animals below a name that are no coincidence any more when they add up to its own. */
const LEAST_ROWS = 2;
const LEAST_ANIMALS = 10;
/** Names that a message gives before it only counts them. */
const MOST_NAMED = 4;

/**
 * Finds rows of a sample that seem to be subtotals: a family, order or other coarse name with as many animals as
 * the rows of all finer names within it. Counted as animals of their own they would double the sample.
 */
export class SubtotalFinder {
  readonly #table: RowTable;
  readonly #names: BatchNames;
  /** By taxon, of the sample at hand: its own animals and rows, those of finer rows within it. */
  readonly #own: Float64Array;
  readonly #ownRow: Int32Array;
  readonly #finer: Float64Array;
  readonly #finerRows: Int32Array;

  constructor(table: RowTable, names: BatchNames) {
    this.#table = table;
    this.#names = names;
    const taxa = names.tree.names.length;
    this.#own = new Float64Array(taxa);
    this.#ownRow = new Int32Array(taxa).fill(-1);
    this.#finer = new Float64Array(taxa);
    this.#finerRows = new Int32Array(taxa);
  }

  /** @param own row numbers of the sample */
  report(sampleId: string, own: Uint32Array, findings: FindingSink): void {
    const coarse = this.#gather(own);
    if (coarse.length === 0) return;
    this.#addFiner(own);
    const found = this.#subtotals(coarse);
    this.#clear(own);
    const [first] = found;
    if (first === undefined || !found.some((one) => one.isPlain)) return;
    const named = found.map((one) => `${one.name} ${one.animals}`);
    const rest = named.length > MOST_NAMED ? ` and ${named.length - MOST_NAMED} more` : "";
    const message = `${named.slice(0, MOST_NAMED).join(", ")}${rest}: as many animals as the rows of finer names within; if these rows are subtotals, animals of ${sampleId} count twice`;
    findings.add(finding("possible-subtotal", placeOfName(this.#table, first.row), { message, sampleId }));
  }

  /** Adds up the animals by taxon. @returns the taxa of family rank or coarser, without doubles */
  #gather(own: Uint32Array): number[] {
    const { ranks, operational } = this.#names.tree;
    const coarse: number[] = [];
    for (const row of own) {
      const taxon = this.#names.taxa[this.#table.nameAt(row)] as number;
      if (taxon < 0) continue;
      this.#own[taxon] = (this.#own[taxon] as number) + this.#table.countAt(row);
      const isFirst = this.#ownRow[taxon] === -1;
      if (isFirst) this.#ownRow[taxon] = row;
      if (isFirst && (ranks[taxon] as number) <= FAMILY && !operational.has(taxon)) coarse.push(taxon);
    }
    return coarse;
  }

  /** Adds each row to all taxa above its own. */
  #addFiner(own: Uint32Array): void {
    const { tree } = this.#names;
    for (const row of own) {
      const taxon = this.#names.taxa[this.#table.nameAt(row)] as number;
      if (taxon < 0) continue;
      const count = this.#table.countAt(row);
      for (let at = tree.parentOf(taxon); at >= 0; at = tree.parentOf(at)) {
        this.#finer[at] = (this.#finer[at] as number) + count;
        this.#finerRows[at] = (this.#finerRows[at] as number) + 1;
      }
    }
  }

  /** From the finest on: what is a subtotal itself is no animal of the coarser ones. */
  #subtotals(coarse: readonly number[]) {
    const { tree } = this.#names;
    const found: { name: string; animals: number; row: number; isPlain: boolean }[] = [];
    for (const taxon of [...coarse].sort((a, b) => b - a)) {
      const animals = this.#own[taxon] as number;
      const rows = this.#finerRows[taxon] as number;
      if (rows === 0 || animals === 0 || animals !== this.#finer[taxon]) continue;
      for (let at = tree.parentOf(taxon); at >= 0; at = tree.parentOf(at)) {
        this.#finer[at] = (this.#finer[at] as number) - animals;
        this.#finerRows[at] = (this.#finerRows[at] as number) - 1;
      }
      const isPlain = rows >= LEAST_ROWS && animals >= LEAST_ANIMALS;
      found.push({ name: tree.nameOf(taxon), animals, row: this.#ownRow[taxon] as number, isPlain });
    }
    return found.sort((a, b) => a.row - b.row);
  }

  #clear(own: Uint32Array): void {
    const { tree } = this.#names;
    for (const row of own) {
      const taxon = this.#names.taxa[this.#table.nameAt(row)] as number;
      for (let at = taxon; at >= 0; at = tree.parentOf(at)) {
        this.#own[at] = 0;
        this.#ownRow[at] = -1;
        this.#finer[at] = 0;
        this.#finerRows[at] = 0;
      }
    }
  }
}
