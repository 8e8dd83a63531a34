import { at } from "../model/at.ts";
import type { Rank, TaxonTree } from "../model/taxon-tree.ts";
import { RANKS } from "../model/taxon-tree.ts";

/** A rank to which finer records are rolled up, or `as-named` for records left as they are. */
export type LevelRank = Rank | "as-named";

/** The taxonomic level that a reference set asks for. */
export interface LevelRule {
  readonly rank: LevelRank;
  /** Groups kept at another level; the finest group that holds a taxon decides. */
  readonly exceptions: readonly { readonly taxon: string; readonly rank: LevelRank }[];
}

const AS_NAMED = RANKS.length;

/**
 * Works out the roll-up to a level. A record finer than its level becomes the taxon of that rank in its line
 * or, where the line has none of that rank, the next coarser one; a coarser record stays what it is.
 * Operational taxa go by their own rank (a slash of genera is at genus level) and roll up through their parent.
 *
 * @returns for each taxon what a record of it becomes: itself or a taxon above it, never one below
 * @throws RangeError when an exception names no taxon of the tree or one twice
 */
export function compileLevel(level: LevelRule, tree: TaxonTree): Int32Array {
  const limits = levelLimits(level, tree);
  const target = new Int32Array(tree.size);
  for (let taxon = 0; taxon < tree.size; taxon++) {
    const limit = at(limits, taxon);
    let above = taxon;
    while (at(tree.ranks, above) > limit && tree.parentOf(above) >= 0) above = tree.parentOf(above);
    target[taxon] = above;
  }
  return target;
}

/**
 * Which taxa stay coarser than the level asks for: 1 for taxa whose records, rolled up, are of a coarser rank.
 *
 * @throws RangeError as `compileLevel` does
 */
export function coarserThanLevel(level: LevelRule, tree: TaxonTree): Uint8Array {
  const limits = levelLimits(level, tree);
  const targets = compileLevel(level, tree);
  return Uint8Array.from(targets, (target, taxon) => {
    const limit = at(limits, taxon);
    return limit < AS_NAMED && at(tree.ranks, target) < limit ? 1 : 0;
  });
}

/** The finest rank allowed to each taxon, as a position in RANKS. */
function levelLimits(level: LevelRule, tree: TaxonTree): Uint8Array {
  const exceptions = new Map<number, LevelRank>();
  for (const { taxon, rank } of level.exceptions) {
    const group = tree.numberOf(taxon);
    if (group === undefined)
      throw new RangeError(`the level's exception "${taxon}" is not in the taxon tree`);
    if (exceptions.has(group)) throw new RangeError(`the level names the exception "${taxon}" twice`);
    exceptions.set(group, rank);
  }
  // Parents stand before their children, so each taxon finds its parent's limit already there.
  const limits = new Uint8Array(tree.size);
  for (let taxon = 0; taxon < tree.size; taxon++) {
    const parent = tree.parentOf(taxon);
    const own = exceptions.get(taxon);
    const inherited = parent < 0 ? limitOf(level.rank) : at(limits, parent);
    limits[taxon] = own === undefined ? inherited : limitOf(own);
  }
  return limits;
}

function limitOf(rank: LevelRank): number {
  return rank === "as-named" ? AS_NAMED : RANKS.indexOf(rank);
}
