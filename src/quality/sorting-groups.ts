import type { Exact } from "../model/exact.ts";
import { add, compareExact, fraction } from "../model/exact.ts";
import { compareCodePoints } from "../model/order.ts";
import type { Outcome } from "./judgement.ts";
import { combineOutcomes } from "./judgement.ts";
import { meanExact, percentOf, sumExact } from "./percent.ts";
import type { SortingFigure } from "./sorting.ts";

/** A checked sample with what the sample log knows about who sorted it and when; empty where it is silent. */
export interface CheckedSample {
  readonly figure: SortingFigure;
  readonly sorter: string;
  readonly lot: string;
  /** ISO 8601 date, or empty. */
  readonly sortedOn: string;
}

/** How checks are put together: the person, the lot, one person's part of a lot, or the month of sorting. */
export const SORTING_GROUPINGS = ["sorter", "lot", "sorter-lot", "month"] as const;
export type SortingGrouping = (typeof SORTING_GROUPINGS)[number];

export interface SortingGroup {
  readonly grouping: SortingGrouping;
  readonly sorter: string;
  readonly lot: string;
  /** YYYY-MM; only for the grouping by month. */
  readonly month: string;
  readonly checks: number;
  readonly passed: number;
  readonly failed: number;
  readonly undecided: number;
  readonly notComputable: number;
  readonly sorted: number;
  readonly missed: Exact;
  /** From the sums: 100 x sorted / (sorted + missed) over all checks. Large samples weigh more. */
  readonly pooledEfficiency: Exact | undefined;
  /** Mean of the samples' efficiencies. Every sample weighs the same. */
  readonly meanEfficiency: Exact | undefined;
  readonly lowestEfficiency: Exact | undefined;
  /** One failed sample fails the group: that is what calls for a second share of the lot (Barbour et al. 1999, 7.3). */
  readonly outcome: Outcome;
}

/** Summaries in code point order of lot or month, then sorter; what is not known (empty) stands last. */
export function groupSortingChecks(
  samples: readonly CheckedSample[],
  grouping: SortingGrouping,
): SortingGroup[] {
  const groups = new Map<string, { key: GroupKey; figures: SortingFigure[] }>();
  for (const sample of samples) {
    const key = keyOf(sample, grouping);
    const text = JSON.stringify([key.sorter, key.lot, key.month]);
    const group = groups.get(text) ?? { key, figures: [] };
    group.figures.push(sample.figure);
    groups.set(text, group);
  }
  return [...groups.values()]
    .sort(
      (a, b) =>
        compareKnownFirst(a.key.month, b.key.month) ||
        compareKnownFirst(a.key.lot, b.key.lot) ||
        compareKnownFirst(a.key.sorter, b.key.sorter),
    )
    .map(({ key, figures }) => summary(grouping, key, figures));
}

interface GroupKey {
  readonly sorter: string;
  readonly lot: string;
  readonly month: string;
}

function keyOf(sample: CheckedSample, grouping: SortingGrouping): GroupKey {
  const { sorter, lot } = sample;
  if (grouping === "sorter") return { sorter, lot: "", month: "" };
  if (grouping === "lot") return { sorter: "", lot, month: "" };
  if (grouping === "sorter-lot") return { sorter, lot, month: "" };
  return { sorter: "", lot: "", month: sample.sortedOn.slice(0, 7) };
}

function compareKnownFirst(a: string, b: string): number {
  if (a === "" || b === "") return a === b ? 0 : a === "" ? 1 : -1;
  return compareCodePoints(a, b);
}

function summary(grouping: SortingGrouping, key: GroupKey, figures: readonly SortingFigure[]): SortingGroup {
  const count = (outcome: Outcome) => figures.filter((figure) => figure.outcome === outcome).length;
  const efficiencies = figures.flatMap(({ efficiency }) => (efficiency === undefined ? [] : [efficiency]));
  const sorted = figures.reduce((sum, figure) => sum + figure.sorted, 0);
  const missed = sumExact(figures.map((figure) => figure.missed));
  return {
    grouping,
    ...key,
    checks: figures.length,
    passed: count("pass"),
    failed: count("fail"),
    undecided: count("undecided"),
    notComputable: count("not-computable"),
    sorted,
    missed,
    pooledEfficiency: percentOf(fraction(sorted), add(fraction(sorted), missed)),
    meanEfficiency: meanExact(efficiencies),
    lowestEfficiency: [...efficiencies].sort(compareExact)[0],
    outcome: combineOutcomes(figures.map((figure) => figure.outcome)),
  };
}
