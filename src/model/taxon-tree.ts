import { at } from "./at.ts";
import { compareCodePoints } from "./order.ts";

/** Ranks from coarse to fine. A child always has a finer rank than its parent. */
export const RANKS = [
  "kingdom",
  "phylum",
  "subphylum",
  "superclass",
  "class",
  "subclass",
  "infraclass",
  "superorder",
  "order",
  "suborder",
  "infraorder",
  "superfamily",
  "family",
  "subfamily",
  "tribe",
  "genus",
  "subgenus",
  "species-group",
  "species",
  "subspecies",
] as const;
export type Rank = (typeof RANKS)[number];

/** What happens to an animal of a taxon: it counts, it is left out, or it goes back to the stream alive. */
export type CountPolicy = "count" | "exclude" | "release";

/** One row of the tree as it is written; policy and reason are empty where they are inherited. */
export interface TaxonRow {
  readonly taxon: string;
  readonly rank: Rank;
  /** Empty for the root only. */
  readonly parent: string;
  readonly policy?: CountPolicy | undefined;
  readonly policyReason?: string | undefined;
  readonly status?: string | undefined;
  readonly commonGroup?: string | undefined;
}

/** A name of the bench that stands for no row of the tree: a slash group, a species group, a provisional name. */
export interface OperationalTaxon {
  readonly name: string;
  /** The lowest taxon of the tree that holds all of it. */
  readonly parent: string;
  /** The taxa it may stand for, when they are known (a slash group); empty for a provisional name. */
  readonly members: readonly string[];
  /** Its rank where it is known to be finer than the step below its parent: a slash of genera, a species "sp. A". */
  readonly rank?: Rank | undefined;
}

/**
 * The tree of taxa in arrays: a taxon is the number of its row, a parent always has a lower number than its
 * children. Immutable; `extend` makes a new tree.
 */
export class TaxonTree {
  readonly names: readonly string[];
  /** Position in RANKS of each taxon; operational taxa have their own or the one just below their parent's. */
  readonly ranks: Uint8Array;
  /** Number of the parent of each taxon; -1 for the root. */
  readonly parents: Int32Array;
  readonly policies: readonly CountPolicy[];
  readonly policyReasons: readonly string[];
  readonly commonGroups: readonly string[];
  readonly statuses: readonly string[];
  /** Taxa beyond the rows of the table, by number. */
  readonly operational: ReadonlyMap<number, OperationalTaxon>;
  readonly #byName: ReadonlyMap<string, number>;
  readonly #depths: Uint8Array;

  private constructor(parts: TreeParts) {
    this.names = parts.names;
    this.ranks = new Uint8Array(parts.ranks);
    this.parents = new Int32Array(parts.parents);
    this.policies = parts.policies;
    this.policyReasons = parts.policyReasons;
    this.commonGroups = parts.commonGroups;
    this.statuses = parts.statuses;
    this.operational = parts.operational;
    this.#byName = parts.byName;
    this.#depths = new Uint8Array(parts.names.length);
    for (let i = 0; i < parts.names.length; i++) {
      const parent = at(this.parents, i);
      this.#depths[i] = parent < 0 ? 0 : at(this.#depths, parent) + 1;
    }
  }

  /**
   * Builds the tree from rows in which every parent stands above its children.
   *
   * @throws RangeError naming the taxon when a name is there twice, a parent is missing or stands below its
   *   child, a child does not have a finer rank than its parent, or there is not exactly one root. Files are
   *   checked with findings before they get here; this guards the pure core.
   */
  static fromRows(rows: readonly TaxonRow[]): TaxonTree {
    const parts = emptyParts();
    const numbers = parts.byName;
    for (const row of rows) {
      if (numbers.has(row.taxon)) throw new RangeError(`taxon "${row.taxon}" is in the tree twice`);
      const parent = row.parent === "" ? -1 : numbers.get(row.parent);
      if (parent === undefined)
        throw new RangeError(`parent "${row.parent}" of "${row.taxon}" does not stand above it`);
      if (parent < 0 && numbers.size > 0)
        throw new RangeError(`taxon "${row.taxon}" has no parent and is not the root`);
      const rank = RANKS.indexOf(row.rank);
      if (parent >= 0 && rank <= at(parts.ranks, parent)) {
        throw new RangeError(
          `rank ${row.rank} of "${row.taxon}" is not below the rank of its parent "${row.parent}"`,
        );
      }
      numbers.set(row.taxon, parts.names.length);
      parts.names.push(row.taxon);
      parts.ranks.push(rank);
      parts.parents.push(parent);
      parts.policies.push(row.policy ?? parts.policies[parent] ?? "count");
      parts.policyReasons.push(
        row.policy === undefined ? (parts.policyReasons[parent] ?? "") : (row.policyReason ?? ""),
      );
      parts.commonGroups.push(row.commonGroup ?? "");
      parts.statuses.push(row.status ?? "accepted");
    }
    if (numbers.size === 0) throw new RangeError("the tree has no taxon");
    return new TaxonTree(parts);
  }

