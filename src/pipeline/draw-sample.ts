import type { FindingSink } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import { divide, exactOf } from "../model/exact.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { fractionSorted } from "../model/sample-facts.ts";
import { smallFloat64Array } from "../model/small-arrays.ts";
import { applyCountRule } from "../subsample/fixed-count.ts";
import { targetRange } from "../subsample/target-range.ts";
import type { CountedColumns } from "../taxa/counted-columns.ts";
import type { CountedPile } from "../taxa/counted-pile.ts";
import type { GatheredPiles } from "./gathered-piles.ts";
import type { DrawResult } from "./result.ts";
import type { Pile, SamplePiles } from "./sample-piles.ts";
import type { Batch, ScoringChoices } from "./score-batch.ts";
import { fewGridsSorted, underTarget } from "./subsample/draw-findings.ts";

/** A pile after the draw: `count` animals of it remain, perhaps none. An undrawn pile is its own. */
export interface DrawnPile extends CountedPile {
  readonly pile: Pile;
}

/** The piles of a sample after the draw, and how it went. */
export interface Drawn {
  /** One by one in canonical order; made when they are asked for. */
  readonly piles: readonly DrawnPile[];
  /** The same for what asks for sums only. */
  readonly columns: CountedColumns;
  readonly result: DrawResult;
  /** Animals of the main part that remain. */
  readonly kept: number;
  /** Share of the sample that was sorted; undefined when that is not known. */
  readonly fractionSorted: number | undefined;
  /** Animals of the main part before the draw divided by the share sorted; undefined when that is not known. */
  readonly estimatedTotal: number | undefined;
}

/** Brings the main part of a sample to its fixed count; large and rare animals are never drawn. */
export function drawSample(
  batch: Batch,
  choices: ScoringChoices,
  sampleId: string,
  piles: SamplePiles,
  facts: SampleFacts | undefined,
  place: Place,
  findings: FindingSink,
): Drawn {
  const share = fractionSorted(facts);
  const estimatedTotal = share === undefined ? undefined : piles.counted / share;
  // Only metrics of totals and densities show the estimate, and no other rests on it.
  const few = fewGridsSorted(sampleId, place, facts, estimatedTotal);
  if (few !== undefined && !piles.hasExpanded && showsTotals(batch)) findings.add(few);
  const undrawn = (target: number | undefined): Drawn =>
    new DrawnPiles(
      piles,
      piles.columns,
      { status: "not-drawn", target, algorithm: "", seed: choices.seed },
      piles.counted,
      share,
      estimatedTotal,
    );
  const target =
    choices.target === undefined
      ? (batch.compiled.set.definition.count_rule.target ?? undefined)
      : (choices.target ?? undefined);
  if (target === undefined) return undrawn(target);
  if (piles.hasExpanded && piles.counted > target) {
    findings.add(
      finding("expanded-counts", place, {
        message: `sample ${sampleId} holds expanded counts, so ${target} animals cannot be drawn from its ${piles.counted}`,
        sampleId,
      }),
    );
    return undrawn(target);
  }
  const { columns } = piles;
  const main = mainPiles(columns);
  const outcome = applyCountRule({
    counts: main.map((pile) => columns.countAt(pile)),
    target,
    fractionSorted: share,
    ...(choices.target === undefined ? limitsOf(batch, target) : {}),
    seed: choices.seed,
    sampleId,
    algorithm: choices.algorithm,
  });
  if (outcome.status === "under-target") {
    findings.add(underTarget(sampleId, place, piles.counted, target, share));
  }
  return new DrawnPiles(
    piles,
    outcome.status === "drawn" ? withCounts(columns, main, outcome.left) : columns,
    { status: outcome.status, target, algorithm: outcome.algorithm, seed: choices.seed },
    outcome.kept,
    share,
    estimatedTotal,
  );
}

class DrawnPiles implements Drawn {
  readonly #gathered: SamplePiles;
  #list: readonly DrawnPile[] | undefined;
  readonly columns: CountedColumns;
  readonly result: DrawResult;
  readonly kept: number;
  readonly fractionSorted: number | undefined;
  readonly estimatedTotal: number | undefined;

  constructor(
    gathered: SamplePiles,
    columns: CountedColumns,
    result: DrawResult,
    kept: number,
    fractionSorted: number | undefined,
    estimatedTotal: number | undefined,
  ) {
    this.#gathered = gathered;
    this.columns = columns;
    this.result = result;
    this.kept = kept;
    this.fractionSorted = fractionSorted;
    this.estimatedTotal = estimatedTotal;
  }

  get piles(): readonly DrawnPile[] {
    this.#list ??= this.#made();
    return this.#list;
  }

  #made(): readonly DrawnPile[] {
    const { counts, countsFrom, from } = this.columns;
    const { piles, columns } = this.#gathered;
    if (this.columns === columns) return piles;
    return piles.map((pile, at) =>
      drawnPile(pile, counts[countsFrom + columns.placeOf(at) - from] as number),
    );
  }
}

/** The piles that are drawn from, in the order of the draw. */
function mainPiles(piles: GatheredPiles): number[] {
  const main: number[] = [];
  for (let pile = 0; pile < piles.size; pile++) if (!piles.isLargeRareAt(pile)) main.push(pile);
  return main;
}

/**
 * Piles with what a draw left of them.
 *
 * @param main the piles that were drawn from
 * @param left animals left of each of them
 */
function withCounts(
  gathered: GatheredPiles,
  main: readonly number[],
  left: ArrayLike<number>,
): CountedColumns {
  const { taxa, counts, before, bits, kinds, from, to } = gathered;
  const after = smallFloat64Array(to - from);
  for (let own = 0; own < after.length; own++) after[own] = counts[from + own] as number;
  for (let at = 0; at < main.length; at++)
    after[gathered.placeOf(main[at] as number) - from] = left[at] as number;
  return { taxa, counts: after, before, bits, kinds, from, to, countsFrom: 0 };
}

function showsTotals(batch: Batch): boolean {
  return batch.compiled.metrics.some(({ needs }) => needs.includes("fraction-sorted"));
}

/**
 * The set's own tolerance of its target: 190 of 200 within 20 percent are not too few, and 230 are not too many
 * where the method takes every count within the range as it is.
 */
function limitsOf(batch: Batch, target: number): { lowerLimit?: number; upperLimit?: number } {
  const { within_percent: within, draw_above } = batch.compiled.set.definition.count_rule;
  if (within === undefined) return {};
  const { lower, upper } = targetRange(target, divide(exactOf(within), exactOf(100)));
  return draw_above === "range" ? { lowerLimit: lower, upperLimit: upper } : { lowerLimit: lower };
}

/** Piles of which nothing is left stay in the list: a record called not distinct because of one is judged again. */
function drawnPile(pile: Pile, count: number): DrawnPile {
  const { taxon, largeRare, distinct, numberOfTaxa } = pile;
  return { pile, taxon, count, largeRare, distinct, numberOfTaxa, beforeDraw: pile.count };
}
