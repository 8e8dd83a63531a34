import type { FindingSink } from "../findings/collector.ts";
import { FindingCollector } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { Exact } from "../model/exact.ts";
import {
  divide,
  exactOf,
  isZero,
  multiply,
  parseDecimal,
  roundExact,
  subtract,
  toNumber,
} from "../model/exact.ts";
import type { MetricValue } from "../model/metric-value.ts";
import { exactValue, missingValue, valueAsNumber } from "../model/metric-value.ts";
import { numberText } from "../model/number-text.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import type { Segment } from "../model/segment.ts";
import { tieText } from "../reference/describe-set.ts";
import type { ReferenceSet } from "../reference/set.ts";
import type { ScoredPart } from "../scoring/aggregate.ts";
import { aggregate } from "../scoring/aggregate.ts";
import { rate } from "../scoring/rate.ts";
import type { MetricScore } from "../scoring/score-metrics.ts";
import { decidingValue, roundMetric, scoreMetric } from "../scoring/score-metrics.ts";
import type { MetricResult } from "./result.ts";
import type { MetricRule, MetricUse, StratumRules } from "./stratum-rules.ts";
import { asItsOwnReference, rulesFor } from "./stratum-rules.ts";

/** The value of one metric before it is rounded as the set says. */
export interface MeasuredMetric {
  readonly id: string;
  readonly raw: MetricValue;
}

/** What scoring the metric values of one sample needs to know of it. */
export interface ValueCase {
  readonly sampleId: string;
  readonly facts: SampleFacts | undefined;
  readonly stratum: string;
  /** Where findings about the whole sample point. */
  readonly place: Place;
  /** The sample's reference sample; undefined when it has none. */
  readonly reference?: ReferenceCase | undefined;
}

/** What is needed of a reference sample. */
export interface ReferenceCase {
  readonly facts: SampleFacts | undefined;
  readonly measured: readonly MeasuredMetric[];
}

/** How the score of one metric came about, for a reviewer. */
export interface MetricStep {
  readonly raw: MetricValue;
  /** What was scored: the value adjusted for the covariate and rounded; undefined when it counts as it is. */
  readonly scored: MetricValue | undefined;
  /** The same of the reference sample, where there is one. */
  readonly reference: MetricValue | undefined;
  /** From low to high; empty when the metric has none in the stratum. */
  readonly segments: readonly Segment[];
  /** Undefined when nothing was scored. */
  readonly outcome: MetricScore | undefined;
}

/** Metric values, scores, index and rating of one sample. */
export interface ScoredValues {
  readonly metrics: readonly MetricResult[];
  readonly index: Exact | undefined;
  readonly rating: string;
  /** In the order of `metrics`. */
  readonly steps: readonly MetricStep[];
  /** The index before it was rounded. */
  readonly unrounded: Exact | undefined;
}

/**
 * Scores the metric values of a sample against the thresholds of its stratum, and gives index and rating. The
 * order is fixed: adjust for the covariate, round as the set says, score (clipping each metric), aggregate,
 * round, class.
 */
export function scoreValues(
  set: ReferenceSet,
  measured: readonly MeasuredMetric[],
  one: ValueCase,
  findings: FindingSink,
): ScoredValues {
  const { definition } = set;
  const rules = rulesFor(set, one.stratum);
  const metrics: MetricResult[] = [];
  const steps: MetricStep[] = [];
  for (let at = 0; at < rules.metrics.length; at++) {
    const rule = rules.metrics[at] as MetricRule;
    const { id, round_to: decimals } = rule.use;
    const raw = rawOf(measured, id, at) ?? NOT_GIVEN;
    const step = scoreOne(set, rule, raw, one, findings);
    const score = step.outcome?.kind === "scored" ? step.outcome.score : undefined;
    metrics.push({ id, value: roundMetric(raw, decimals), score });
    steps.push(step);
  }
  const index = indexOf(set, rules, metrics, one);
  if (index === undefined) return { metrics, index, rating: "", steps, unrounded: index };
  const decimals = definition.index.round_to;
  const rounded = decimals === undefined ? index : roundExact(index, decimals);
  const { ratings } = definition;
  const deciding = ratings.on === "rounded" ? rounded : index;
  const { classes } = rules;
  const { rating } = rate(deciding, classes, ratings.gaps);
  if (rating === "" && classes.length > 0) {
    const message = `index ${numberText(toNumber(deciding))} of ${one.sampleId} lies in no class of the set`;
    findings.add(finding("no-class", one.place, { message, sampleId: one.sampleId }));
  }
  return { metrics, index: rounded, rating, steps, unrounded: index };
}

const NOT_GIVEN = missingValue("it is not given");

/** The value of a metric; nearly always the set's metrics come in their own order. */
function rawOf(measured: readonly MeasuredMetric[], id: string, at: number): MetricValue | undefined {
  const likely = measured[at];
  return likely?.id === id ? likely.raw : measured.findLast((metric) => metric.id === id)?.raw;
}

function scoreOne(
  set: ReferenceSet,
  { use, segments, isScored }: MetricRule,
  raw: MetricValue,
  one: ValueCase,
  findings: FindingSink,
): MetricStep {
  if (raw.kind === "missing" || !isScored) return notScored(raw, segments);
  if (segments.length === 0) {
    reportUnscored(use, raw, `has no thresholds in the stratum ${one.stratum}`, one, findings);
    return notScored(raw, segments);
  }
  const value = adjusted(raw, use, one.facts);
  if (value === undefined) {
    reportUnscored(use, raw, `needs ${use.adjust?.covariate} in the sample log`, one, findings);
    return notScored(raw, segments);
  }
  const scored = roundMetric(value, use.round_to);
  const reference = referenceValue(use, one.reference);
  const outcome = scoreMetric({
    value: scored,
    segments,
    clip: set.definition.index.clip_scores,
    gapRule: use.tie_rule,
    referenceValue: reference,
    percentOf: use.percent_of,
    covariate: (column) => covariateOf(one.facts, column),
  });
  if (outcome.kind === "unscored")
    reportUnscored(use, raw, whyUnscored(outcome.why, segments[0]?.covariate), one, findings);
  else if (outcome.how === "gap") reportTie(use, value, outcome.score, one, findings);
  return { raw, scored, reference, segments, outcome };
}

