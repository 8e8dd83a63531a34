import { at } from "../model/at.ts";

/**
 * What is done with ambiguous parents: records that have finer records of their line beside them.
 *
 * - `distinct`: nothing is moved; a parent adds no taxon to richness
 * - `remove`: parents are left out with their animals
 * - `merge`: the animals of finer records go to their parent
 * - `larger`: the side with more animals decides: finer records above the parent remove it, else they merge
 * - `distribute`: a parent's animals go to its finer records in proportion to theirs
 *
 * Method: Cuffney, Bilger & Haigler 2007, J. N. Am. Benthol. Soc. 26:286-307. The four methods that move
 * animals are named in its abstract; their arithmetic is from memory, to be checked against the paper.
 */
export const PARENT_METHODS = ["distinct", "remove", "merge", "larger", "distribute"] as const;
export type ParentMethod = (typeof PARENT_METHODS)[number];

/** An ambiguous parent and its finer records, as positions in a list of counts. */
export interface ParentGroup {
  readonly parent: number;
  readonly finer: readonly number[];
}

/** Animals that a method moved; `to` is -1 for animals left out. */
export interface ParentMove {
  readonly from: number;
  readonly to: number;
  readonly animals: number;
}

/** Counts after a method, in the order of the counts before it. */
export interface ParentOutcome {
  readonly counts: Float64Array;
  /** 1 for records that the method did away with. */
  readonly gone: Uint8Array;
  readonly moves: readonly ParentMove[];
}

/** Facts of the whole batch, for sets that deal with parents over all samples at once. */
export interface WholeBatch {
  /** Animals of each record over all samples. */
  readonly counts: ArrayLike<number>;
  /** For `larger`: what `decideLarger` said about each group of the batch. */
  readonly larger?: readonly LargerSide[] | undefined;
}

/** Which side of a group has more animals. */
export type LargerSide = "finer" | "parent";

/**
 * Deals with the ambiguous parents of one sample.
 *
 * @param counts animals of each record; not changed
 * @param groups lowest first: a group comes after those of the parents among its finer records
 * @param batch when the groups are those of the whole batch: `distribute` falls back on its counts where the
 *   sample has none of the finer records, and `larger` uses its decisions
 */
export function resolveParents(
  method: ParentMethod,
  counts: ArrayLike<number>,
  groups: readonly ParentGroup[],
  batch?: WholeBatch,
): ParentOutcome {
  const state = new ParentState(counts);
  if (method === "distinct") return state;
  if (method === "distribute") {
    for (const group of groups) state.distribute(group, batch?.counts);
    return state;
  }
  const sides = method === "larger" ? (batch?.larger ?? decideLarger(counts, groups)) : [];
  groups.forEach((group, i) => {
    const removes = method === "remove" || (method === "larger" && sides[i] === "finer");
    if (removes) state.remove(group.parent);
    else state.merge(group);
  });
  return state;
}

/**
 * Which side of each group is larger, lowest group first; what a lower group decided counts for the next.
 * Finer records win only with more animals than their parent: at equality they merge, which loses nobody
 * (the method's rule is "more than"; what happens at equality is not stated in its abstract).
 */
export function decideLarger(counts: ArrayLike<number>, groups: readonly ParentGroup[]): LargerSide[] {
  const state = new ParentState(counts);
  return groups.map((group) => {
    const side = state.sum(group.finer) > at(state.counts, group.parent) ? "finer" : "parent";
    if (side === "finer") state.remove(group.parent);
    else state.merge(group);
    return side;
  });
}

class ParentState implements ParentOutcome {
  readonly counts: Float64Array;
  readonly gone: Uint8Array;
  readonly moves: ParentMove[] = [];

  constructor(counts: ArrayLike<number>) {
    this.counts = Float64Array.from(counts);
    this.gone = new Uint8Array(counts.length);
  }

  sum(records: readonly number[]): number {
    let sum = 0;
    for (const record of records) sum += this.#count(record);
    return sum;
  }

  remove(parent: number): void {
    this.#move(parent, -1, this.#count(parent));
    this.gone[parent] = 1;
  }

  merge(group: ParentGroup): void {
    for (const record of group.finer) {
      this.#move(record, group.parent, this.#count(record));
      this.gone[record] = 1;
    }
  }

  /** Shares a parent's animals among its finer records; those that are parents themselves are gone by now. */
  distribute(group: ParentGroup, batch: ArrayLike<number> | undefined): void {
    const heirs = group.finer.filter((record) => this.gone[record] === 0);
    const inSample = heirs.map((record) => this.#count(record));
    const weights =
      batch === undefined || inSample.some((weight) => weight > 0)
        ? inSample
        : heirs.map((record) => at(batch, record));
    const total = weights.reduce((sum, weight) => sum + weight, 0);
    const animals = this.#count(group.parent);
    if (total <= 0) return;
    heirs.forEach((heir, i) => {
      this.#move(group.parent, heir, (animals * at(weights, i)) / total);
    });
    this.counts[group.parent] = 0;
    this.gone[group.parent] = 1;
  }

  #count(record: number): number {
    return this.counts[record] as number;
  }

  #move(from: number, to: number, animals: number): void {
    if (animals > 0) this.moves.push({ from, to, animals });
    this.counts[from] = this.#count(from) - animals;
    if (to >= 0) this.counts[to] = this.#count(to) + animals;
  }
}
