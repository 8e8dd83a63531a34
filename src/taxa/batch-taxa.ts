import { at } from "../model/at.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import { FinerRelation } from "./finer.ts";
import { parentGroups } from "./parent-groups.ts";
import type { LargerSide, ParentGroup } from "./parents.ts";
import { decideLarger } from "./parents.ts";

/** The taxa of a whole batch, for sets that look at all samples before they deal with parents. */
export interface BatchTaxa {
  /** Taxa with records in any sample, at the set's level, by rising number. */
  readonly taxa: Int32Array;
  /** Animals of each over all samples. */
  readonly counts: Float64Array;
  /** Position of a taxon in `taxa`, by its number; -1 for taxa without a record. */
  readonly positions: Int32Array;
  /** 1 for taxa that have finer records somewhere in the batch, by number. */
  readonly hasFiner: Uint8Array;
  /** The ambiguous parents of the batch among records with animals, lowest first, as positions. */
  readonly groups: readonly ParentGroup[];
  /** What the method `larger` decides about each group. */
  readonly larger: readonly LargerSide[];
}

/** Gathers the taxa of a batch, one sample after the other. */
export class BatchTaxaCollector {
  readonly #tree: TaxonTree;
  readonly #counts: Float64Array;
  readonly #present: Uint8Array;

  constructor(tree: TaxonTree) {
    this.#tree = tree;
    this.#counts = new Float64Array(tree.size);
    this.#present = new Uint8Array(tree.size);
  }

  /** Adds the records of a sample: taxa at the set's level with their animals, 0 for large/rare finds. */
  add(taxa: ArrayLike<number>, counts: ArrayLike<number>): void {
    for (let i = 0; i < taxa.length; i++) {
      const taxon = taxa[i] as number;
      this.#counts[taxon] = (this.#counts[taxon] as number) + (counts[i] as number);
      this.#present[taxon] = 1;
    }
  }

  finish(): BatchTaxa {
    const relation = new FinerRelation(this.#tree);
    const taxa = Int32Array.from([...this.#present.keys()].filter((taxon) => this.#present[taxon] === 1));
    const counts = Float64Array.from(taxa, (taxon) => at(this.#counts, taxon));
    const positions = new Int32Array(this.#tree.size).fill(-1);
    taxa.forEach((taxon, position) => {
      positions[taxon] = position;
    });
    const hasFiner = new Uint8Array(this.#tree.size);
    for (const { parent } of parentGroups(taxa, this.#tree, relation)) hasFiner[at(taxa, parent)] = 1;
    const groups = countedGroups(taxa, counts, this.#tree, relation);
    return { taxa, counts, positions, hasFiner, groups, larger: decideLarger(counts, groups) };
  }
}

/** Large/rare finds without animals neither give nor take any, so they make no parent. */
function countedGroups(
  taxa: Int32Array,
  counts: Float64Array,
  tree: TaxonTree,
  relation: FinerRelation,
): ParentGroup[] {
  const positions = [...counts.keys()].filter((position) => at(counts, position) > 0);
  const counted = Int32Array.from(positions, (position) => at(taxa, position));
  return parentGroups(counted, tree, relation).map(({ parent, finer }) => ({
    parent: at(positions, parent),
    finer: finer.map((record) => at(positions, record)),
  }));
}