  /** A tree with operational taxa added, in code point order of their names; names already there are left alone. */
  extend(additions: readonly OperationalTaxon[]): TaxonTree {
    const fresh = additions.filter((addition) => !this.#byName.has(addition.name));
    if (fresh.length === 0) return this;
    const parts: TreeParts = {
      names: [...this.names],
      ranks: [...this.ranks],
      parents: [...this.parents],
      policies: [...this.policies],
      policyReasons: [...this.policyReasons],
      commonGroups: [...this.commonGroups],
      statuses: [...this.statuses],
      operational: new Map(this.operational),
      byName: new Map(this.#byName),
    };
    for (const addition of [...fresh].sort((a, b) => compareCodePoints(a.name, b.name))) {
      if (parts.byName.has(addition.name)) continue;
      const parent = this.numberOf(addition.parent);
      if (parent === undefined)
        throw new RangeError(`parent "${addition.parent}" of "${addition.name}" is not in the tree`);
      parts.operational.set(parts.names.length, addition);
      parts.byName.set(addition.name, parts.names.length);
      parts.names.push(addition.name);
      const below = Math.min(at(this.ranks, parent) + 1, RANKS.length - 1);
      parts.ranks.push(Math.max(below, addition.rank === undefined ? 0 : RANKS.indexOf(addition.rank)));
      parts.parents.push(parent);
      parts.policies.push(at(this.policies, parent));
      parts.policyReasons.push(at(this.policyReasons, parent));
      parts.commonGroups.push(at(this.commonGroups, parent));
      parts.statuses.push("operational");
    }
    return new TaxonTree(parts);
  }

  get size(): number {
    return this.names.length;
  }

  /** The number of a taxon by its exact name. */
  numberOf(name: string): number | undefined {
    return this.#byName.get(name);
  }

  /** The name of a taxon. @throws RangeError for a number that is not in the tree */
  nameOf(taxon: number): string {
    const name = this.names[taxon];
    if (name === undefined) throw new RangeError(`no taxon has the number ${taxon}`);
    return name;
  }

  /** The parent's number, or -1 for the root. */
  parentOf(taxon: number): number {
    // Every walk up the tree takes this step.
    return this.parents[taxon] as number;
  }

  rankOf(taxon: number): Rank {
    return at(RANKS, at(this.ranks, taxon));
  }

  /** How many steps below the root. */
  depthOf(taxon: number): number {
    return at(this.#depths, taxon);
  }

  /** Whether `taxon` is `group` or lies below it. */
  isWithin(taxon: number, group: number): boolean {
    // A parent has a lower number than its children.
    let above = taxon;
    while (above > group) above = this.parentOf(above);
    return above === group;
  }

  /** The taxon itself, its parent and so on up to the root. */
  lineage(taxon: number): number[] {
    const line: number[] = [];
    for (let above = taxon; above >= 0; above = this.parentOf(above)) line.push(above);
    return line;
  }

  /** The ancestor-or-self that has exactly this rank (never an operational taxon), if there is one. */
  ancestorAt(taxon: number, rank: Rank): number | undefined {
    const wanted = RANKS.indexOf(rank);
    for (let above = taxon; above >= 0; above = this.parentOf(above)) {
      if (!this.operational.has(above) && this.ranks[above] === wanted) return above;
    }
    return undefined;
  }

  /** The lowest taxon that holds both. */
  commonAncestor(a: number, b: number): number {
    let x = a;
    let y = b;
    while (x !== y) {
      if (x > y) x = this.parentOf(x);
      else y = this.parentOf(y);
    }
    return x;
  }
}

interface TreeParts {
  names: string[];
  ranks: number[];
  parents: number[];
  policies: CountPolicy[];
  policyReasons: string[];
  commonGroups: string[];
  statuses: string[];
  operational: Map<number, OperationalTaxon>;
  byName: Map<string, number>;
}

function emptyParts(): TreeParts {
  return {
    names: [],
    ranks: [],
    parents: [],
    policies: [],
    policyReasons: [],
    commonGroups: [],
    statuses: [],
    operational: new Map(),
    byName: new Map(),
  };
}
