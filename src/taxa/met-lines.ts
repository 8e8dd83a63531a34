import { at } from "../model/at.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";

/**
 * The lines of a tree without the taxa that no record has had so far. Of the ten or so taxa above a genus a batch
 * has records of one or two, and only those can have finer records beside them.
 *
 * What it has met changes how long a walk along a line is, and never where records lie.
 */
export class MetLines {
  /** For a taxon that was met, the nearest one above it that was met too; -1 where there is none. */
  readonly above: Int32Array;
  /** 1 for a taxon that was met with one below it. */
  readonly hasBelow: Uint8Array;
  /** 1 for a taxon that was met. */
  readonly isMet: Uint8Array;
  readonly #tree: TaxonTree;
  readonly #met: number[] = [];

  constructor(tree: TaxonTree) {
    this.#tree = tree;
    this.above = new Int32Array(tree.size).fill(-1);
    this.hasBelow = new Uint8Array(tree.size);
    this.isMet = new Uint8Array(tree.size);
  }

  /** Puts a taxon into the lines; once, which `isMet` tells. */
  meet(taxon: number): void {
    const tree = this.#tree;
    let nearest = tree.parentOf(taxon);
    while (nearest >= 0 && this.isMet[nearest] === 0) nearest = tree.parentOf(nearest);
    this.above[taxon] = nearest;
    if (nearest >= 0) this.hasBelow[nearest] = 1;
    for (const other of this.#met) {
      // Of two taxa above a third the one with the higher number is the lower one.
      if (other < taxon || !tree.isWithin(other, taxon)) continue;
      this.hasBelow[taxon] = 1;
      if (at(this.above, other) < taxon) this.above[other] = taxon;
    }
    this.#met.push(taxon);
    this.isMet[taxon] = 1;
  }
}
