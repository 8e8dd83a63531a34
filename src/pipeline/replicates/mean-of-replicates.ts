import type { Finding } from "../../findings/finding.ts";
import { at } from "../../model/at.ts";
import { add, divide, exactOf, ZERO } from "../../model/exact.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { exactValue, missingValue, realValue, valueAsNumber } from "../../model/metric-value.ts";
import { compareCodePoints } from "../../model/order.ts";
import { roundMetric } from "../../scoring/score-metrics.ts";
import type { CompiledSet } from "../compiled-set.ts";
import type { SampleScore } from "../result.ts";
import type { ScoredValues } from "../score-values.ts";
import type { SampleRoad } from "../walk-sample.ts";

/** The values of a group of replicates as one row. */
export interface ReplicateMean {
  readonly score: SampleScore;
  readonly findings: readonly Finding[];
  /** Replicates that entered: those that were neither refused nor held back. */
  readonly replicates: number;
}

/**
 * The mean of the values that the replicates have each on their own (not the value of the pooled sample). It is
 * taken of the unrounded values and rounded as the set says. Animals counted and scored are means as well. A
 * metric that one of the replicates lacks has no mean; a replicate that was refused or held back is left out,
 * its flags stand with the mean.
 */
export function meanOfReplicates(
  compiled: CompiledSet,
  id: string,
  roads: readonly SampleRoad[],
): ReplicateMean {
  const used = roads.filter(
    (road): road is SampleRoad & { readonly scored: ScoredValues } => road.scored !== undefined,
  );
  const first = at(used.length > 0 ? used : roads, 0);
  const flags = [...new Set(roads.flatMap(({ score }) => score.flags))].sort(compareCodePoints);
  const metrics = compiled.metrics.map(({ id: metric, roundTo }, index) => {
    const values = used.map(({ scored }) => at(scored.steps, index).raw);
    return { id: metric, value: roundMetric(meanOf(values), roundTo), score: undefined };
  });
  const isFlagged = roads.some(({ score }) => score.status !== "scored");
  return {
    score: {
      ...first.score,
      sampleId: id,
      individualsCounted: meanNumber(used.map(({ score }) => score.individualsCounted)),
      individualsScored: meanNumber(used.map(({ score }) => score.individualsScored)),
      status: used.length === 0 ? first.score.status : isFlagged ? "flagged" : "scored",
      flags,
      metrics: used.length === 0 ? [] : metrics,
    },
    findings: roads.flatMap(({ findings }) => findings),
    replicates: used.length,
  };
}

/** The mean of values: exact when all of them are. */
export function meanOf(values: readonly MetricValue[]): MetricValue {
  const missing = values.filter((value) => value.kind === "missing").length;
  if (values.length === 0) return missingValue("no replicate has a value");
  if (missing > 0) return missingValue(`${missing} of ${values.length} replicates have no value`);
  const exact = values.flatMap((value) => (value.kind === "exact" ? [value.value] : []));
  if (exact.length === values.length)
    return exactValue(divide(exact.reduce(add, ZERO), exactOf(exact.length)));
  return realValue(values.reduce((sum, value) => sum + (valueAsNumber(value) as number), 0) / values.length);
}

function meanNumber(numbers: readonly (number | undefined)[]): number | undefined {
  if (numbers.length === 0 || numbers.includes(undefined)) return undefined;
  return numbers.reduce((sum: number, number) => sum + (number as number), 0) / numbers.length;
}
