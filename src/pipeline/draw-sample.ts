import type { FindingSink } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { fractionSorted } from "../model/sample-facts.ts";
import { applyCountRule } from "../subsample/fixed-count.ts";
import type { DrawResult } from "./result.ts";
import type { SamplePiles } from "./sample-piles.ts";
import type { Batch, ScoringChoices } from "./score-batch.ts";

/** Animals of one name, stage and part that remain after the draw. */
export interface DrawnPile {
  readonly taxon: number;
  readonly count: number;
  readonly largeRare: boolean;
  readonly distinct: "yes" | "no" | "";
  readonly numberOfTaxa: number;
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
): { readonly piles: readonly DrawnPile[]; readonly result: DrawResult } {
  const target =
    choices.target === undefined
      ? (batch.compiled.set.definition.count_rule.target ?? undefined)
      : (choices.target ?? undefined);
  if (target === undefined) {
    return { piles: piles.piles, result: { status: "not-drawn", target, algorithm: "", seed: choices.seed } };
  }
  if (piles.hasExpanded && piles.counted > target) {
    findings.add(
      finding("expanded-counts", place, {
        message: `sample ${sampleId} holds expanded counts, so ${target} animals cannot be drawn from its ${piles.counted}`,
        sampleId,
      }),
    );
    return { piles: piles.piles, result: { status: "not-drawn", target, algorithm: "", seed: choices.seed } };
  }
  const main = piles.piles.filter((pile) => !pile.largeRare);
  const outcome = applyCountRule({
    counts: main.map((pile) => pile.count),
    target,
    fractionSorted: fractionSorted(facts),
    seed: choices.seed,
    sampleId,
  });
  if (outcome.status === "under-target") {
    const share = fractionSorted(facts);
    findings.add(
      finding("under-target", place, {
        message: `sample ${sampleId} has ${piles.counted} of ${target} animals and ${share === undefined ? "it is not known how much of it was sorted" : `${Math.round(share * 1000) / 10} percent of it was sorted`}`,
        sampleId,
      }),
    );
  }
  const left = new Map(main.map((pile, index) => [pile, outcome.left[index] ?? 0]));
  return {
    piles: piles.piles
      .map((pile) => ({ ...pile, count: left.get(pile) ?? pile.count }))
      .filter((pile) => pile.largeRare || pile.count > 0),
    result: { status: outcome.status, target, algorithm: outcome.algorithm, seed: choices.seed },
  };
}
