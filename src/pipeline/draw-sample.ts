import type { FindingSink } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import { divide, exactOf } from "../model/exact.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { fractionSorted } from "../model/sample-facts.ts";
import { applyCountRule } from "../subsample/fixed-count.ts";
import { targetRange } from "../subsample/target-range.ts";
import type { CountedPile } from "../taxa/counted-pile.ts";
import type { DrawResult } from "./result.ts";
import type { Pile, SamplePiles } from "./sample-piles.ts";
import type { Batch, ScoringChoices } from "./score-batch.ts";
import { fewGridsSorted, underTarget } from "./subsample/draw-findings.ts";

/** A pile after the draw: `count` animals of it remain, perhaps none. An undrawn pile is its own. */
export interface DrawnPile extends CountedPile {
  readonly pile: Pile;
}

/** The piles of a sample after the draw, in canonical order, and how it went. */
export interface Drawn {
  readonly piles: readonly DrawnPile[];
  readonly result: DrawResult;
  /** Animals of the main part that remain. */
  readonly kept: number;
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
  const undrawn = (target: number | undefined): Drawn => ({
    piles: piles.piles,
    result: { status: "not-drawn", target, algorithm: "", seed: choices.seed },
    kept: piles.counted,
    estimatedTotal,
  });
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
  const main = piles.piles.filter((pile) => !pile.largeRare);
  const outcome = applyCountRule({
    counts: main.map((pile) => pile.count),
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
  let drawn = 0;
  return {
    piles: piles.piles.map((pile) =>
      drawnPile(pile, pile.largeRare ? pile.count : (outcome.left[drawn++] as number)),
    ),
    result: { status: outcome.status, target, algorithm: outcome.algorithm, seed: choices.seed },
    kept: outcome.kept,
    estimatedTotal,
  };
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
