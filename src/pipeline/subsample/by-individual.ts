import type { Finding } from "../../findings/finding.ts";
import type { FindingCode } from "../../findings/register.ts";
import type { CountRuleOutcome } from "../../subsample/fixed-count.ts";
import { repeatCountRule } from "../../subsample/fixed-count.ts";
import { PILE_BITS } from "../../taxa/counted-columns.ts";
import type { GatheredPiles } from "../gathered-piles.ts";
import { emptySample, expandedCounts, fewGridsSorted, underTarget } from "./draw-findings.ts";
import type { DrawChoices, SampleDraw } from "./drawn-sample.ts";
import { keepPile, refusedDraw } from "./kept-rows.ts";
import type { KeptTable } from "./kept-table.ts";
import type { SampleToDraw } from "./walk-samples.ts";

/**
 * Draws a sample animal by animal: exactly the target without replacement. The draw depends on the seed, the id
 * of the sample and its piles only, so it is the one that `score` makes.
 *
 * @param rest takes the rows that remain, those of a draw before it is given back
 */
export function* drawByIndividual(
  sample: SampleToDraw,
  target: number,
  choices: DrawChoices,
  rest: KeptTable,
): Generator<SampleDraw> {
  const { piles } = sample;
  if (piles.hasExpanded && piles.counted > target) {
    yield refusedDraw(sample, [expandedCounts(sample, target)]);
    return;
  }
  const input = {
    counts: countsOf(piles.columns),
    target,
    fractionSorted: sample.share,
    seed: choices.seed,
    sampleId: sample.sampleId,
    algorithm: choices.algorithm,
  };
  for (const outcome of repeatCountRule(input, choices.draws ?? 1)) {
    const { estimatedTotal, status, total, kept, algorithm } = outcome;
    const { findings, notes } = notesOf(sample, target, outcome, choices);
    keepPiles(sample, outcome.left, rest);
    yield {
      status,
      counted: total,
      kept,
      fractionSorted: sample.share,
      estimatedTotal,
      algorithm,
      findings,
      notes,
    };
  }
}

function notesOf(
  sample: SampleToDraw,
  target: number,
  { status, total, estimatedTotal }: CountRuleOutcome,
  choices: DrawChoices,
): { readonly findings: readonly Finding[]; readonly notes: readonly FindingCode[] } {
  const findings: Finding[] = [];
  if (status === "under-target")
    findings.push(underTarget(sample.sampleId, sample.place, total, target, sample.share));
  if (status === "empty") findings.push(emptySample(sample));
  const few = fewGridsSorted(sample.sampleId, sample.place, sample.facts, estimatedTotal);
  if (few === undefined) return { findings, notes: [] };
  if (choices.showsEstimates === true) findings.push(few);
  return { findings, notes: ["few-grids"] };
}

/** Animals of each pile of the main part, in canonical order. */
function countsOf({ places, counts, bits }: GatheredPiles): number[] {
  const own = new Array<number>(places.length);
  let main = 0;
  for (let at = 0; at < places.length; at++) {
    const place = places[at] as number;
    if (((bits[place] as number) & PILE_BITS.find) === 0) own[main++] = counts[place] as number;
  }
  own.length = main;
  return own;
}

/** @param left animals left of each pile of the main part, in their order */
function keepPiles(
  { piles: { columns }, rows: { table } }: SampleToDraw,
  left: ArrayLike<number>,
  rest: KeptTable,
): void {
  const { places, counts, bits } = columns;
  let main = 0;
  for (let at = 0; at < places.length; at++) {
    const place = places[at] as number;
    const largeRare = ((bits[place] as number) & PILE_BITS.find) !== 0;
    const count = largeRare ? (counts[place] as number) : (left[main++] as number);
    if (count > 0 || largeRare) keepPile(columns, place, count, table, rest);
  }
}
