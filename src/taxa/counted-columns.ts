import type { CountedPile } from "./counted-pile.ts";

/**
 * What is said of a pile, one bit each. A pile of rows that say different things has the bits of all of them, and a
 * record those of all its piles.
 */
export const PILE_BITS = {
  /** Found by the large/rare search. */
  find: 2,
  /** A taxonomist forces it into richness. */
  yes: 4,
  /** A taxonomist keeps it out of richness. */
  no: 8,
  /** Something of it says neither. */
  open: 16,
} as const;

/**
 * The piles of a sample as columns, from place `from` up to `to`: what a `CountedPile` says, without an object for
 * each. Several samples may share the columns; whatever lies outside of the two places is another's.
 */
export interface CountedColumns {
  /** Numbers in the tree, before the roll-up. */
  readonly taxa: Int32Array;
  /** Animals left by the draw; those of the pile at `from` stand at `countsFrom`. */
  readonly counts: Float64Array;
  /** Animals before the draw; 0 where there was none and where that is not known. */
  readonly before: Float64Array;
  /** Bits of PILE_BITS. */
  readonly bits: Uint8Array;
  /** How many taxa each pile stands for. */
  readonly kinds: Float64Array;
  readonly from: number;
  readonly to: number;
  readonly countsFrom: number;
}

/** Piles in either form, in any order. */
export type CountedPiles = readonly CountedPile[] | CountedColumns;

/** The columns of piles. */
export function columnsOf(piles: CountedPiles): CountedColumns {
  return "taxa" in piles ? piles : columnsOfList(piles);
}

function columnsOfList(piles: readonly CountedPile[]): CountedColumns {
  return {
    taxa: Int32Array.from(piles, (pile) => pile.taxon),
    counts: Float64Array.from(piles, (pile) => pile.count),
    before: Float64Array.from(piles, (pile) => pile.beforeDraw ?? 0),
    bits: Uint8Array.from(piles, (pile) => pileBits(pile.largeRare, pile.distinct)),
    kinds: Float64Array.from(piles, (pile) => pile.numberOfTaxa),
    from: 0,
    to: piles.length,
    countsFrom: 0,
  };
}

/** The bits of a pile whose rows all say the same. */
export function pileBits(largeRare: boolean, distinct: CountedPile["distinct"]): number {
  const find = largeRare ? PILE_BITS.find : 0;
  if (distinct === "") return find | PILE_BITS.open;
  return find | (distinct === "yes" ? PILE_BITS.yes : PILE_BITS.no);
}

/** What the rows of a pile say together: kept out of richness only where every one of them says so. */
export function distinctOf(bits: number): CountedPile["distinct"] {
  if ((bits & PILE_BITS.yes) !== 0) return "yes";
  return (bits & PILE_BITS.no) !== 0 && (bits & PILE_BITS.open) === 0 ? "no" : "";
}
