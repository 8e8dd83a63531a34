import { Evaluators } from "../../../src/pipeline/intervals/evaluators.ts";
import { observedOf, RatingNumbers } from "../../../src/pipeline/intervals/general-evaluator.ts";
import { sampleResampling } from "../../../src/pipeline/intervals/sample-resampling.ts";
import { SamplePreparer } from "../../../src/pipeline/prepare-sample.ts";
import { walkSample } from "../../../src/pipeline/walk-sample.ts";
import type { Bounds } from "../../../src/scoring/intervals/interval.ts";
import { meanOf } from "../../../src/scoring/intervals/interval.ts";
import { resamplingPlan } from "../../../src/scoring/intervals/plan.ts";
import type { ResamplingOutcome } from "../../../src/scoring/intervals/resample.ts";
import type { Observed, ResamplingWays } from "../../../src/scoring/intervals/resampling-job.ts";
import { USUAL_WAYS } from "../../../src/scoring/intervals/resampling-job.ts";
import type { RandomStream } from "../../../src/subsample/stream.ts";
import { randomStream } from "../../../src/subsample/stream.ts";
import type { Picking } from "./simulate.ts";
import { subsamples } from "./simulate.ts";

/** What is asked of one jar. */
export interface StudyCase extends Picking {
  readonly reference: string;
  readonly stratum: string;
}

export interface StudySize {
  /** Draws whose mean is the truth. */
  readonly truth: number;
  readonly samples: number;
  readonly resamples: number;
  readonly interval?: "mean" | "another-draw";
}

/** How often the interval of one number holds the truth. */
export interface Coverage {
  readonly measure: string;
  readonly truth: number;
  /** Standard deviation of the number over samples. */
  readonly spread: number;
  /** Share of intervals that hold the truth, and of those that lie above and below it. */
  readonly holds: number;
  readonly above: number;
  readonly below: number;
  readonly width: number;
  /** Mean and standard deviation of the middles of the intervals. */
  readonly middle: number;
  readonly middleSpread: number;
  /** Root of the mean variance that the intervals rest on: right when it is `middleSpread`. */
  readonly claimed: number;
  /**
   * Degrees of freedom that the variances of the samples behave like: twice their squared mean by their variance
   * (Satterthwaite FE 1946, recalled).
   */
  readonly degrees: number;
}

export interface CaseResult {
  readonly ways: ResamplingWays;
  readonly coverage: readonly Coverage[];
  /** Mean support of the rating given, and the true share of draws that have the same rating as another. */
  readonly support: number;
  readonly agreement: number;
}

/** Samples are made and scored in batches of this many. */
const BATCH = 2000;

/** Measures how often intervals hold the mean over all draws; for several ways on the same samples. */
export async function study(
  one: StudyCase,
  size: StudySize,
  ways: readonly ResamplingWays[] = [USUAL_WAYS],
): Promise<CaseResult[]> {
  const name = `${one.jar.name}/${one.n}/${one.reference}/${one.stratum}`;
  const truth = await truthOf(one, size.truth, randomStream("coverage/1", "1", name, "truth"));
  const others = await truthOf(one, size.samples, randomStream("coverage/1", "1", name, "others"));
  const stream = randomStream("coverage/1", "1", name, "samples");
  const tallies = ways.map(() => new CoverageTally(truth, others, size.interval ?? "mean"));
  for (let done = 0; done < size.samples; done += BATCH) {
    const batch = await subsamples(
      one,
      Math.min(BATCH, size.samples - done),
      one.reference,
      one.stratum,
      stream,
    );
    const resampling = resamplingPlan({ resamples: size.resamples, interval: size.interval ?? "mean" });
    const preparer = new SamplePreparer(batch, { seed: "1", target: one.n, resampling });
    const ratings = truth.ratings;
    const evaluators = new Evaluators(preparer, ratings);
    for (let sample = 0; sample < batch.table.samples.size; sample++) {
      const road = walkSample(preparer, sample, undefined);
      for (const [at, way] of ways.entries()) {
        const prepared = sampleResampling(preparer, road, evaluators, ratings, undefined);
        if (prepared === undefined) throw new Error("a sample cannot be resampled");
        tallies[at]?.add(prepared.task.observed, prepared.run(way));
      }
    }
  }
  return tallies.map((tally, at) => tally.result(ways[at] ?? USUAL_WAYS));
}

interface Truth {
  readonly index: number;
  readonly values: readonly number[];
  readonly indexSpread: number;
  readonly spreads: readonly number[];
  readonly ids: readonly string[];
  readonly ratings: RatingNumbers;
  /** Share of draws by number of rating. */
  readonly ratingShares: ReadonlyMap<number, number>;
  readonly all: readonly Observed[];
}

