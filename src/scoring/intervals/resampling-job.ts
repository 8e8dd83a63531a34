import type { RareTaxa } from "../../metrics/measures/rare-taxa.ts";
import type { FixedCountDrawer } from "../../subsample/resample/jar-drawer.ts";
import type { WordBlocks } from "../../subsample/resample/word-block.ts";
import type { IntervalForm } from "./interval.ts";
import type { ResamplingPlan } from "./plan.ts";
import type { SamplingDesign } from "./variance-design.ts";

/** Works out index, rating and metrics of one resample after the other. */
export interface ResampleEvaluator {
  /** Number of metrics. */
  readonly metrics: number;
  /** For each metric that is a number of taxa, the rare ones among those that it counts. */
  readonly rareTaxa: readonly (RareTaxa | undefined)[];
  /** Whether each metric is the share of the commonest taxa; which these are may change from draw to draw. */
  readonly isDominance: readonly boolean[];
  /** The index of the resample at hand, before it is rounded; NaN when it has none. */
  readonly index: number;
  /** Number of its rating; -1 for none. */
  readonly rating: number;
  /** Value of each metric; NaN for one that is missing. */
  readonly values: Float64Array;
  /** Which piece of its thresholds each metric falls into; -1 for none. */
  readonly pieces: Int32Array;
  /**
   * @param counts animals of each pile
   * @param finds what taxa not met so far add to each metric that counts taxa or their points
   */
  evaluate(counts: Int32Array, finds: Float64Array): void;
  /** Number of the rating that an index falls into. */
  ratingOf(index: number): number;
}

/** Ways to do what can be done in more than one way; which are used was decided by the coverage study. */
export interface ResamplingWays {
  readonly form: IntervalForm;
  /**
   * Taxa that were not met: not counted at all; found by all numbers of taxa of a resample together, few or many; or
   * by each number of taxa by itself.
   */
  readonly unseen: "none" | "together" | "apart";
}

export const USUAL_WAYS: ResamplingWays = { form: "normal", unseen: "together" };

/** What was observed: the score as it stands. */
export interface Observed {
  readonly index: number;
  readonly rating: number;
  readonly values: Float64Array;
  readonly pieces: Int32Array;
}

/** One sample to be resampled. */
export interface ResamplingJob {
  readonly plan: ResamplingPlan;
  readonly ways: ResamplingWays;
  readonly design: SamplingDesign;
  /** Draws from the jar as a whole. */
  readonly jar: FixedCountDrawer;
  /** Draws of the fixed count from the animals counted; undefined where the score rests on all of them. */
  readonly counted: FixedCountDrawer | undefined;
  /** Animals counted of each pile. */
  readonly counts: readonly number[];
  /** The same grid by grid; undefined where single animals are resampled. */
  readonly grids?: readonly Int32Array[] | undefined;
  /** Draws of `n` animals from some of those counted, for grids that are left out. */
  readonly restDrawer?: ((counts: readonly number[], n: number) => FixedCountDrawer) | undefined;
  readonly evaluator: ResampleEvaluator;
  readonly observed: Observed;
  /** For finds of taxa that were not met, and for the field part. */
  readonly words: WordBlocks;
  /** Ends of the scale of the index: no resample lies beyond, whatever was added to it. */
  readonly scale: readonly [number, number];
  /** Variance to be added for the field, of the index and of each metric; undefined for none. */
  readonly field?: FieldPart | undefined;
}

/** The field part of the variance, see `fieldVariance`. */
export interface FieldPart {
  readonly index: number;
  readonly metrics: readonly number[];
}
