import type { FixedCountDrawer } from "../../subsample/resample/jar-drawer.ts";
import type { ResampleEvaluator } from "./resampling-job.ts";

/** What single draws gave, each list in the order of the draws. */
export interface PlainDraws {
  /** How many different grids the animals of each are from. */
  readonly different: Float64Array;
  readonly indices: Float64Array;
  /** Values of each metric. */
  readonly values: readonly Float64Array[];
}

/**
 * Evaluates draws as they are, without taxa that were not met. A function of its own, and a small one: the engine
 * compiles a loop with all that is around it, and compiles it anew when anything there turns out otherwise.
 *
 * @param piles number of piles
 */
export function plainDraws(
  evaluator: ResampleEvaluator,
  drawer: FixedCountDrawer,
  piles: number,
  draws: number,
): PlainDraws {
  const { metrics } = evaluator;
  const counts = new Int32Array(piles);
  const none = new Float64Array(metrics);
  const different = new Float64Array(draws);
  const indices = new Float64Array(draws);
  const values = Array.from({ length: metrics }, () => new Float64Array(draws));
  for (let draw = 0; draw < draws; draw++) {
    different[draw] = drawer.draw(counts);
    evaluator.evaluate(counts, none);
    indices[draw] = evaluator.index;
    for (let metric = 0; metric < metrics; metric++) {
      const column = values[metric] as Float64Array;
      column[draw] = evaluator.values[metric] as number;
    }
  }
  return { different, indices, values };
}
