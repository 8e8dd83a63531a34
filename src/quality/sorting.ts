import type { Exact } from "../model/exact.ts";
import {
  add,
  compareExact,
  divide,
  fraction,
  isZero,
  multiply,
  ONE,
  simplify,
  subtract,
} from "../model/exact.ts";
import type { Outcome } from "./judgement.ts";
import { judge } from "./judgement.ts";
import { USUAL_LIMITS } from "./limits.ts";
import { percentOf } from "./percent.ts";

/** What a second person found in the residue of a sorted sample. */
export interface SortingCheck {
  readonly sampleId: string;
  /** Animals picked by the sorter, a whole number. */
  readonly sorted: number;
  /** Animals the checker found in the part of the residue that was looked through, a whole number. */
  readonly recovered: number;
  /** Share of the residue that was looked through, above 0 up to 1. */
  readonly fractionChecked: Exact;
}

/**
 * The rule a check is held against. Both stand in Barbour et al. 1999 (EPA 841-B-99-002): the back of form 3 in
 * appendix A-3 asks for an efficiency of at least 90 percent; chapter 7 passes a sample when fewer than 10
 * animals were missed, or fewer than 10 percent in subsamples of more than 100, and fails it when more were.
 * What exactly 10 means is not said there.
 */
export type SortingRule = EfficiencyRule | MissedRule;

export interface EfficiencyRule {
  readonly kind: "efficiency";
  readonly limitPercent: Exact;
}

export interface MissedRule {
  readonly kind: "missed";
  /** Fewer animals than this pass. */
  readonly limit: Exact;
  /** In larger subsamples the limit is this percentage of the sorted animals instead, once that is more. */
  readonly percentOfLarger: Exact;
  /** What becomes of a sample that is exactly at the limit. */
  readonly atLimit: "undecided" | "pass" | "fail";
}

export const EFFICIENCY_RULE: EfficiencyRule = {
  kind: "efficiency",
  limitPercent: USUAL_LIMITS.sortingEfficiency.at,
};

export const MISSED_RULE: MissedRule = {
  kind: "missed",
  limit: fraction(10),
  percentOfLarger: fraction(10),
  atLimit: "undecided",
};

export interface SortingFigure extends SortingCheck {
  /** `recovered` expanded by the share that was checked. */
  readonly missed: Exact;
  /** True when only a part was checked, so that `missed` and `efficiency` are estimates. */
  readonly isEstimate: boolean;
  /** 100 x sorted / (sorted + missed); undefined for a sample of nothing. */
  readonly efficiency: Exact | undefined;
  readonly outcome: Outcome;
  /** The limit that held: percent for the efficiency rule, animals for the rule of missed animals. */
  readonly limit: Exact;
  /** How far it is on the wrong side, in the unit of `limit`; zero at an open limit; only when it does not pass. */
  readonly missedBy?: Exact | undefined;
}

/**
 * Sorting efficiency of one sample and what the rule makes of it.
 *
 * With a partly checked residue the number recovered is divided by the share checked (common practice, no
 * source): 3 animals in a quarter of the residue stand for 12.
 *
 * @throws RangeError when a count is not a whole number of 0 or more, or the share is not above 0 up to 1
 */
export function sortingFigure(check: SortingCheck, rule: SortingRule): SortingFigure {
  assertCheck(check);
  const sorted = fraction(check.sorted);
  const missed = simplify(divide(fraction(check.recovered), check.fractionChecked));
  const isEstimate = compareExact(check.fractionChecked, ONE) < 0;
  const efficiency = percentOf(sorted, add(sorted, missed));
  const base = { ...check, missed, isEstimate, efficiency };
  if (rule.kind === "efficiency") {
    const limit = rule.limitPercent;
    return { ...base, ...judge(efficiency, { side: "at-least", at: limit }), limit };
  }
  const limit = missedLimit(sorted, rule.limit, rule.percentOfLarger);
  // A sample of nothing shows nothing about its sorter, although no animal was missed.
  if (efficiency === undefined) return { ...base, outcome: "not-computable", limit };
  const above = compareExact(missed, limit);
  const outcome = above < 0 ? "pass" : above > 0 ? "fail" : rule.atLimit;
  if (outcome === "pass") return { ...base, outcome, limit };
  return { ...base, outcome, limit, missedBy: simplify(subtract(missed, limit)) };
}

function missedLimit(sorted: Exact, limit: Exact, percentOfLarger: Exact): Exact {
  const share = simplify(divide(multiply(sorted, percentOfLarger), fraction(100)));
  return compareExact(share, limit) > 0 ? share : limit;
}

function assertCheck(check: SortingCheck): void {
  for (const count of [check.sorted, check.recovered]) {
    if (!Number.isSafeInteger(count) || count < 0)
      throw new RangeError(`not a whole number of animals: ${count}`);
  }
  const share = check.fractionChecked;
  if (isZero(share) || share.num < 0 || compareExact(share, ONE) > 0)
    throw new RangeError(`the share of the residue checked must be above 0 and at most 1`);
}
