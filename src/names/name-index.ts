import { at } from "../model/at.ts";
import { compareCodePoints } from "../model/order.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import { RANKS } from "../model/taxon-tree.ts";
import { lookupKey } from "./lookup-key.ts";
import type { SynonymRow } from "./synonyms.ts";

const GENUS = RANKS.indexOf("genus");

/** What names are resolved against. */
export interface NameTables {
  readonly tree: TaxonTree;
  readonly synonyms: readonly SynonymRow[];
}

/** The tables made ready for looking names up in any spelling; built once for a run. */
export class NameIndex {
  readonly tree: TaxonTree;
  readonly synonyms: readonly SynonymRow[];
  /** Taxon by key; -1 where two taxa share a key, so that only their exact names tell them apart. */
  readonly #taxonByKey = new Map<string, number>();
  readonly #synonymByKey = new Map<string, SynonymRow>();
  /** Rows of slash groups and species groups by the taxa they may stand for. */
  readonly #groupByMembers = new Map<string, SynonymRow>();

  constructor(tables: NameTables) {
    this.tree = tables.tree;
    this.synonyms = tables.synonyms;
    tables.tree.names.forEach((name, taxon) => {
      const key = lookupKey(name);
      this.#taxonByKey.set(key, this.#taxonByKey.has(key) ? -1 : taxon);
    });
    for (const row of tables.synonyms) {
      if (row.kind === "suffix") continue;
      const key = lookupKey(row.name);
      if (!this.#synonymByKey.has(key)) this.#synonymByKey.set(key, row);
      if (row.kind === "slash" || row.kind === "group") this.#addGroup(row);
    }
  }

  taxonByKey(key: string): number | undefined {
    const taxon = this.#taxonByKey.get(key);
    return taxon === -1 ? undefined : taxon;
  }

  synonymByKey(key: string): SynonymRow | undefined {
    return this.#synonymByKey.get(key);
  }

  /** The row that names a group of exactly these taxa; a slash group before a species group. */
  groupOf(members: readonly number[]): SynonymRow | undefined {
    return this.#groupByMembers.get(membersKey(members.map((member) => this.tree.nameOf(member))));
  }

  #addGroup(row: SynonymRow): void {
    const members = groupMembers(row, this.tree);
    // Immature worms with and without hair chaetae are both filed under their family: the family does not
    // tell them apart, so such rows are known by their own names only.
    const [first] = members;
    if (first === undefined) return;
    if (row.candidates.length === 0 && at(this.tree.ranks, first) < GENUS) return;
    const key = membersKey(members.map((member) => this.tree.nameOf(member)));
    const known = this.#groupByMembers.get(key);
    if (known === undefined || isBetterName(row, known)) this.#groupByMembers.set(key, row);
  }
}

/**
 * The taxa a slash or group row may stand for: its candidates, or the taxon it is filed under when none are
 * given (a species complex named after a species; immature worms of a family).
 */
export function groupMembers(row: SynonymRow, tree: TaxonTree): number[] {
  const names = row.candidates.length > 0 ? row.candidates : [row.accepted];
  return names.flatMap((name) => tree.numberOf(name) ?? []);
}

function membersKey(names: readonly string[]): string {
  return [...names].sort(compareCodePoints).join("|");
}

/** Which of two rows for the same taxa gives the name: a slash, then the word spelt out, then code point order. */
function isBetterName(row: SynonymRow, known: SynonymRow): boolean {
  if (row.kind !== known.kind) return row.kind === "slash";
  const spelled = (name: string) => !/\bgr\.?$/iu.test(name);
  if (spelled(row.name) !== spelled(known.name)) return spelled(row.name);
  return compareCodePoints(row.name, known.name) < 0;
}
