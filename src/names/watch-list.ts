import type { TaxonTree } from "../model/taxon-tree.ts";

/** A taxon that the lab wants to hear of, with everything below it. */
export interface WatchedTaxon {
  /** Name in the tree. */
  readonly taxon: string;
  /** Why, in the lab's words: "invasive", "protected: call the agency". */
  readonly why: string;
}

/** The lab's list of taxa to watch for: invasive ones, protected ones. */
export class WatchList {
  readonly #tree: TaxonTree;
  readonly #byTaxon = new Map<number, WatchedTaxon>();
  /** Names of the list that are not in the tree. */
  readonly unknown: readonly string[];

  constructor(tree: TaxonTree, watched: readonly WatchedTaxon[]) {
    this.#tree = tree;
    const unknown: string[] = [];
    for (const entry of watched) {
      const taxon = tree.numberOf(entry.taxon);
      if (taxon === undefined) unknown.push(entry.taxon);
      else this.#byTaxon.set(taxon, entry);
    }
    this.unknown = unknown;
  }

  /**
   * The entry that a taxon falls under: its own or that of the nearest taxon above it. A slash or species group
   * falls under an entry when one of its members does: it may be that animal.
   */
  find(taxon: number): WatchedTaxon | undefined {
    for (let at = taxon; at >= 0; at = this.#tree.parentOf(at)) {
      const entry = this.#byTaxon.get(at);
      if (entry !== undefined) return entry;
    }
    for (const name of this.#tree.operational.get(taxon)?.members ?? []) {
      const member = this.#tree.numberOf(name);
      const entry = member === undefined ? undefined : this.find(member);
      if (entry !== undefined) return entry;
    }
    return undefined;
  }
}
