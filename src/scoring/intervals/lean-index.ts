import type { LeanIndex, LeanScoring } from "./lean-model.ts";
import { roundLean } from "./lean-rounding.ts";
import { entryOf, reachesOf } from "./piece-table.ts";

const NO_POINTS = new Float64Array(0);
const NO_PIECES = new Int32Array(0);

/** A `LeanScoring` as it is read a thousand times: one form for all, see `LeanMeasure`. */
export class ScoringRule {
  readonly hasTable: boolean;
  readonly less: number;
  readonly decimals: number;
  readonly percent: number;
  readonly reference: number;
  /** Where the points of the table reach, and what holds on its entries. */
  readonly reachFrom: Float64Array;
  readonly reachTo: Float64Array;
  readonly from: Float64Array;
  readonly rise: Float64Array;
  readonly pieces: Int32Array;

  constructor({ less, decimals, percent, reference, table }: LeanScoring) {
    const reaches = reachesOf(table?.points ?? NO_POINTS);
    this.hasTable = table !== undefined;
    this.less = less;
    this.decimals = decimals;
    this.percent = percent;
    this.reference = reference;
    this.reachFrom = reaches.from;
    this.reachTo = reaches.to;
    this.from = table?.from ?? NO_POINTS;
    this.rise = table?.rise ?? NO_POINTS;
    this.pieces = table?.pieces ?? NO_PIECES;
  }
}

/** A `LeanIndex`, likewise. */
export class IndexRule {
  readonly method: LeanIndex["method"];
  readonly metric: number;
  readonly weights: Float64Array;
  readonly leaveOut: boolean;
  readonly scale: number;
  readonly decimals: number;
  readonly reachFrom: Float64Array;
  readonly reachTo: Float64Array;
  /** Ratings on the entries of the classes. */
  readonly ratings: Int32Array;

  constructor({ method, metric, weights, leaveOut, scale, decimals, classes }: LeanIndex) {
    const reaches = reachesOf(classes.points);
    this.method = method;
    this.metric = metric;
    this.weights = weights;
    this.leaveOut = leaveOut;
    this.scale = scale;
    this.decimals = decimals;
    this.reachFrom = reaches.from;
    this.reachTo = reaches.to;
    this.ratings = classes.pieces;
  }
}

/**
 * The score of a metric's value, or what stands for it in the index where the metric has no thresholds.
 *
 * A value lies on a limit when it is so close to it as floating point makes of equal numbers.
 *
 * @param pieces gets the piece of the thresholds that the value falls into
 */
export function leanScore(rule: ScoringRule, value: number, metric: number, pieces: Int32Array): number {
  const { decimals } = rule;
  pieces[metric] = -1;
  if (Number.isNaN(value)) return Number.NaN;
  if (!rule.hasTable) return decimals < 0 ? value : roundLean(value, decimals);
  let deciding = rule.less === 0 ? value : value - rule.less;
  if (decimals >= 0) deciding = roundLean(deciding, decimals);
  if (rule.percent !== 0) {
    const isPart = rule.percent === 1;
    const whole = isPart ? rule.reference : deciding;
    if (whole === 0 || Number.isNaN(rule.reference)) return Number.NaN;
    deciding = ((isPart ? deciding : rule.reference) * 100) / whole;
  }
  if (Number.isNaN(deciding)) return Number.NaN;
  const entry = entryOf(rule.reachFrom, rule.reachTo, deciding);
  pieces[metric] = rule.pieces[entry] as number;
  return (rule.from[entry] as number) + (rule.rise[entry] as number) * deciding;
}

/** The index of scores, before it is rounded; NaN when there is none. */
export function leanIndex(rule: IndexRule, scores: Float64Array): number {
  if (rule.method === "metric") return scores[rule.metric] as number;
  let sum = 0;
  let weights = 0;
  let present = 0;
  for (let i = 0; i < scores.length; i++) {
    const score = scores[i] as number;
    if (Number.isNaN(score)) {
      if (rule.leaveOut) continue;
      return Number.NaN;
    }
    const weight = rule.weights[i] as number;
    sum += rule.method === "weighted-mean" ? score * weight : score;
    weights += weight;
    present++;
  }
  if (present === 0) return Number.NaN;
  switch (rule.method) {
    case "sum":
      return sum;
    case "mean":
      return sum / present;
    case "weighted-mean":
      return sum / weights;
    case "scaled-sum":
      return (sum * rule.scale * scores.length) / present;
  }
}

/** Number of the rating of an index; -1 for none. */
export function leanRating(rule: IndexRule, index: number): number {
  if (Number.isNaN(index)) return -1;
  const deciding = rule.decimals < 0 ? index : roundLean(index, rule.decimals);
  return rule.ratings[entryOf(rule.reachFrom, rule.reachTo, deciding)] as number;
}
