import type { TaxonTree } from "../model/taxon-tree.ts";

/**
 * Which records of a tree are finer than which: those below a taxon and, for a slash or species group, those
 * of its members. A record that has finer ones beside it is ambiguous: it may be the same animals' kind.
 *
 * The relation never runs in a circle, so whatever set of records there is, some of them have no finer one.
 */
export class FinerRelation {
  readonly #tree: TaxonTree;
  /** Members of the groups, by number of the group. */
  readonly #members = new Map<number, readonly number[]>();
  /** 1 for the groups, by number of the taxon: asked of every record. */
  readonly #isGroup: Uint8Array;

  constructor(tree: TaxonTree) {
    this.#tree = tree;
    this.#isGroup = new Uint8Array(tree.size);
    for (const [taxon, { members }] of tree.operational) {
      const numbers = members.flatMap((name) => tree.numberOf(name) ?? []);
      if (numbers.length === 0) continue;
      this.#members.set(taxon, numbers);
      this.#isGroup[taxon] = 1;
    }
  }

  /** Whether a taxon is a slash or species group with known members. */
  isGroup(taxon: number): boolean {
    return this.#isGroup[taxon] === 1;
  }

  /** Whether a record of taxon `a` is finer than one of taxon `b`. */
  isFiner(a: number, b: number): boolean {
    if (a === b) return false;
    return this.#tree.isWithin(a, b) || this.isCovered(a, b);
  }

  /** Whether a record of taxon `a` belongs to a member of the group `group` (false when that is no group). */
  isCovered(a: number, group: number): boolean {
    const members = this.#members.get(group);
    if (members === undefined || a === group) return false;
    const own = this.#members.get(a);
    if (own !== undefined) {
      // Of two groups the narrower is the finer one; equal groups have one name and never meet.
      return this.#allWithin(own, members) && !this.#allWithin(members, own);
    }
    const holder = this.#tree.parentOf(group);
    // A provisional name of the very taxon that holds the group is its neighbour, not its member.
    const place = this.#tree.operational.has(a) ? this.#tree.parentOf(a) : a;
    return place !== holder && members.some((member) => this.#tree.isWithin(place, member));
  }

  #allWithin(taxa: readonly number[], groups: readonly number[]): boolean {
    return taxa.every((taxon) => groups.some((group) => this.#tree.isWithin(taxon, group)));
  }
}