function notScored(raw: MetricValue, segments: readonly Segment[]): MetricStep {
  return { raw, scored: undefined, reference: undefined, segments, outcome: undefined };
}

function reportUnscored(
  use: MetricUse,
  raw: MetricValue,
  why: string,
  one: ValueCase,
  findings: FindingSink,
): void {
  const shown = numberText(valueAsNumber(roundMetric(raw, use.round_to)) as number);
  const message = `${use.id} ${shown} of ${one.sampleId} ${why}`;
  findings.add(finding("no-score", one.place, { message, sampleId: one.sampleId }));
}

function whyUnscored(
  why: Extract<MetricScore, { kind: "unscored" }>["why"],
  covariate: string | undefined,
): string {
  switch (why) {
    case "gap":
      return "lies in a gap of the thresholds";
    case "beyond":
      return "lies beyond the thresholds";
    case "missing":
      return "is missing";
    case "no-reference":
      return "needs the value of a reference sample that is not 0 (reference_sample_id in the sample log)";
    case "no-covariate":
      return `needs ${covariate} in the sample log`;
  }
}

/** A value in a gap that was published so: the score is ours by a stated rule, and that is said with it. */
function reportTie(
  use: MetricUse,
  value: MetricValue,
  score: Exact,
  one: ValueCase,
  findings: FindingSink,
): void {
  if (use.tie_rule === undefined) return;
  const shown = numberText(valueAsNumber(roundMetric(value, use.round_to)) as number);
  findings.add(
    finding("tie-rule", one.place, {
      message: `${use.id} ${shown} of ${one.sampleId} belongs to no class as published; it takes the score ${tieText(use.tie_rule)}: ${numberText(toNumber(score))}`,
      sampleId: one.sampleId,
    }),
  );
}

/** The value of the reference sample, treated as the sample's own is. */
export function referenceValue(
  use: MetricUse,
  reference: ReferenceCase | undefined,
): MetricValue | undefined {
  const raw = reference?.measured.find((metric) => metric.id === use.id)?.raw;
  const value = raw === undefined ? undefined : adjusted(raw, use, reference?.facts);
  return value === undefined ? undefined : roundMetric(value, use.round_to);
}

/** The value less what the covariate alone explains; undefined when the log does not give the covariate. */
function adjusted(raw: MetricValue, use: MetricUse, facts: SampleFacts | undefined): MetricValue | undefined {
  if (use.adjust === undefined) return raw;
  const exact = decidingValue(raw);
  const covariate = covariateOf(facts, use.adjust.covariate);
  if (exact === undefined || covariate === undefined) return undefined;
  const distance = subtract(covariate, exactOf(use.adjust.at));
  return exactValue(subtract(exact, multiply(exactOf(use.adjust.slope), distance)));
}

/** The covariate of a sample: a number of its log, or the common logarithm of one ("log10:drainage_area_km2"). */
export function covariateOf(facts: SampleFacts | undefined, column: string): Exact | undefined {
  const isLogarithm = column.startsWith("log10:");
  const text = facts?.texts.get(isLogarithm ? column.slice("log10:".length) : column);
  const value = text === undefined ? undefined : parseDecimal(text);
  if (value === undefined || !isLogarithm) return value;
  const logarithm = Math.log10(Number(text));
  return Number.isFinite(logarithm) ? parseDecimal(numberText(logarithm)) : undefined;
}

function indexOf(
  set: ReferenceSet,
  rules: StratumRules,
  metrics: readonly MetricResult[],
  one: ValueCase,
): Exact | undefined {
  const { index: rule } = set.definition;
  if (rules.aggregation === undefined) {
    const value = metrics.find((metric) => metric.id === rule.metric)?.value;
    return value === undefined ? undefined : decidingValue(value);
  }
  const parts: ScoredPart[] = [];
  for (let at = 0; at < metrics.length; at++) {
    const { value, score } = metrics[at] as MetricResult;
    const { isScored, weight } = rules.metrics[at] as MetricRule;
    // A metric without segments counts as it is.
    parts.push({ score: isScored ? score : decidingValue(value), weight });
  }
  const own = aggregate(parts, rules.aggregation);
  return rule.percent_of_reference ? percentOfReferenceIndex(set, own, one) : own;
}

/**
 * A sample's index as a percentage of the index that its reference sample gets when it is compared with itself,
 * by the thresholds of the sample's stratum; undefined when either has none or the reference's is 0.
 */
function percentOfReferenceIndex(
  set: ReferenceSet,
  own: Exact | undefined,
  one: ValueCase,
): Exact | undefined {
  const { reference } = one;
  if (own === undefined || reference === undefined) return undefined;
  const itself: ValueCase = { ...one, facts: reference.facts, reference };
  // What there is to say of the reference sample is said where it is scored itself.
  const whole = scoreValues(asItsOwnReference(set), reference.measured, itself, new FindingCollector()).index;
  return whole === undefined || isZero(whole) ? undefined : multiply(divide(own, whole), exactOf(100));
}
