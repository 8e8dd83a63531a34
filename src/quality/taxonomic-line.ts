import type { TaxonTree } from "../model/taxon-tree.ts";

/** Which of two names is the coarser one when both stand on one line of the tree; undefined when they do not. */
export function coarserOf(tree: TaxonTree, a: number, b: number): number | undefined {
  if (a === b) return undefined;
  if (holds(tree, a, b)) return a;
  return holds(tree, b, a) ? b : undefined;
}

/** Steps from one taxon to the other through the lowest taxon that holds both. */
export function stepsBetween(tree: TaxonTree, a: number, b: number): number {
  return tree.depthOf(a) + tree.depthOf(b) - 2 * tree.depthOf(tree.commonAncestor(a, b));
}

/**
 * Whether `group` says the same as `taxon`, only less exactly: it is an ancestor, or a slash group with a member
 * that holds the taxon (a slash group lies beside its members in the tree, though it is coarser than each).
 */
function holds(tree: TaxonTree, group: number, taxon: number): boolean {
  if (tree.isWithin(taxon, group)) return true;
  const members = membersOf(tree, group);
  if (members.length === 0) return false;
  const parts = membersOf(tree, taxon);
  const within = (part: number) => members.some((member) => tree.isWithin(part, member));
  return parts.length === 0 ? within(taxon) : parts.every(within);
}

function membersOf(tree: TaxonTree, taxon: number): number[] {
  const members = tree.operational.get(taxon)?.members ?? [];
  return members.flatMap((name) => tree.numberOf(name) ?? []);
}
