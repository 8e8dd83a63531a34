import { compareCodePoints } from "../model/order.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import type { Leftover, NamePair } from "./leftover.ts";
import { matchNearest } from "./match-nearest.ts";
import { matchSameLine } from "./match-same-line.ts";

/** Animals that count of each taxon on one sheet of one sample: whole numbers above zero, stages added up. */
export type SheetCounts = ReadonlyMap<number, number>;

/** Two sheets of the same animals laid side by side. Every animal of the larger sheet is in exactly one list. */
export interface SheetMatching {
  readonly primaryTotal: number;
  readonly recheckTotal: number;
  /** Animals that have the same name on both sheets. */
  readonly agreements: number;
  /** Two names of one line of the tree, for instance Baetis and Baetidae. */
  readonly sameLine: readonly NamePair[];
  readonly differentNames: readonly NamePair[];
  /** What only one of the sheets has; one of the lists is empty. */
  readonly onlyPrimary: readonly Leftover[];
  readonly onlyRecheck: readonly Leftover[];
}

/**
 * Lays two sheets of the same animals side by side: first the same names, then names of one line, then the
 * nearest other names, and what is left was counted on one sheet only.
 *
 * @throws RangeError when a count is not a whole number above zero
 */
export function matchSheets(tree: TaxonTree, primary: SheetCounts, recheck: SheetCounts): SheetMatching {
  const primaryTotal = total(primary);
  const recheckTotal = total(recheck);
  let agreements = 0;
  for (const [taxon, count] of primary) agreements += Math.min(count, recheck.get(taxon) ?? 0);
  const primaryLeft = leftovers(tree, primary, recheck);
  const recheckLeft = leftovers(tree, recheck, primary);
  const sameLine = matchSameLine(tree, primaryLeft, recheckLeft);
  const nearest = matchNearest(
    tree,
    without(primaryLeft, sameLine, "primary"),
    without(recheckLeft, sameLine, "recheck"),
  );
  return {
    primaryTotal,
    recheckTotal,
    agreements,
    sameLine,
    differentNames: nearest.pairs,
    onlyPrimary: nearest.primaryLeft,
    onlyRecheck: nearest.recheckLeft,
  };
}

function total(counts: SheetCounts): number {
  let sum = 0;
  for (const count of counts.values()) {
    if (!Number.isSafeInteger(count) || count <= 0)
      throw new RangeError(`not a whole number of animals above zero: ${count}`);
    sum += count;
  }
  return sum;
}

function leftovers(tree: TaxonTree, own: SheetCounts, other: SheetCounts): Leftover[] {
  return [...own]
    .map(([taxon, count]) => ({
      taxon,
      count: count - Math.min(count, other.get(taxon) ?? 0),
      isShared: other.has(taxon),
    }))
    .filter(({ count }) => count > 0)
    .sort((a, b) => compareCodePoints(tree.nameOf(a.taxon), tree.nameOf(b.taxon)));
}

function without(
  all: readonly Leftover[],
  pairs: readonly NamePair[],
  sheet: "primary" | "recheck",
): Leftover[] {
  const taken = new Map<number, number>();
  for (const pair of pairs) taken.set(pair[sheet], (taken.get(pair[sheet]) ?? 0) + pair.count);
  return all
    .map((leftover) => ({ ...leftover, count: leftover.count - (taken.get(leftover.taxon) ?? 0) }))
    .filter(({ count }) => count > 0);
}