async function truthOf(one: StudyCase, draws: number, stream: RandomStream): Promise<Truth> {
  const ratings = new RatingNumbers();
  const seen: Observed[] = [];
  let ids: readonly string[] = [];
  for (let done = 0; done < draws; done += BATCH) {
    const batch = await subsamples(one, Math.min(BATCH, draws - done), one.reference, one.stratum, stream);
    ids = batch.compiled.metrics.map(({ id }) => id);
    const preparer = new SamplePreparer(batch, { seed: "1", target: one.n });
    for (let sample = 0; sample < batch.table.samples.size; sample++) {
      const { scored, findings } = walkSample(preparer, sample, undefined);
      if (scored === undefined)
        throw new Error(findings.map(({ message }) => message).find((text) => text !== "") ?? "stopped");
      seen.push(observedOf(scored, ratings));
    }
  }
  const column = (pick: (one: Observed) => number) => seen.map(pick).filter((value) => !Number.isNaN(value));
  const shares = new Map<number, number>();
  for (const { rating } of seen) shares.set(rating, (shares.get(rating) ?? 0) + 1 / seen.length);
  const columns = ids.map((_, at) => column(({ values }) => values[at] ?? Number.NaN));
  const indices = column(({ index }) => index);
  return {
    index: meanOf(indices),
    values: columns.map(meanOf),
    indexSpread: spreadOf(indices),
    spreads: columns.map(spreadOf),
    ids,
    ratings,
    ratingShares: shares,
    all: seen,
  };
}

function spreadOf(values: readonly number[]): number {
  const mean = meanOf(values);
  return Math.sqrt(meanOf(values.map((value) => (value - mean) ** 2)));
}

/** What is counted of one number. */
class Tallied {
  holds = 0;
  above = 0;
  below = 0;
  width = 0;
  readonly middles: number[] = [];
  readonly variances: number[] = [];
}

/** Counts hits and misses over samples. */
class CoverageTally {
  readonly #truth: Truth;
  readonly #others: Truth;
  readonly #kind: "mean" | "another-draw";
  readonly #rows: Tallied[];
  #samples = 0;
  #support = 0;
  #agreement = 0;

  constructor(truth: Truth, others: Truth, kind: "mean" | "another-draw") {
    this.#truth = truth;
    this.#others = others;
    this.#kind = kind;
    this.#rows = ["index", ...truth.ids].map(() => new Tallied());
  }

  add(observed: Observed, outcome: ResamplingOutcome): void {
    const other = this.#others.all[this.#samples % this.#others.all.length];
    const isMean = this.#kind === "mean";
    this.#samples++;
    this.#support += outcome.support ?? 0;
    this.#agreement += this.#truth.ratingShares.get(observed.rating) ?? 0;
    this.#count(
      0,
      outcome.index,
      outcome.indexVariance,
      isMean ? this.#truth.index : (other?.index ?? Number.NaN),
    );
    for (const [at, { bounds, variance }] of outcome.metrics.entries())
      this.#count(
        at + 1,
        bounds,
        variance,
        isMean ? (this.#truth.values[at] ?? Number.NaN) : (other?.values[at] ?? Number.NaN),
      );
  }

  #count(at: number, bounds: Bounds | undefined, variance: number, truth: number): void {
    const row = this.#rows[at];
    if (row === undefined || bounds === undefined) return;
    // Slack for what floating point makes of equal numbers.
    const slack = 1e-9 * Math.max(1, Math.abs(truth));
    if (bounds.low > truth + slack) row.above++;
    else if (bounds.high < truth - slack) row.below++;
    else row.holds++;
    row.width += bounds.high - bounds.low;
    row.middles.push((bounds.low + bounds.high) / 2);
    row.variances.push(variance);
  }

  result(ways: ResamplingWays): CaseResult {
    const truths = [this.#truth.index, ...this.#truth.values];
    const spreads = [this.#truth.indexSpread, ...this.#truth.spreads];
    return {
      ways,
      coverage: ["index", ...this.#truth.ids].map((measure, at) => {
        const { holds, above, below, width, middles, variances } = this.#rows[at] ?? new Tallied();
        const claimed = meanOf(variances);
        const samples = Math.max(1, this.#samples);
        return {
          measure,
          truth: truths[at] ?? Number.NaN,
          spread: spreads[at] ?? Number.NaN,
          holds: holds / samples,
          above: above / samples,
          below: below / samples,
          width: width / samples,
          middle: meanOf(middles),
          middleSpread: spreadOf(middles),
          claimed: Math.sqrt(claimed),
          degrees: (2 * claimed ** 2) / spreadOf(variances) ** 2,
        };
      }),
      support: this.#support / Math.max(1, this.#samples),
      agreement: this.#agreement / Math.max(1, this.#samples),
    };
  }
}
