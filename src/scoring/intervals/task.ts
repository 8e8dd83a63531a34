import { totalAnimals } from "../../subsample/piles.ts";
import { RESAMPLE_ALGORITHMS } from "../../subsample/resample/algorithms.ts";
import { GridDrawer } from "../../subsample/resample/grid-drawer.ts";
import type { FixedCountDrawer } from "../../subsample/resample/jar-drawer.ts";
import { JarDrawer } from "../../subsample/resample/jar-drawer.ts";
import { WordBlocks } from "../../subsample/resample/word-block.ts";
import { LeanEvaluator } from "./lean-evaluator.ts";
import type { LeanModel } from "./lean-model.ts";
import type { ResamplingPlan } from "./plan.ts";
import type { ResamplingOutcome } from "./resample.ts";
import { resample } from "./resample.ts";
import type {
  FieldPart,
  Observed,
  ResampleEvaluator,
  ResamplingJob,
  ResamplingWays,
} from "./resampling-job.ts";
import type { SamplingDesign } from "./variance-design.ts";

/** One sample to be resampled as plain data: everything but what evaluates its resamples. */
export interface ResamplingTask {
  readonly plan: ResamplingPlan;
  readonly ways: ResamplingWays;
  readonly design: SamplingDesign;
  /** Animals counted of each pile. */
  readonly counts: readonly number[];
  /** The same grid by grid; undefined where single animals are resampled. */
  readonly grids: readonly Int32Array[] | undefined;
  readonly seed: string;
  readonly sampleId: string;
  readonly observed: Observed;
  /** Ends of the scale of the index. */
  readonly scale: readonly [number, number];
  readonly field: FieldPart | undefined;
}

/** Makes a task ready; its random streams hang on the seed and the sample id alone. */
export function jobOf(task: ResamplingTask, evaluator: ResampleEvaluator): ResamplingJob {
  const { plan, ways, design, counts, grids, observed, scale, field } = task;
  const words = (purpose: string) =>
    new WordBlocks(RESAMPLE_ALGORITHMS[design.kind].id, task.seed, task.sampleId, purpose);
  const { drawn, counted } = design;
  return {
    plan,
    ways,
    design,
    jar:
      grids === undefined
        ? new JarDrawer(counts, drawn, design.jar, words("jar"))
        : new GridDrawer(grids, drawn, design.onTray, words("jar")),
    counted: counted > drawn ? new JarDrawer(counts, drawn, counted, words("counted")) : undefined,
    counts,
    grids,
    restDrawer: grids === undefined ? undefined : restDrawer(words("left-out")),
    evaluator,
    observed,
    scale,
    words: words("unseen"),
    field,
  };
}

/** Draws from animals counted, as they are and without replacement. */
function restDrawer(words: WordBlocks): (counts: readonly number[], n: number) => FixedCountDrawer {
  return (counts, n) => new JarDrawer(counts, n, totalAnimals(counts), words);
}

/** Resamples a sample from plain data alone, in whatever thread. */
export function runTask(task: ResamplingTask, model: LeanModel): ResamplingOutcome {
  return resample(jobOf(task, new LeanEvaluator(model)));
}
