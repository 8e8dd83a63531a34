import type { Exact } from "../model/exact.ts";
import {
  absolute,
  add,
  compareExact,
  divide,
  equalExact,
  fraction,
  isZero,
  multiply,
  subtract,
} from "../model/exact.ts";
import type { Segment } from "../model/segment.ts";
import { compareSpans, contains, isAboveLower, isBelowUpper, limitAt } from "./limits.ts";

/** Which neighbour a value takes that lies in a gap between two segments as they were published. */
export type GapRule = "below" | "above" | "middle";

export interface ScoringRule {
  /** Sorted from low to high (see `sortSegments`). */
  readonly segments: readonly Segment[];
  /** Values beyond the outer segments take the score of the nearest end. */
  readonly clip: boolean;
  /** What to do in a gap of the published table; undefined when the set states nothing. */
  readonly gapRule?: GapRule | undefined;
}

/** What scoring one value gave. */
export type ScoreOutcome =
  | {
      readonly kind: "scored";
      readonly score: Exact;
      readonly segment: Segment;
      /** `inside` a segment, `clipped` to the nearest end, or by the rule for a published `gap`. */
      readonly how: "inside" | "clipped" | "gap";
    }
  | { readonly kind: "unscored"; readonly why: "gap" | "beyond" };

/** Segments from low to high. */
export function sortSegments(segments: readonly Segment[]): Segment[] {
  return [...segments].sort(compareSpans);
}

/**
 * Scores a value against the segments of one metric in one stratum.
 *
 * The first segment that holds the value decides; overlaps are found when the set is checked. Inside a segment
 * the score goes in a straight line between its ends, in exact arithmetic.
 *
 * @param value the metric, or its percentage of the reference, as the segments' basis says
 * @param covariate the value that moves limits with a slope, when there is one
 */
export function scoreValue(value: Exact, rule: ScoringRule, covariate?: Exact): ScoreOutcome {
  for (const segment of rule.segments) {
    if (contains(segment, value, covariate)) {
      return { kind: "scored", score: lineAt(segment, value, covariate), segment, how: "inside" };
    }
  }
  const below = lastBelow(rule.segments, value, covariate);
  const above = rule.segments.find((segment) => !isAboveLower(value, segment, covariate));
  if (below !== undefined && above !== undefined) return scoreInGap(below, above, rule);
  if (!rule.clip) return { kind: "unscored", why: "beyond" };
  if (below !== undefined)
    return { kind: "scored", score: below.scoreAtUpper, segment: below, how: "clipped" };
  if (above !== undefined)
    return { kind: "scored", score: above.scoreAtLower, segment: above, how: "clipped" };
  return { kind: "unscored", why: "beyond" };
}

/** The segment with the highest upper end among those that end below the value. */
function lastBelow(segments: readonly Segment[], value: Exact, covariate?: Exact): Segment | undefined {
  let last: Segment | undefined;
  for (const segment of segments) {
    if (isBelowUpper(value, segment, covariate) || segment.upper === undefined) continue;
    if (last?.upper === undefined) last = segment;
    else if (compareExact(limitAt(segment.upper, covariate), limitAt(last.upper, covariate)) > 0)
      last = segment;
  }
  return last;
}

function scoreInGap(below: Segment, above: Segment, rule: ScoringRule): ScoreOutcome {
  if (rule.gapRule === undefined) return { kind: "unscored", why: "gap" };
  const takeBelow =
    rule.gapRule === "below" ||
    (rule.gapRule === "middle" &&
      compareExact(distanceToMiddle(below.scoreAtUpper, rule), distanceToMiddle(above.scoreAtLower, rule)) <=
        0);
  return takeBelow
    ? { kind: "scored", score: below.scoreAtUpper, segment: below, how: "gap" }
    : { kind: "scored", score: above.scoreAtLower, segment: above, how: "gap" };
}

/** How far a score lies from the middle of the rule's best and worst score. */
function distanceToMiddle(score: Exact, rule: ScoringRule): Exact {
  let least = score;
  let most = score;
  for (const { scoreAtLower, scoreAtUpper } of rule.segments) {
    for (const end of [scoreAtLower, scoreAtUpper]) {
      if (compareExact(end, least) < 0) least = end;
      if (compareExact(end, most) > 0) most = end;
    }
  }
  return absolute(subtract(score, multiply(add(least, most), fraction(1, 2))));
}

function lineAt(segment: Segment, value: Exact, covariate?: Exact): Exact {
  const { scoreAtLower, scoreAtUpper } = segment;
  const isStep = equalExact(scoreAtLower, scoreAtUpper);
  if (isStep || segment.lower === undefined || segment.upper === undefined) return scoreAtLower;
  const rise = subtract(scoreAtUpper, scoreAtLower);
  const from = limitAt(segment.lower, covariate);
  const run = subtract(limitAt(segment.upper, covariate), from);
  if (isZero(run)) return scoreAtLower;
  return add(scoreAtLower, multiply(rise, divide(subtract(value, from), run)));
}
