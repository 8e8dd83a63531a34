import type { Finding } from "../../findings/finding.ts";
import type { FindingCode } from "../../findings/register.ts";
import type { CountRuleOutcome } from "../../subsample/fixed-count.ts";
import { repeatCountRule } from "../../subsample/fixed-count.ts";
import { emptySample, expandedCounts, fewGridsSorted, underTarget } from "./draw-findings.ts";
import type { DrawChoices, KeptRow, SampleDraw } from "./drawn-sample.ts";
import { keptWhole, refusedDraw } from "./kept-rows.ts";
import type { SampleToDraw } from "./walk-samples.ts";

/**
 * Draws a sample animal by animal: exactly the target without replacement. The draw depends on the seed, the id
 * of the sample and its piles only, so it is the one that `score` makes.
 */
export function* drawByIndividual(
  sample: SampleToDraw,
  target: number,
  choices: DrawChoices,
): Generator<SampleDraw> {
  const { piles, main } = sample;
  if (piles.hasExpanded && piles.counted > target) {
    yield refusedDraw(sample, [expandedCounts(sample, target)]);
    return;
  }
  const input = {
    counts: main.map((pile) => pile.count),
    target,
    fractionSorted: sample.share,
    seed: choices.seed,
    sampleId: sample.sampleId,
    algorithm: choices.algorithm,
  };
  for (const outcome of repeatCountRule(input, choices.draws ?? 1)) {
    const { estimatedTotal, status, total, kept, algorithm } = outcome;
    yield {
      status,
      counted: total,
      kept,
      fractionSorted: sample.share,
      estimatedTotal,
      algorithm,
      remaining: keptPiles(sample, outcome.left),
      ...notesOf(sample, target, outcome, choices),
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

function keptPiles({ piles, main }: SampleToDraw, left: readonly number[]): KeptRow[] {
  const counts = new Map(main.map((pile, at) => [pile, left[at] as number]));
  return piles.piles.flatMap((pile) => {
    const count = counts.get(pile);
    return count === undefined ? [keptWhole(pile)] : count === 0 ? [] : [keptWhole(pile, count)];
  });
}
