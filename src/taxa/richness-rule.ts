import type { TaxonTree } from "../model/taxon-tree.ts";
import type { BatchTaxa } from "./batch-taxa.ts";
import type { FinerRelation } from "./finer.ts";
import { MetLines } from "./met-lines.ts";
import type { RecordScratch } from "./record-scratch.ts";

/**
 * How many taxa each record adds to richness.
 *
 * A record adds the taxa it stands for (one, unless a coarse tally row says more) less those that its finer
 * records add already: an ambiguous parent usually adds none. A taxonomist's `yes` adds it in any case, a `no`
 * never; after a draw a `no` is judged again when nothing is left of the records it may have referred to.
 * Common practice of index programmes that count distinct taxa, no source.
 */
export class RichnessRule {
  readonly #tree: TaxonTree;
  readonly #relation: FinerRelation;
  readonly #batch: BatchTaxa | undefined;
  readonly #lines: MetLines;
  /** Taxa that the finer records below each taxon add; only entries of the records at hand mean anything. */
  readonly #below: Float64Array;
  readonly #richness: Float64Array;
  /** Memory for the order of the records at hand. */
  readonly #order: Int32Array;

  constructor(tree: TaxonTree, relation: FinerRelation, batch?: BatchTaxa) {
    this.#tree = tree;
    this.#relation = relation;
    this.#batch = batch;
    this.#lines = new MetLines(tree);
    this.#below = new Float64Array(tree.size);
    this.#richness = new Float64Array(tree.size);
    this.#order = new Int32Array(tree.size);
  }

  /**
   * Works out the richness of the records of a sample, those that were found present.
   *
   * @returns the taxa that have finer records, in the order in which they were met
   */
  apply(scratch: RecordScratch): number[] {
    const { above, isMet } = this.#lines;
    const { present, presentSize } = scratch;
    let groups = 0;
    for (let i = 0; i < presentSize; i++) {
      const taxon = present[i] as number;
      if (this.#relation.isGroup(taxon)) groups++;
      if (isMet[taxon] === 0) this.#lines.meet(taxon);
      // Taxa of other samples gather sums too, which nobody asks for: to look who is here would take longer.
      this.#below[taxon] = -1;
    }
    const ambiguous: number[] = [];
    const order = groups === 0 ? this.#finestFirst(scratch) : this.#withGroups(scratch.presentTaxa());
    for (let i = 0; i < presentSize; i++) {
      const taxon = order[i] as number;
      let finer = this.#below[taxon] as number;
      if (groups > 0 && this.#relation.isGroup(taxon))
        finer = Math.max(finer, this.#ofMembers(taxon, scratch));
      if (this.#batch?.hasFiner[taxon] === 1) finer = Math.max(finer, 1);
      if (finer >= 0) ambiguous.push(taxon);
      const richness = this.#judge(taxon, Math.max(finer, 0), scratch);
      this.#richness[taxon] = richness;
      for (let at = above[taxon] as number; at >= 0; at = above[at] as number)
        this.#below[at] = Math.max(this.#below[at] as number, 0) + richness;
    }
    return ambiguous;
  }

  /** What `apply` found for a taxon of the sample. */
  richnessOf(taxon: number): number {
    return this.#richness[taxon] as number;
  }

  #judge(taxon: number, finer: number, scratch: RecordScratch): number {
    const kinds = scratch.kindsOf(taxon);
    if (scratch.saysYes(taxon)) return kinds;
    if (scratch.saysNo(taxon) && !(scratch.anyLost && this.#reasonIsLost(taxon, scratch))) return 0;
    return Math.max(0, kinds - finer);
  }

  /**
   * Whether the draw took the records because of which a record was called not distinct: finer ones, or else
   * others under the same parent. Nobody wrote down which; while one of them is left the `no` stands.
   */
  #reasonIsLost(taxon: number, scratch: RecordScratch): boolean {
    const isFiner = (other: number) => this.#relation.isFiner(other, taxon);
    const parent = this.#tree.parentOf(taxon);
    const isNeighbour = (other: number) =>
      other !== taxon && other !== parent && parent >= 0 && this.#tree.isWithin(other, parent);
    const isReason = scratch.touched.some(isFiner) ? isFiner : isNeighbour;
    return scratch.touched.some(isReason) && !scratch.presentTaxa().some(isReason);
  }

  /** Taxa added by the records of a group's members; -1 when the sample has none. */
  #ofMembers(group: number, scratch: RecordScratch): number {
    let sum = -1;
    for (const other of scratch.presentTaxa()) {
      if (this.#relation.isCovered(other, group)) sum = Math.max(sum, 0) + this.richnessOf(other);
    }
    return sum;
  }

  /**
   * An order in which every record comes after its finer ones. Children have higher numbers than parents; where
   * nothing finer was ever met, the order is of no matter.
   */
  #finestFirst({ present, presentSize }: RecordScratch): Int32Array {
    const { hasBelow } = this.#lines;
    const order = this.#order;
    let first = 0;
    let last = presentSize;
    for (let i = 0; i < presentSize; i++) {
      const taxon = present[i] as number;
      if (hasBelow[taxon] === 0) order[first++] = taxon;
      else order[--last] = taxon;
    }
    sortDescending(order, first, presentSize);
    return order;
  }

  /** The same where there are groups: one comes between the taxon that holds it and all that lies below that. */
  #withGroups(present: readonly number[]): number[] {
    const groups = present.filter((taxon) => this.#relation.isGroup(taxon));
    const covered = new Map(
      groups.map((group) => [
        group,
        present.filter((other) => this.#relation.isCovered(other, group)).length,
      ]),
    );
    const place = (taxon: number) => (covered.has(taxon) ? this.#tree.parentOf(taxon) + 0.5 : taxon);
    // Only groups share a place, those under one taxon.
    const covers = (group: number) => covered.get(group) as number;
    return [...present].sort((a, b) => place(b) - place(a) || covers(a) - covers(b) || a - b);
  }
}

/** Lists up to this length are sorted by insertion; a call into the runtime costs more than that. */
const SHORT = 40;

/** Sorts the numbers from one place up to another from the highest to the lowest. */
function sortDescending(numbers: Int32Array, from: number, to: number): void {
  if (to - from > SHORT) {
    numbers.subarray(from, to).sort().reverse();
    return;
  }
  for (let next = from + 1; next < to; next++) {
    const number = numbers[next] as number;
    let at = next - 1;
    for (; at >= from && (numbers[at] as number) < number; at--) numbers[at + 1] = numbers[at] as number;
    numbers[at + 1] = number;
  }
}
