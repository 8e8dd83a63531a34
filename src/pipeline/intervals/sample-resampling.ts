import type { FieldPart, ResamplingJob, ResamplingOutcome } from "../../scoring/intervals/resample.ts";
import { resample, USUAL_WAYS } from "../../scoring/intervals/resample.ts";
import type { SamplingDesign } from "../../scoring/intervals/variance-design.ts";
import { RESAMPLE_ALGORITHMS } from "../../subsample/resample/algorithms.ts";
import { GridDrawer } from "../../subsample/resample/grid-drawer.ts";
import { JarDrawer } from "../../subsample/resample/jar-drawer.ts";
import { WordBlocks } from "../../subsample/resample/word-block.ts";
import type { SamplePreparer } from "../prepare-sample.ts";
import type { SampleRoad } from "../walk-sample.ts";
import type { Evaluators } from "./evaluators.ts";
import type { RatingNumbers } from "./general-evaluator.ts";
import { observedOf } from "./general-evaluator.ts";
import { sampleDesign } from "./sampling-design.ts";

/** A sample ready to be resampled. */
export interface SampleResampling {
  readonly design: SamplingDesign;
  readonly job: ResamplingJob;
  run(): ResamplingOutcome;
}

/**
 * Makes a scored sample ready to be resampled.
 *
 * @returns undefined for a sample that was stopped, has no animals, or has counts that were expanded
 */
export function sampleResampling(
  preparer: SamplePreparer,
  road: SampleRoad,
  evaluators: Evaluators,
  ratings: RatingNumbers,
  field: FieldPart | undefined,
): SampleResampling | undefined {
  const { prepared, one, scored } = road;
  const { batch, choices } = preparer;
  const plan = choices.resampling;
  if (plan === undefined || prepared.kind === "stopped" || one === undefined || scored === undefined)
    return undefined;
  const { gathered, drawn, counted } = prepared;
  if (gathered.piles.hasExpanded || drawn.kept === 0) return undefined;
  const main = drawn.piles.filter((pile) => !pile.largeRare);
  const others = drawn.piles.filter((pile) => pile.largeRare);
  const { design, grids } = sampleDesign(
    { table: batch.table, rows: gathered.rows, main, facts: one.facts, counted, kept: drawn.kept },
    plan.confidence,
  );
  const counts = main.map(({ pile }) => pile.count);
  const words = (purpose: string) =>
    new WordBlocks(RESAMPLE_ALGORITHMS[design.kind].id, choices.seed, one.sampleId, purpose);
  const jar =
    grids === undefined
      ? new JarDrawer(counts, drawn.kept, design.jar, words("jar"))
      : new GridDrawer(grids, drawn.kept, design.onTray, words("jar"));
  const all = main.map((pile, at) => ({ ...pile, count: counts[at] ?? 0 }));
  const job: ResamplingJob = {
    plan,
    ways: USUAL_WAYS,
    design,
    jar,
    counted: counted > drawn.kept ? new JarDrawer(counts, drawn.kept, counted, words("counted")) : undefined,
    counts,
    evaluator: evaluators.evaluatorFor(one, all, others).evaluator,
    observed: observedOf(scored, ratings),
    words: words("unseen"),
    field,
  };
  return { design, job, run: () => resample(job) };
}
