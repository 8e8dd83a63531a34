import type { Exact } from "../model/exact.ts";
import { add, divide, exactOf, multiply, ZERO } from "../model/exact.ts";

/** How metric scores become one index. */
export interface Aggregation {
  readonly method: "sum" | "mean" | "weighted-mean" | "scaled-sum";
  /** With `scaled-sum`: the index of a perfect sample and the sum that a perfect sample reaches. */
  readonly scaleTo?: Exact | undefined;
  readonly bestSum?: Exact | undefined;
  /** `blank`: one missing score leaves no index; `leave-out`: the others are aggregated without it. */
  readonly missing: "blank" | "leave-out";
}

export interface ScoredPart {
  /** Undefined when the metric is missing or could not be scored. */
  readonly score: Exact | undefined;
  /** 1 unless the set gives weights. */
  readonly weight: Exact;
}

/**
 * The index from the scores of its metrics, in exact arithmetic. Nothing that is missing is taken as 0.
 *
 * With `leave-out` a scaled sum is scaled to what the scores that are there can reach at best, in proportion to
 * their number, so that a missing metric does not lower the index.
 *
 * @returns undefined when there is no index
 */
export function aggregate(parts: readonly ScoredPart[], how: Aggregation): Exact | undefined {
  let present = 0;
  let sum = ZERO;
  let weights = ZERO;
  const weighted = how.method === "weighted-mean";
  for (const { score, weight } of parts) {
    if (score === undefined) {
      if (how.missing === "blank") return undefined;
      continue;
    }
    present++;
    sum = add(sum, weighted ? multiply(score, weight) : score);
    if (weighted) weights = add(weights, weight);
  }
  if (present === 0) return undefined;
  switch (how.method) {
    case "sum":
      return sum;
    case "mean":
      return divide(sum, exactOf(present));
    case "weighted-mean":
      return divide(sum, weights);
    case "scaled-sum": {
      if (how.scaleTo === undefined || how.bestSum === undefined) return undefined;
      const best = multiply(how.bestSum, divide(exactOf(present), exactOf(parts.length)));
      return divide(multiply(sum, how.scaleTo), best);
    }
  }
}
