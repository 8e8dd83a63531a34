import type { Exact } from "../model/exact.ts";
import { toNumber } from "../model/exact.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import type { Limit, Segment } from "../model/segment.ts";
import type { ReferenceSet } from "../reference/set.ts";
import type { MetricScale } from "../report/report-data.ts";
import { limitAt } from "../scoring/limits.ts";
import { comparedValue } from "../scoring/score-metrics.ts";
import type { MetricStep } from "./score-values.ts";
import { covariateOf } from "./score-values.ts";

/**
 * The thresholds of a metric as they lie for one sample, with the number that was compared with them.
 *
 * @param id the metric's id in the set
 * @returns undefined when the metric has none in the stratum, or they cannot be placed without the covariate
 */
export function metricScale(
  set: ReferenceSet,
  id: string,
  { segments, scored, reference }: MetricStep,
  facts: SampleFacts | undefined,
): MetricScale | undefined {
  const [first] = segments;
  if (first === undefined) return undefined;
  const covariate = first.covariate === undefined ? undefined : covariateOf(facts, first.covariate);
  if (first.covariate !== undefined && covariate === undefined) return undefined;
  const use = set.definition.metrics.find((one) => one.id === id);
  const at =
    scored === undefined
      ? undefined
      : comparedValue({ value: scored, segments, referenceValue: reference, percentOf: use?.percent_of });
  const scores = segments.flatMap((one) => [toNumber(one.scoreAtLower), toNumber(one.scoreAtUpper)]);
  const [least, most] = [Math.min(...scores), Math.max(...scores)];
  // Where a low index is the good one, a low score is.
  const isHigherBetter = set.definition.index.higher_is === "better";
  return {
    steps: segments.map((one) => stepOf(one, covariate)),
    at: at === undefined ? undefined : toNumber(at),
    what: whatOf(first, use?.adjust?.covariate),
    worst: isHigherBetter ? least : most,
    best: isHigherBetter ? most : least,
  };
}

function stepOf(segment: Segment, covariate: Exact | undefined): MetricScale["steps"][number] {
  const place = (limit: Limit | undefined) =>
    limit === undefined ? undefined : toNumber(limitAt(limit, covariate));
  return {
    lower: place(segment.lower),
    upper: place(segment.upper),
    scoreAtLower: toNumber(segment.scoreAtLower),
    scoreAtUpper: toNumber(segment.scoreAtUpper),
  };
}

function whatOf({ basis }: Segment, adjustedFor: string | undefined): string {
  return [
    basis === "value" ? "" : "percent of the reference sample",
    adjustedFor === undefined ? "" : `its value adjusted for ${adjustedFor}`,
  ]
    .filter((part) => part !== "")
    .join(", ");
}
