import { at } from "../model/at.ts";
import { compareCodePoints } from "../model/order.ts";
import type { OperationalTaxon, Rank, TaxonTree } from "../model/taxon-tree.ts";
import { RANKS } from "../model/taxon-tree.ts";
import type { NameIndex } from "./name-index.ts";
import { groupMembers } from "./name-index.ts";
import type { SynonymRow } from "./synonyms.ts";

/**
 * The operational taxon of a slash group: "A/B" is one of A and B, nobody knows which.
 *
 * The order of the members does not matter: the table's name for the same taxa is used where it has one, else
 * the members' names in code point order ("Hydropsyche betteni/depravata" when they share a genus).
 *
 * @param members at least two taxa, none of which holds another
 */
export function slashGroup(members: readonly number[], index: NameIndex): OperationalTaxon {
  const { tree } = index;
  const names = members.map((member) => tree.nameOf(member)).sort(compareCodePoints);
  return {
    name: index.groupOf(members)?.name ?? joinedName(names),
    parent: tree.nameOf(holderOf(members, tree)),
    members: names,
    rank: coarsestRank(members, tree),
  };
}

/** The operational taxon of a group or complex named after one taxon: that taxon and its look-alikes. */
export function groupNamedAfter(taxon: number, index: NameIndex): OperationalTaxon {
  const { tree } = index;
  const name = tree.nameOf(taxon);
  const row = index.groupOf([taxon]);
  return {
    name: row?.name ?? `${name} group`,
    parent: tree.nameOf(Math.max(tree.parentOf(taxon), 0)),
    members: [name],
    rank: tree.rankOf(taxon),
  };
}

/** The operational taxon of a slash or group row of the synonym table; undefined when the tree has none of its taxa. */
export function tableGroup(row: SynonymRow, index: NameIndex): OperationalTaxon | undefined {
  const { tree } = index;
  const members = withoutNested(groupMembers(row, tree), tree);
  const [first] = members;
  if (first === undefined) return undefined;
  if (members.length > 1) return slashGroup(members, index);
  if (RANKS.indexOf(tree.rankOf(first)) >= RANKS.indexOf("genus")) return groupNamedAfter(first, index);
  // A part of a family or higher taxon (immature worms with hair chaetae): any of its taxa may be meant.
  const parent = tree.nameOf(first);
  return { name: row.name, parent, members: [parent], rank: undefined };
}

/** Leaves out taxa that another one of the list holds, and repeats. */
export function withoutNested(taxa: readonly number[], tree: TaxonTree): number[] {
  const distinct = [...new Set(taxa)];
  return distinct.filter(
    (taxon) => !distinct.some((other) => other !== taxon && tree.isWithin(taxon, other)),
  );
}

/** The lowest taxon that holds all of them, always above each of them. */
function holderOf(members: readonly number[], tree: TaxonTree): number {
  return members.reduce((a, b) => tree.commonAncestor(a, b));
}

function coarsestRank(members: readonly number[], tree: TaxonTree): Rank {
  return at(RANKS, Math.min(...members.map((member) => at(tree.ranks, member))));
}

/** "Cricotopus/Orthocladius"; "Hydropsyche betteni/depravata" when all are species of one genus. */
function joinedName(sorted: readonly string[]): string {
  const words = sorted.map((name) => name.split(" "));
  const genera = new Set(words.map(([genus]) => genus));
  if (genera.size !== 1 || words.some(({ length }) => length !== 2)) return sorted.join("/");
  return `${[...genera].join()} ${words.map(([, epithet]) => epithet).join("/")}`;
}
