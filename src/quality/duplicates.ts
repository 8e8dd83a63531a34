import type { Exact } from "../model/exact.ts";
import type { DetectableDifference } from "./detectable-difference.ts";
import { detectableDifference } from "./detectable-difference.ts";
import type { DuplicateGroup } from "./duplicate-groups.ts";
import type { Judgement, QualityLimit } from "./judgement.ts";
import { judge } from "./judgement.ts";
import { meanExact } from "./percent.ts";
import { relativePercentDifference } from "./relative-difference.ts";
import type { GroupSpread, WithinSitePrecision } from "./within-site.ts";
import { groupSpread, withinSitePrecision } from "./within-site.ts";

/** Why a group has no relative percent difference. */
export type NotComputable = "too-few-values" | "all-zero" | "below-zero";

/** One measure (the index or a metric) in one group of duplicates. */
export interface DuplicateFigure {
  readonly primary: string;
  /** Samples that have a value, and their values, in the order of the group. */
  readonly sampleIds: readonly string[];
  readonly values: readonly Exact[];
  /** Samples of the group without a value: not scored, or not among the scores. */
  readonly withoutValue: readonly string[];
  readonly spread: GroupSpread | undefined;
  /** RPD in percent. */
  readonly relativeDifference: Exact | undefined;
  readonly whyNot?: NotComputable | undefined;
  readonly judgement: Judgement;
}

/** One measure over all groups. */
export interface DuplicateSummary {
  readonly measure: string;
  readonly figures: readonly DuplicateFigure[];
  /** undefined when no group has two values. */
  readonly precision: WithinSitePrecision | undefined;
  /** For one, two and three samples; empty without precision. */
  readonly detectable: readonly DetectableDifference[];
  readonly meanRelativeDifference: Exact | undefined;
  readonly failed: number;
}

/**
 * Precision of one measure from field or laboratory duplicates.
 *
 * @param lookUp the value of a sample, or undefined when it has none
 * @param limit of the relative percent difference; undefined when none is set for this measure
 */
export function duplicateSummary(
  measure: string,
  groups: readonly DuplicateGroup[],
  lookUp: (sampleId: string) => Exact | undefined,
  limit: QualityLimit | undefined,
): DuplicateSummary {
  const figures = groups.map((group) => duplicateFigure(group, lookUp, limit));
  const precision = withinSitePrecision(figures.map(({ values }) => values));
  return {
    measure,
    figures,
    precision,
    detectable:
      precision === undefined
        ? []
        : [1, 2, 3].map((samples) =>
            detectableDifference(precision.standardDeviation, precision.degreesOfFreedom, samples),
          ),
    meanRelativeDifference: meanExact(figures.flatMap(({ relativeDifference }) => relativeDifference ?? [])),
    failed: figures.filter(({ judgement }) => judgement.outcome === "fail").length,
  };
}

function duplicateFigure(
  group: DuplicateGroup,
  lookUp: (sampleId: string) => Exact | undefined,
  limit: QualityLimit | undefined,
): DuplicateFigure {
  const sampleIds: string[] = [];
  const values: Exact[] = [];
  const withoutValue: string[] = [];
  for (const sampleId of group.sampleIds) {
    const value = lookUp(sampleId);
    if (value === undefined) withoutValue.push(sampleId);
    else {
      sampleIds.push(sampleId);
      values.push(value);
    }
  }
  const relativeDifference = relativePercentDifference(values);
  const figure = {
    primary: group.primary,
    sampleIds,
    values,
    withoutValue,
    spread: groupSpread(values),
    relativeDifference,
    judgement: judge(relativeDifference, limit),
  };
  return relativeDifference === undefined ? { ...figure, whyNot: whyNotComputable(values) } : figure;
}

function whyNotComputable(values: readonly Exact[]): NotComputable {
  if (values.length < 2) return "too-few-values";
  return values.some((value) => value.num < 0) ? "below-zero" : "all-zero";
}
