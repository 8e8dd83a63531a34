import { at } from "../model/at.ts";
import type { Community } from "../model/community.ts";
import { smallFloat64Array } from "../model/small-arrays.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import type { BatchTaxa } from "./batch-taxa.ts";
import type { CountedPiles } from "./counted-columns.ts";
import { columnsOf, PILE_BITS } from "./counted-columns.ts";
import type { CountedPile } from "./counted-pile.ts";
import { FinerRelation } from "./finer.ts";
import { NameOrder } from "./name-order.ts";
import { parentGroups } from "./parent-groups.ts";
import type { LargerSide, ParentGroup, ParentMethod } from "./parents.ts";
import { resolveParents } from "./parents.ts";
import { RecordScratch } from "./record-scratch.ts";
import { RichnessRule } from "./richness-rule.ts";

/** How a set turns piles into taxa. */
export interface AssemblyRules {
  readonly tree: TaxonTree;
  /** `CompiledLevel.target`: what each taxon is at the set's level. */
  readonly levelOf: Int32Array;
  /** Taxa that the set's scheme treats as another one; merged first, so that they count and score once. */
  readonly scoreAs?: ReadonlyMap<number, number> | undefined;
  readonly parents: ParentMethod;
  /** Whether large/rare finds add taxa to richness; they never add animals. */
  readonly largeRare: "richness" | "none";
  /** For sets of scope `batch`: a parent is one when a finer record is anywhere in the batch. */
  readonly batchTaxa?: BatchTaxa | undefined;
}

/** Animals that the parent rule moved; `to` is undefined for animals left out. */
export interface AnimalMove {
  readonly from: number;
  readonly to?: number | undefined;
  readonly animals: number;
}

/** A sample as the metrics see it, and what was done to it. */
export interface Assembled {
  readonly community: Community;
  /** Taxa whose records have finer ones of their line beside them, in code point order of their names. */
  readonly ambiguous: readonly number[];
  readonly moves: readonly AnimalMove[];
}

/** What the parent rule did to a sample. */
interface Moved {
  /** Ambiguous parents that had animals. */
  readonly parents: readonly number[];
  readonly moves: readonly AnimalMove[];
}

const NOTHING_MOVED: Moved = { parents: [], moves: [] };

/** Assembles communities, one sample after the other, under the same rules; reuses its working memory. */
export class CommunityAssembler {
  readonly #rules: AssemblyRules;
  readonly #target: Int32Array;
  readonly #nameOrder: NameOrder;
  readonly #relation: FinerRelation;
  readonly #scratch: RecordScratch;
  readonly #richness: RichnessRule;

  /** @throws RangeError when taxa are scored as one another in a circle */
  constructor(rules: AssemblyRules) {
    const { tree } = rules;
    this.#rules = rules;
    this.#target = Int32Array.from(rules.levelOf, (taxon) => scoredAs(taxon, rules.scoreAs, tree));
    this.#nameOrder = new NameOrder(tree);
    this.#relation = new FinerRelation(tree);
    this.#scratch = new RecordScratch(tree.size);
    // The other methods have dealt with the batch's parents before richness is worked out.
    const batchTaxa = rules.parents === "distinct" ? rules.batchTaxa : undefined;
    this.#richness = new RichnessRule(tree, this.#relation, batchTaxa);
  }

