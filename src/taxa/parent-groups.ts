import { at } from "../model/at.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import type { FinerRelation } from "./finer.ts";
import type { ParentGroup } from "./parents.ts";

/**
 * The ambiguous parents among records, lowest first: every parent comes after those of its own finer records.
 *
 * @param taxa numbers of different taxa, in any order; groups name them by position
 */
export function parentGroups(
  taxa: ArrayLike<number>,
  tree: TaxonTree,
  relation: FinerRelation,
): ParentGroup[] {
  const positions = new Map<number, number>();
  for (let i = 0; i < taxa.length; i++) positions.set(at(taxa, i), i);
  const finerOf = new Map<number, number[]>();
  const note = (parent: number, finer: number) => {
    const known = finerOf.get(parent);
    if (known === undefined) finerOf.set(parent, [finer]);
    else known.push(finer);
  };
  for (let i = 0; i < taxa.length; i++) {
    const taxon = at(taxa, i);
    for (let above = tree.parentOf(taxon); above >= 0; above = tree.parentOf(above)) {
      const parent = positions.get(above);
      if (parent !== undefined) note(parent, i);
    }
    if (!relation.isGroup(taxon)) continue;
    for (let j = 0; j < taxa.length; j++) if (relation.isCovered(at(taxa, j), taxon)) note(i, j);
  }
  const groups = [...finerOf].map(([parent, finer]) => ({ parent, finer }));
  // A lower parent's finer records are all among the higher one's, which has that parent besides: fewer is lower.
  return groups.sort((a, b) => a.finer.length - b.finer.length || at(taxa, a.parent) - at(taxa, b.parent));
}
