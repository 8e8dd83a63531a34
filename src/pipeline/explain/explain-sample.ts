import { fractionSorted } from "../../model/sample-facts.ts";
import { intervalsFor } from "../intervals/batch-intervals.ts";
import type { PreparedSample } from "../prepare-sample.ts";
import { SamplePreparer } from "../prepare-sample.ts";
import { referencesFor } from "../reference-samples.ts";
import type { Pile } from "../sample-piles.ts";
import type { Batch, ScoringChoices } from "../score-batch.ts";
import { walkSample } from "../walk-sample.ts";
import { indexStory } from "./index-story.ts";
import { metricStories } from "./metric-story.ts";
import { rowStories } from "./row-stories.ts";
import type { DrawStory, PileStory, SampleStory } from "./story.ts";
import { taxonStories } from "./taxon-stories.ts";

/**
 * Walks one sample down the road that `scoreBatch` takes it, and tells every step.
 *
 * @param batch as `loadBatch` gives it: from sheets, or from what a run left behind
 * @returns undefined when the batch has no such sample
 */
export function explainSample(
  batch: Batch,
  choices: ScoringChoices,
  sampleId: string,
): SampleStory | undefined {
  const sample = batch.table.samples.numberOf(sampleId);
  if (sample === undefined) return undefined;
  const preparer = new SamplePreparer(batch, choices);
  const references = referencesFor(preparer);
  const plain = walkSample(preparer, sample, references);
  const road = intervalsFor(preparer, references)?.added(plain) ?? plain;
  const { score, findings, prepared, one, scored } = road;
  const { set } = batch.compiled;
  const known = {
    sampleId,
    set,
    facts: batch.log.get(sampleId),
    score,
    findings,
    rows: rowStories(batch, prepared.gathered),
    parents: `${preparer.rules.parents}, over the ${set.definition.scope === "batch" ? "whole batch" : "sample"}`,
  };
  if (prepared.kind === "stopped" || one === undefined || scored === undefined)
    return { ...known, draw: undefined, taxa: [], merges: [], moves: [], metrics: [], index: undefined };
  return {
    ...known,
    draw: drawStory(prepared, batch),
    ...taxonStories(preparer, prepared.drawn.piles),
    metrics: metricStories(batch.compiled, one, scored.metrics, scored.steps),
    index: choices.metricsOnly === true ? undefined : indexStory(set, score, scored),
  };
}

/** The sheet's own spelling, where rows of other spellings were summed into the pile that of its first row. */
function writtenName({ key, rows }: Pile, { names, table }: Batch): string {
  const [first] = rows;
  return first === undefined ? (names.keyNames[key] ?? "") : table.names.textOf(table.nameAt(first)).trim();
}

function drawStory(prepared: PreparedSample & { readonly kind: "ready" }, batch: Batch): DrawStory {
  const { drawn, one } = prepared;
  const piles = drawn.piles.map(
    ({ pile, count }): PileStory => ({
      name: writtenName(pile, batch),
      stage: pile.stage,
      largeRare: pile.largeRare,
      before: pile.count,
      after: count,
    }),
  );
  return {
    result: drawn.result,
    before: prepared.counted,
    after: drawn.kept,
    fractionSorted: fractionSorted(one.facts),
    estimatedTotal: drawn.estimatedTotal,
    piles,
  };
}