  /** The taxon as which records of `taxon` are counted: rolled up, then as the scheme treats it. */
  countedAs(taxon: number): number {
    return at(this.#target, taxon);
  }

  /** Taxa in code point order of their names. */
  byName(taxa: readonly number[]): Int32Array<ArrayBuffer> {
    return this.#nameOrder.sorted(taxa);
  }

  /** The records of a sample at the set's level before parents are dealt with, for `BatchTaxaCollector`. */
  records(piles: CountedPiles): { readonly taxa: number[]; readonly counts: number[] } {
    this.#gather(piles);
    const taxa = this.#scratch.presentTaxa();
    return { taxa, counts: taxa.map((taxon) => this.#scratch.countOf(taxon)) };
  }

  /** Turns the piles of one sample into the community that metrics are worked out from. */
  assemble(piles: CountedPiles): Assembled {
    const scratch = this.#scratch;
    this.#gather(piles);
    const { animals } = scratch;
    const { parents, moves } = this.#moveAnimals();
    // Moving leaves some taxa without animals and gives others their first.
    if (moves.length > 0) scratch.findPresent();
    const withFiner = this.#richness.apply(scratch);
    const ambiguous = parents.length === 0 ? withFiner : [...new Set([...parents, ...withFiner])];
    let leftOut = 0;
    for (const move of moves) if (move.to === undefined) leftOut += move.animals;
    // Not the sum of the counts: shares of distributed animals need not add up to the last digit.
    const community = this.#community(animals - leftOut);
    return {
      community,
      ambiguous: ambiguous.length === 0 ? [] : [...this.byName(ambiguous)],
      moves,
    };
  }

  /** The records that have animals or add to richness. Loops, since every sample of a batch comes through here. */
  #community(total: number): Community {
    const { present, presentSize } = this.#scratch;
    let size = 0;
    for (let i = 0; i < presentSize; i++) {
      const taxon = present[i] as number;
      if (!(this.#scratch.countOf(taxon) > 0 || this.#richness.richnessOf(taxon) > 0)) continue;
      this.#nameOrder.add(taxon);
      size++;
    }
    const taxa = this.#nameOrder.take(size);
    const counts = smallFloat64Array(taxa.length);
    const richness = smallFloat64Array(taxa.length);
    for (let i = 0; i < taxa.length; i++) {
      const taxon = taxa[i] as number;
      counts[i] = this.#scratch.countOf(taxon);
      richness[i] = this.#richness.richnessOf(taxon);
    }
    return { taxa, counts, richness, total };
  }

  /** Fills the working memory. */
  #gather(piles: CountedPiles): void {
    const { taxa, counts, before, bits, kinds, from, to, countsFrom } = columnsOf(piles);
    const isWithoutFinds = this.#rules.largeRare === "none";
    const target = this.#target;
    const scratch = this.#scratch;
    scratch.reset();
    for (let i = from; i < to; i++) {
      const said = bits[i] as number;
      if (isWithoutFinds && (said & PILE_BITS.find) !== 0) continue;
      const named = taxa[i] as number;
      const taxon = target[named] as number;
      // Rolled up, the kinds of a coarse row are one taxon.
      const stoodFor = taxon === named ? (kinds[i] as number) : 1;
      scratch.add(taxon, counts[countsFrom + i - from] as number, before[i] as number, said, stoodFor);
    }
    scratch.findPresent();
  }

  /** Applies the parent rule to the animals; large/rare finds take no part, they have none. */
  #moveAnimals(): Moved {
    if (this.#rules.parents === "distinct") return NOTHING_MOVED;
    const { taxa, counts, groups, larger } = this.#groups();
    const open = groups.map((group) => !this.#scratch.saysYes(at(taxa, group.parent)));
    const batchTaxa = this.#rules.batchTaxa;
    const outcome = resolveParents(
      this.#rules.parents,
      counts,
      groups.filter((_, i) => open[i] === true),
      batchTaxa && { counts: batchTaxa.counts, larger: larger.filter((_, i) => open[i] === true) },
    );
    const parents = groups.flatMap(({ parent }, i) =>
      open[i] === true && at(counts, parent) > 0 ? [at(taxa, parent)] : [],
    );
    for (let i = 0; i < taxa.length; i++) {
      const after = outcome.counts[i] as number;
      if (after !== counts[i]) this.#scratch.setCount(taxa[i] as number, after);
    }
    const moves = outcome.moves.map(({ from, to, animals }) => ({
      from: at(taxa, from),
      to: to < 0 ? undefined : at(taxa, to),
      animals,
    }));
    return { parents, moves };
  }

  /** The records with animals and the parents among them: the sample's own or those of the batch. */
  #groups(): {
    readonly taxa: ArrayLike<number>;
    readonly counts: ArrayLike<number>;
    readonly groups: readonly ParentGroup[];
    readonly larger: readonly LargerSide[];
  } {
    const { tree, batchTaxa } = this.#rules;
    const counted = [...this.#scratch.touched].filter((taxon) => this.#scratch.countOf(taxon) > 0);
    if (batchTaxa === undefined) {
      const counts = counted.map((taxon) => this.#scratch.countOf(taxon));
      return { taxa: counted, counts, groups: parentGroups(counted, tree, this.#relation), larger: [] };
    }
    const counts = new Float64Array(batchTaxa.taxa.length);
    for (const taxon of counted) {
      const position = at(batchTaxa.positions, taxon);
      if (position < 0) throw new RangeError(`the batch has no record of "${tree.nameOf(taxon)}"`);
      counts[position] = this.#scratch.countOf(taxon);
    }
    return { taxa: batchTaxa.taxa, counts, groups: batchTaxa.groups, larger: batchTaxa.larger };
  }
}

/** One sample by itself; for many, make one `CommunityAssembler`. */
export function assembleCommunity(piles: readonly CountedPile[], rules: AssemblyRules): Assembled {
  return new CommunityAssembler(rules).assemble(piles);
}

function scoredAs(taxon: number, scoreAs: ReadonlyMap<number, number> | undefined, tree: TaxonTree): number {
  let scored = taxon;
  for (let steps = 0; ; steps++) {
    const next = scoreAs?.get(scored);
    if (next === undefined) return scored;
    if (steps > tree.size) throw new RangeError(`"${tree.nameOf(taxon)}" is scored as itself in a circle`);
    scored = next;
  }
}
