import type { LeanIndex, LeanScoring } from "./lean-model.ts";
import { roundLean } from "./lean-rounding.ts";
import { entryOf } from "./piece-table.ts";

/**
 * The score of a metric's value, or what stands for it in the index where the metric has no thresholds.
 *
 * A value lies on a limit when it is so close to it as floating point makes of equal numbers.
 *
 * @param pieces gets the piece of the thresholds that the value falls into
 */
export function leanScore(rule: LeanScoring, value: number, metric: number, pieces: Int32Array): number {
  const { table, decimals } = rule;
  pieces[metric] = -1;
  if (Number.isNaN(value)) return Number.NaN;
  if (table === undefined) return decimals < 0 ? value : roundLean(value, decimals);
  let deciding = rule.less === 0 ? value : value - rule.less;
  if (decimals >= 0) deciding = roundLean(deciding, decimals);
  if (rule.percent !== 0) {
    const [part, whole] = rule.percent === 1 ? [deciding, rule.reference] : [rule.reference, deciding];
    if (whole === 0 || Number.isNaN(rule.reference)) return Number.NaN;
    deciding = (part * 100) / whole;
  }
  if (Number.isNaN(deciding)) return Number.NaN;
  const entry = entryOf(table.points, deciding);
  pieces[metric] = table.pieces[entry] as number;
  return (table.from[entry] as number) + (table.rise[entry] as number) * deciding;
}

/** The index of scores, before it is rounded; NaN when there is none. */
export function leanIndex(rule: LeanIndex, scores: Float64Array): number {
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
export function leanRating(rule: LeanIndex, index: number): number {
  if (Number.isNaN(index)) return -1;
  const deciding = rule.decimals < 0 ? index : roundLean(index, rule.decimals);
  const { points, pieces } = rule.classes;
  return pieces[entryOf(points, deciding)] as number;
}
