import type { FindingSink } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { Attribute } from "../model/attributes.ts";
import type { Community, SampleContext } from "../model/community.ts";
import type { Exact } from "../model/exact.ts";
import { exactOf, parseDecimal, roundExact } from "../model/exact.ts";
import type { MetricValue } from "../model/metric-value.ts";
import { valueAsNumber } from "../model/metric-value.ts";
import { numberText } from "../model/number-text.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { segmentsOf } from "../reference/set.ts";
import { aggregate } from "../scoring/aggregate.ts";
import { classesFor, rate } from "../scoring/rate.ts";
import { decidingValue, roundMetric, scoreMetric } from "../scoring/score-metrics.ts";
import type { CompiledSet, SetMetric } from "./compiled-set.ts";
import type { MetricResult } from "./result.ts";

/** What scoring one community needs to know of its sample. */
export interface ScoringCase {
  readonly sampleId: string;
  readonly facts: SampleFacts | undefined;
  readonly stratum: string;
  readonly community: Community;
  readonly context: SampleContext;
  /** Where findings about the whole sample point. */
  readonly place: Place;
}

/** Metric values, scores, index and rating of one sample. */
export interface ScoredCommunity {
  readonly metrics: readonly MetricResult[];
  readonly index: Exact | undefined;
  readonly rating: string;
}

/** Works out the metrics of a community, rounded where the set says so. */
export function measure(compiled: CompiledSet, one: ScoringCase, findings: FindingSink): MetricResult[] {
  return compiled.metrics.map((metric) => {
    const value = roundMetric(metric.prepared.evaluate(one.community, one.context), metric.roundTo);
    if (value.kind === "missing") {
      findings.add(
        finding("missing-metric", one.place, {
          message: `${metric.id} of ${one.sampleId} cannot be computed: ${value.why}`,
          sampleId: one.sampleId,
        }),
      );
    }
    return { id: metric.id, value, score: undefined };
  });
}

/** Scores the metrics of a community against its stratum, and gives index and rating. */
export function scoreCommunity(
  compiled: CompiledSet,
  one: ScoringCase,
  findings: FindingSink,
): ScoredCommunity {
  const values = measure(compiled, one, findings);
  reportWithoutValue(compiled, one, findings);
  const { index: rule } = compiled.set.definition;
  const metrics = values.map((result, at): MetricResult => {
    const metric = compiled.metrics[at];
    return metric === undefined
      ? result
      : { ...result, score: scoreOne(compiled, metric, result.value, one, findings) };
  });
  const index = indexOf(compiled, metrics);
  if (index === undefined) return { metrics, index, rating: "" };
  const rounded = rule.round_to === undefined ? index : roundExact(index, rule.round_to);
  const { ratings } = compiled.set.definition;
  const classes = classesFor(compiled.set.classes, one.stratum);
  const { rating } = rate(ratings.on === "rounded" ? rounded : index, classes, ratings.gaps);
  return { metrics, index: rounded, rating };
}

function scoreOne(
  compiled: CompiledSet,
  metric: SetMetric,
  value: MetricValue,
  one: ScoringCase,
  findings: FindingSink,
): Exact | undefined {
  const segments = segmentsOf(compiled.set, metric.id, one.stratum);
  if (segments === undefined || segments.length === 0 || value.kind === "missing") return undefined;
  const outcome = scoreMetric({
    value,
    segments,
    clip: compiled.set.definition.index.clip_scores,
    covariate: (column) => covariateOf(one.facts, column),
  });
  if (outcome.kind === "scored") return outcome.score;
  const shown = numberText(valueAsNumber(value) ?? 0);
  const why = {
    gap: "lies in a gap of the thresholds",
    beyond: "lies beyond the thresholds",
    missing: "is missing",
    "no-reference": "needs a reference sample (reference_sample_id in the sample log)",
    "no-covariate": `needs ${segments[0]?.covariate ?? "a covariate"} in the sample log`,
  }[outcome.why];
  findings.add(
    finding("no-score", one.place, {
      message: `${metric.id} ${shown} of ${one.sampleId} ${why}`,
      sampleId: one.sampleId,
    }),
  );
  return undefined;
}

/** The covariate of a sample: a number of its log, or the common logarithm of one ("log10:drainage_area_km2"). */
function covariateOf(facts: SampleFacts | undefined, column: string): Exact | undefined {
  const isLogarithm = column.startsWith("log10:");
  const text = facts?.texts.get(isLogarithm ? column.slice("log10:".length) : column);
  const value = text === undefined ? undefined : parseDecimal(text);
  if (value === undefined || !isLogarithm) return value;
  const logarithm = Math.log10(Number(text));
  return Number.isFinite(logarithm) ? parseDecimal(numberText(logarithm)) : undefined;
}

function indexOf(compiled: CompiledSet, metrics: readonly MetricResult[]): Exact | undefined {
  const { index: rule } = compiled.set.definition;
  if (rule.method === "metric") {
    const value = metrics.find((metric) => metric.id === rule.metric)?.value;
    return value === undefined ? undefined : decidingValue(value);
  }
  const parts = metrics.map(({ id, value, score }) => ({
    // A metric without segments counts as it is.
    score: compiled.set.segments.has(id) ? score : decidingValue(value),
    weight: exactOf(compiled.metrics.find((metric) => metric.id === id)?.weight ?? 1),
  }));
  return aggregate(parts, {
    method: rule.method,
    missing: rule.missing_metric,
    ...(rule.scale_to === undefined ? {} : { scaleTo: exactOf(rule.scale_to) }),
    ...(rule.best_sum === undefined ? {} : { bestSum: exactOf(rule.best_sum) }),
  });
}

/** A doubt when more animals than the set allows have no value of an attribute that its metrics read. */
function reportWithoutValue(compiled: CompiledSet, one: ScoringCase, findings: FindingSink): void {
  const limit = compiled.set.definition.without_value_limit_percent;
  if (one.community.total === 0) return;
  const read = new Set<Attribute>(compiled.metrics.flatMap((metric) => metric.prepared.attributes));
  for (const attribute of read) {
    const has = compiled.attributes.get(attribute)?.has;
    if (has === undefined) continue;
    let without = 0;
    one.community.taxa.forEach((taxon, at) => {
      if (has[taxon] === 0) without += one.community.counts[at] ?? 0;
    });
    // Cross-multiplied: a share that equals the limit is not above it.
    if (without * 100 <= limit * one.community.total) continue;
    findings.add(
      finding("without-value", one.place, {
        message: `${numberText(Math.round((without * 1000) / one.community.total) / 10)} percent of the animals of ${one.sampleId} have no ${attribute.replaceAll("_", " ")} value (limit ${limit})`,
        sampleId: one.sampleId,
      }),
    );
  }
}
