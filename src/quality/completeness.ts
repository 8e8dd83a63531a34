import { at } from "../model/at.ts";
import type { Exact } from "../model/exact.ts";
import { fraction } from "../model/exact.ts";
import type { Rank, TaxonTree } from "../model/taxon-tree.ts";
import { RANKS } from "../model/taxon-tree.ts";
import type { SheetCounts } from "./match-sheets.ts";
import { percentOf } from "./percent.ts";

/** The level to which animals should have been named, with groups for which it is another one. */
export interface TargetLevel {
  /** `as-named` asks for nothing: every name reaches it. */
  readonly rank: Rank | "as-named";
  /** The finest group that holds a taxon decides. */
  readonly exceptions: readonly { readonly taxon: number; readonly rank: Rank | "as-named" }[];
}

/** Whether a name is at the target level or finer. */
export function reachesLevel(tree: TaxonTree, taxon: number, level: TargetLevel): boolean {
  let rank = level.rank;
  let depth = -1;
  for (const exception of level.exceptions) {
    if (!tree.isWithin(taxon, exception.taxon) || tree.depthOf(exception.taxon) <= depth) continue;
    rank = exception.rank;
    depth = tree.depthOf(exception.taxon);
  }
  if (rank === "as-named") return true;
  // A slash of two genera says no more than their family, a provisional name no more than its genus.
  const known = tree.operational.has(taxon) ? tree.parentOf(taxon) : taxon;
  return at(tree.ranks, known) >= RANKS.indexOf(rank);
}

/**
 * Percent taxonomic completeness (PTC): 100 x animals named to the target level / all animals (as recalled from
 * Stribling, Moulton and Lester 2003, J. N. Am. Benthol. Soc. 22:621-631). Undefined for an empty sheet.
 */
export function completeness(tree: TaxonTree, counts: SheetCounts, level: TargetLevel): Exact | undefined {
  let reached = 0;
  let total = 0;
  for (const [taxon, count] of counts) {
    total += count;
    if (reachesLevel(tree, taxon, level)) reached += count;
  }
  return percentOf(fraction(reached), fraction(total));
}
