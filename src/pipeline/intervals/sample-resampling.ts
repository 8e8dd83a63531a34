import type { LeanModel } from "../../scoring/intervals/lean-model.ts";
import type { ResamplingOutcome } from "../../scoring/intervals/resample.ts";
import { resample } from "../../scoring/intervals/resample.ts";
import type { FieldPart, ResamplingWays } from "../../scoring/intervals/resampling-job.ts";
import { USUAL_WAYS } from "../../scoring/intervals/resampling-job.ts";
import type { ResamplingTask } from "../../scoring/intervals/task.ts";
import { jobOf } from "../../scoring/intervals/task.ts";
import { classesFor, classRange } from "../../scoring/rate.ts";
import type { SamplePreparer } from "../prepare-sample.ts";
import type { SampleRoad } from "../walk-sample.ts";
import type { Evaluators } from "./evaluators.ts";
import type { RatingNumbers } from "./general-evaluator.ts";
import { observedOf } from "./general-evaluator.ts";
import { sampleDesign } from "./sampling-design.ts";

/** A sample ready to be resampled. */
export interface SampleResampling {
  readonly task: ResamplingTask;
  /** What its resamples are worked out with in another thread; undefined when it must stay in this one. */
  readonly model: LeanModel | undefined;
  /** Resamples it here; in the usual ways when none are given. */
  run(ways?: ResamplingWays): ResamplingOutcome;
}

/**
 * Nobody counts so many animals of one sample: such counts were worked out or are slips, and to draw from them
 * thousands of times would take the memory and the time of all other samples together.
 */
export const MOST_RESAMPLED = 100_000;

/**
 * Makes a scored sample ready to be resampled.
 *
 * @returns undefined for a sample that was stopped, has no animals, more than are resampled, or counts that were
 *   expanded
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
  if (gathered.piles.hasExpanded || drawn.kept === 0 || counted > MOST_RESAMPLED) return undefined;
  const main = drawn.piles.filter((pile) => !pile.largeRare);
  const others = drawn.piles.filter((pile) => pile.largeRare);
  const { design, grids } = sampleDesign({
    table: batch.table,
    rows: gathered.rows,
    main,
    facts: one.facts,
    counted,
    kept: drawn.kept,
  });
  const counts = main.map(({ pile }) => pile.count);
  const all = main.map((pile, at) => ({ ...pile, count: counts[at] as number }));
  const { evaluator, model } = evaluators.evaluatorFor(one, all, others);
  const task: ResamplingTask = {
    plan,
    ways: USUAL_WAYS,
    design,
    counts,
    grids,
    seed: choices.seed,
    sampleId: one.sampleId,
    observed: observedOf(scored, ratings),
    scale: classRange(classesFor(batch.compiled.set.classes, one.stratum)),
    field,
  };
  return { task, model, run: (ways) => resample(jobOf({ ...task, ways: ways ?? USUAL_WAYS }, evaluator())) };
}
