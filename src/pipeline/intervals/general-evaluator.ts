import type { FindingSink } from "../../findings/collector.ts";
import type { RareTaxa } from "../../metrics/measures/rare-taxa.ts";
import { add, exactOf, roundExact, toNumber } from "../../model/exact.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { exactValue, valueAsNumber } from "../../model/metric-value.ts";
import type { Observed, ResampleEvaluator } from "../../scoring/intervals/resampling-job.ts";
import { classesFor, rate } from "../../scoring/rate.ts";
import type { CountedPile } from "../../taxa/counted-pile.ts";
import type { SamplePreparer } from "../prepare-sample.ts";
import type { ScoringCase } from "../score-sample.ts";
import { measureRaw } from "../score-sample.ts";
import type { ScoredValues } from "../score-values.ts";
import { scoreValues } from "../score-values.ts";

/** Whatever there is to say of a resample is no finding about the sample. */
const UNHEARD: FindingSink = { add: () => undefined };

/** Names of ratings as numbers, for one stratum or many. */
export class RatingNumbers {
  readonly #numbers = new Map<string, number>();
  readonly names: string[] = [];

  numberOf(rating: string): number {
    if (rating === "") return -1;
    const known = this.#numbers.get(rating);
    if (known !== undefined) return known;
    this.#numbers.set(rating, this.names.length);
    this.names.push(rating);
    return this.names.length - 1;
  }

  nameOf(rating: number): string {
    return this.names[rating] ?? "";
  }
}

/**
 * Scores resamples as samples are scored, in exact arithmetic and with every rule of the set: the road for sets and
 * samples that have no quicker form, and what the quicker form is compared with.
 */
export class GeneralEvaluator implements ResampleEvaluator {
  readonly metrics: number;
  readonly rareTaxa: readonly (RareTaxa | undefined)[];
  readonly isDominance: readonly boolean[];
  readonly values: Float64Array;
  readonly pieces: Int32Array;
  index = Number.NaN;
  rating = -1;
  readonly #preparer: SamplePreparer;
  readonly #one: ScoringCase;
  readonly #ratings: RatingNumbers;
  readonly #main: readonly CountedPile[];
  readonly #others: readonly CountedPile[];

  /**
   * @param main piles of which animals are drawn, in the order of the draw, with all that were counted
   * @param others those of the search for large and rare animals
   */
  constructor(
    preparer: SamplePreparer,
    one: ScoringCase,
    main: readonly CountedPile[],
    others: readonly CountedPile[],
    ratings: RatingNumbers,
  ) {
    this.#preparer = preparer;
    this.#one = one;
    this.#ratings = ratings;
    this.#main = main;
    this.#others = others;
    const { metrics } = preparer.batch.compiled;
    this.metrics = metrics.length;
    this.values = new Float64Array(metrics.length);
    this.pieces = new Int32Array(metrics.length);
    const { community } = preparer.assemble([...main, ...others]);
    this.isDominance = metrics.map(({ prepared }) => prepared.lean?.kind === "dominants");
    this.rareTaxa = metrics.map(({ prepared }) => prepared.rareTaxa?.(community));
  }

  evaluate(counts: Int32Array, finds: Float64Array): void {
    const { compiled } = this.#preparer.batch;
    const drawn = this.#main.map((pile, at) => ({
      ...pile,
      count: counts[at] as number,
      beforeDraw: pile.count,
    }));
    const { community } = this.#preparer.assemble([...drawn, ...this.#others]);
    const one = { ...this.#one, community };
    const measured = measureRaw(compiled, one, UNHEARD).map(({ id, raw }, metric) => ({
      id,
      raw: withFinds(raw, finds[metric] as number),
    }));
    const seen = observedOf(scoreValues(compiled.set, measured, one, UNHEARD), this.#ratings);
    this.index = seen.index;
    this.rating = seen.rating;
    this.values.set(seen.values);
    this.pieces.set(seen.pieces);
  }

  ratingOf(index: number): number {
    const { set } = this.#preparer.batch.compiled;
    const { index: rule, ratings } = set.definition;
    const exact = exactOf(index);
    const deciding =
      ratings.on === "rounded" && rule.round_to !== undefined ? roundExact(exact, rule.round_to) : exact;
    const classes = classesFor(set.classes, this.#one.stratum);
    return this.#ratings.numberOf(rate(deciding, classes, ratings.gaps).rating);
  }
}

function withFinds(raw: MetricValue, finds: number): MetricValue {
  return finds === 0 || raw.kind !== "exact" ? raw : exactValue(add(raw.value, exactOf(finds)));
}

/** A score as numbers. */
export function observedOf(scored: ScoredValues, ratings: RatingNumbers): Observed {
  return {
    index: scored.unrounded === undefined ? Number.NaN : toNumber(scored.unrounded),
    rating: ratings.numberOf(scored.rating),
    values: Float64Array.from(scored.steps, ({ raw }) => valueAsNumber(raw) ?? Number.NaN),
    pieces: Int32Array.from(scored.steps, ({ outcome }) =>
      outcome?.kind === "scored" ? outcome.segment.line : -1,
    ),
  };
}
