import type { TaxonTree } from "../model/taxon-tree.ts";
import type { Leftover, NamePair } from "./leftover.ts";

/** Animals of one name that are still to be paired. */
interface Rest {
  readonly taxon: number;
  readonly isShared: boolean;
  /** Place in code point order of the names. */
  readonly place: number;
  count: number;
}

/**
 * Pairs what is left of two sheets with the nearest name on the other one, until one sheet has nothing left:
 * from the leaves of the tree upwards, everything below one taxon that can be paired there is. Within a taxon
 * names that only one of the sheets has come first (they must be some other name on the other sheet), then
 * larger numbers, then code point order.
 *
 * The pairing is the likeliest reading of two lists of counts, not knowledge: nobody wrote down which animal is
 * which. The numbers of animals that disagree do not depend on it.
 *
 * @param primary leftovers of the first sheet, in code point order of the names
 * @param recheck leftovers of the second sheet, in the same order
 */
export function matchNearest(
  tree: TaxonTree,
  primary: readonly Leftover[],
  recheck: readonly Leftover[],
): { pairs: NamePair[]; primaryLeft: Leftover[]; recheckLeft: Leftover[] } {
  const a = toRests(primary);
  const b = toRests(recheck);
  const pairs: NamePair[] = [];
  const waiting = new Map<number, { a: Rest[]; b: Rest[] }>();
  const at = (taxon: number) => {
    const both = waiting.get(taxon) ?? { a: [], b: [] };
    waiting.set(taxon, both);
    return both;
  };
  for (const rest of a) at(rest.taxon).a.push(rest);
  for (const rest of b) at(rest.taxon).b.push(rest);
  // Children before parents: deepest first.
  let depth = Math.max(0, ...[...waiting.keys()].map((taxon) => tree.depthOf(taxon)));
  for (; depth >= 0; depth--) {
    for (const taxon of [...waiting.keys()].filter((one) => tree.depthOf(one) === depth).sort(ascending)) {
      const both = at(taxon);
      pairUp(both.a.sort(firstToPair), both.b.sort(firstToPair), pairs);
      const parent = tree.parentOf(taxon);
      waiting.delete(taxon);
      if (parent < 0) continue;
      at(parent).a.push(...both.a.filter(({ count }) => count > 0));
      at(parent).b.push(...both.b.filter(({ count }) => count > 0));
    }
  }
  return { pairs, primaryLeft: toLeftovers(a), recheckLeft: toLeftovers(b) };
}

function pairUp(a: readonly Rest[], b: readonly Rest[], pairs: NamePair[]): void {
  let i = 0;
  let j = 0;
  for (;;) {
    const first = a[i];
    const second = b[j];
    if (first === undefined || second === undefined) return;
    const count = Math.min(first.count, second.count);
    pairs.push({ primary: first.taxon, recheck: second.taxon, count });
    first.count -= count;
    second.count -= count;
    if (first.count === 0) i++;
    if (second.count === 0) j++;
  }
}

function toRests(leftovers: readonly Leftover[]): Rest[] {
  return leftovers.map(({ taxon, isShared, count }, place) => ({ taxon, isShared, place, count }));
}

function toLeftovers(rests: readonly Rest[]): Leftover[] {
  return rests
    .filter(({ count }) => count > 0)
    .map(({ taxon, isShared, count }) => ({ taxon, isShared, count }));
}

function firstToPair(x: Rest, y: Rest): number {
  return Number(x.isShared) - Number(y.isShared) || y.count - x.count || x.place - y.place;
}

function ascending(x: number, y: number): number {
  return x - y;
}
