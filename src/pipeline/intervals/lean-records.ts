import type { TaxonTree } from "../../model/taxon-tree.ts";
import type { CountedPile } from "../../taxa/counted-pile.ts";

/** The records of a sample that its resamples are made of, whatever is drawn. */
export interface LeanRecords {
  /** Taxon of each entry. */
  readonly taxa: Int32Array;
  readonly entryOf: Int32Array;
  readonly kinds: Int32Array;
  readonly found: Uint8Array;
  readonly alwaysDistinct: Uint8Array;
  readonly parents: readonly { readonly entry: number; readonly finer: Int32Array }[];
}

interface Record {
  readonly kinds: number;
  readonly distinct: CountedPile["distinct"];
  found: boolean;
}

/**
 * Puts the piles of a sample together to records.
 *
 * @param main piles of which animals are drawn, in the order of the draw
 * @param others finds of the search for large and rare animals that add to richness
 * @param countedAs the taxon as which a pile is counted
 * @returns undefined where what a record stands for hangs on which of its piles are drawn, or a taxonomist called
 *   one not distinct: that is judged again for every draw, which the exact road does
 */
export function leanRecords(
  main: readonly CountedPile[],
  others: readonly CountedPile[],
  countedAs: (taxon: number) => number,
  tree: TaxonTree,
): LeanRecords | undefined {
  const numbers = new Map<number, number>();
  const records: Record[] = [];
  const add = (pile: CountedPile): number | undefined => {
    const taxon = countedAs(pile.taxon);
    const kinds = taxon === pile.taxon ? pile.numberOfTaxa : 1;
    if (pile.distinct === "no") return undefined;
    const known = numbers.get(taxon);
    const record = known === undefined ? undefined : records[known];
    if (known === undefined || record === undefined) {
      numbers.set(taxon, records.length);
      records.push({ kinds, distinct: pile.distinct, found: pile.largeRare });
      return records.length - 1;
    }
    if (record.kinds !== kinds || record.distinct !== pile.distinct) return undefined;
    record.found ||= pile.largeRare;
    return known;
  };
  const entryOf: number[] = [];
  for (const pile of main) {
    const entry = add(pile);
    if (entry === undefined) return undefined;
    entryOf.push(entry);
  }
  for (const pile of others) if (add(pile) === undefined) return undefined;
  const taxa = Int32Array.from(numbers.keys());
  return {
    taxa,
    entryOf: Int32Array.from(entryOf),
    kinds: Int32Array.from(records, ({ kinds }) => kinds),
    found: Uint8Array.from(records, ({ found }) => (found ? 1 : 0)),
    alwaysDistinct: Uint8Array.from(records, ({ distinct }) => (distinct === "yes" ? 1 : 0)),
    parents: parentsOf(taxa, numbers, tree),
  };
}

/** Entries with finer ones below them; children have higher numbers than parents, so the finest come first. */
function parentsOf(
  taxa: Int32Array,
  entryOf: ReadonlyMap<number, number>,
  tree: TaxonTree,
): LeanRecords["parents"] {
  const finerOf = new Map<number, number[]>();
  for (let entry = 0; entry < taxa.length; entry++)
    for (let above = tree.parentOf(taxa[entry] as number); above >= 0; above = tree.parentOf(above)) {
      const coarser = entryOf.get(above);
      if (coarser === undefined) continue;
      const finer = finerOf.get(coarser);
      if (finer === undefined) finerOf.set(coarser, [entry]);
      else finer.push(entry);
    }
  return [...finerOf]
    .sort(([a], [b]) => (taxa[b] as number) - (taxa[a] as number))
    .map(([entry, finer]) => ({ entry, finer: Int32Array.from(finer) }));
}
