import { at } from "../../model/at.ts";
import { exactOf, roundExact, toNumber } from "../../model/exact.ts";
import { compareCodePoints } from "../../model/order.ts";
import type { Bounds } from "../../scoring/intervals/interval.ts";
import type { ResamplingPlan } from "../../scoring/intervals/plan.ts";
import type { ResamplingOutcome } from "../../scoring/intervals/resample.ts";
import { clippedBounds } from "../../scoring/intervals/spread.ts";
import type { CompiledSet } from "../compiled-set.ts";
import type { IntervalSource, RatingShare, SampleScore, ScoreInterval } from "../result.ts";
import type { RatingNumbers } from "./general-evaluator.ts";

/** Puts the outcome of resampling into the words and decimals of the set. */
export function resultOf(
  score: SampleScore,
  plan: ResamplingPlan,
  compiled: CompiledSet,
  sources: readonly IntervalSource[],
  outcome: ResamplingOutcome,
  numbers: RatingNumbers,
): ScoreInterval {
  const { definition } = compiled.set;
  const place = (rating: string) => definition.ratings.classes.findIndex((one) => one.rating === rating);
  // Among equals the order of the set's classes: the numbers of ratings depend on the batch.
  const ratings = outcome.ratings
    .map(([rating, share]): RatingShare => ({ rating: numbers.nameOf(rating), share }))
    .sort(
      (a, b) =>
        b.share - a.share || place(a.rating) - place(b.rating) || compareCodePoints(a.rating, b.rating),
    );
  const hasIndex = score.index !== undefined;
  const ends = (bounds: Bounds | undefined, decimals: number | undefined) => ({
    low: rounded(bounds?.low, decimals),
    high: rounded(bounds?.high, decimals),
  });
  return {
    of: plan.interval,
    confidence: plan.confidence,
    resamples: plan.resamples,
    sources,
    ...ends(hasIndex ? outcome.index : undefined, definition.index.round_to),
    support: hasIndex && score.rating !== "" ? outcome.support : undefined,
    ratings: hasIndex ? ratings : [],
    next: hasIndex ? ratings.find((one) => one.rating !== score.rating) : undefined,
    metrics: outcome.metrics.map(({ bounds, support }, number) => {
      const metric = at(compiled.metrics, number);
      // Totals and densities rest on the fraction sorted, which resamples do not vary.
      const isTotal = metric.needs.some((need) => need === "fraction-sorted" || need === "area");
      const within = isTotal ? undefined : clippedBounds(bounds, metric.range);
      return {
        id: metric.id,
        ...ends(within, metric.roundTo),
        support: isTotal ? undefined : support,
      };
    }),
  };
}

function rounded(value: number | undefined, decimals: number | undefined): number | undefined {
  if (value === undefined || !Number.isFinite(value)) return undefined;
  return decimals === undefined ? value : toNumber(roundExact(exactOf(value), decimals));
}
