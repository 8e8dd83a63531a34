import type { Finding } from "../../findings/finding.ts";
import type { FindingCode } from "../../findings/register.ts";
import type { CountRuleOutcome } from "../../subsample/fixed-count.ts";
import { repeatedCountRule } from "../../subsample/fixed-count.ts";
import { PILE_BITS } from "../../taxa/counted-columns.ts";
import type { GatheredPiles } from "../gathered-piles.ts";
import { emptySample, expandedCounts, fewGridsSorted, underTarget } from "./draw-findings.ts";
import type { DrawChoices, NextDraw } from "./drawn-sample.ts";
import { drawnOnce, keepPiles, refusedDraw } from "./kept-rows.ts";
import type { KeptTable } from "./kept-table.ts";
import type { SampleToDraw } from "./walk-samples.ts";

/**
 * Draws a sample animal by animal: exactly the target without replacement. The draw depends on the seed, the id
 * of the sample and its piles only, so it is the one that `score` makes.
 *
 * @param rest takes the rows that remain, those of a draw before it is given back
 */
export function drawByIndividual(
  sample: SampleToDraw,
  target: number,
  choices: DrawChoices,
  rest: KeptTable,
): NextDraw {
  const { piles, share } = sample;
  if (piles.hasExpanded && piles.counted > target)
    return drawnOnce(refusedDraw(sample, [expandedCounts(sample, target)]));
  const draws = choices.draws ?? 1;
  const nextOutcome = repeatedCountRule({
    counts: drawnCounts(piles.columns),
    target,
    fractionSorted: share,
    seed: choices.seed,
    sampleId: sample.sampleId,
    algorithm: choices.algorithm,
  });
  let done = 0;
  return () => {
    if (done++ === draws) return undefined;
    const outcome = nextOutcome();
    const { findings, notes } = notesOf(sample, target, outcome, choices);
    keepPiles(piles.columns, outcome.left, rest);
    return {
      status: outcome.status,
      counted: outcome.total,
      kept: outcome.kept,
      fractionSorted: share,
      estimatedTotal: outcome.estimatedTotal,
      algorithm: outcome.algorithm,
      findings,
      notes,
    };
  };
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

/** Animals of each pile in canonical order, none of those that are not drawn: an empty pile changes no draw. */
function drawnCounts({ places, counts, bits }: GatheredPiles): number[] {
  const drawn = new Array<number>(places.length);
  for (let at = 0; at < places.length; at++) {
    const place = places[at] as number;
    drawn[at] = ((bits[place] as number) & PILE_BITS.find) === 0 ? (counts[place] as number) : 0;
  }
  return drawn;
}
