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
  const { ranks, parents } = tree;
  for (let taxon = 0; taxon < target.length; taxon++) {
    const limit = limits[taxon] as number;
    let above = taxon;
    while ((ranks[above] as number) > limit && (parents[above] as number) >= 0)
      above = parents[above] as number;
    target[taxon] = above;
  }
  return target;
}

/**
 * Which taxa stay coarser than the level asks for: 1 for taxa whose records, rolled up, are of a coarser rank.
 *
 * @param targets what `compileLevel` gives of them
 * @throws RangeError as `compileLevel` does
 */
export function coarserThanLevel(
  level: LevelRule,
  tree: TaxonTree,
  targets = compileLevel(level, tree),
): Uint8Array {
  const limits = levelLimits(level, tree);
  const coarser = new Uint8Array(tree.size);
  for (let taxon = 0; taxon < coarser.length; taxon++) {
    const limit = limits[taxon] as number;
    if (limit < AS_NAMED && at(tree.ranks, at(targets, taxon)) < limit) coarser[taxon] = 1;
  }
  return coarser;
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
  const limits = new Uint8Array(tree.size).fill(limitOf(level.rank));
  if (exceptions.size === 0) return limits;
  // Parents stand before their children, so each taxon finds its parent's limit already there.
  for (let taxon = 0; taxon < limits.length; taxon++) {
    const parent = tree.parentOf(taxon);
    const own = exceptions.get(taxon);
    if (own !== undefined) limits[taxon] = limitOf(own);
    else if (parent >= 0) limits[taxon] = limits[parent] as number;
  }
  return limits;
}

function limitOf(rank: LevelRank): number {
  return rank === "as-named" ? AS_NAMED : RANKS.indexOf(rank);
}
