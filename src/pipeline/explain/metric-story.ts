import { metricOf } from "../../metrics/registry.ts";
import type { Exact } from "../../model/exact.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import { numberText } from "../../model/number-text.ts";
import type { SetDefinition } from "../../model/reference-set.ts";
import type { Segment } from "../../model/segment.ts";
import type { CompiledSet, SetMetric } from "../compiled-set.ts";
import type { MetricResult } from "../result.ts";
import type { ScoringCase } from "../score-sample.ts";
import type { MetricStep } from "../score-values.ts";
import { covariateOf } from "../score-values.ts";
import { arithmeticOf } from "./arithmetic.ts";
import { scoreArithmetic } from "./score-arithmetic.ts";
import { attributeTrail } from "./taxon-stories.ts";
import { sourceText } from "./words.ts";

/** One taxon's part in a metric. */
export interface PartStory {
  readonly taxon: string;
  readonly count: number;
  /** Percent of all animals of the sample. */
  readonly share: number | undefined;
  /** What it adds to richness. */
  readonly richness: number;
  readonly counted: boolean;
  /** Its attribute value as written; empty where the metric uses none or the taxon has none. */
  readonly value: string;
  /** The taxon whose row gave the value, and the source of that row. */
  readonly valueFrom: string;
  readonly source: string;
  /** Why it takes no part, or what is special about its part; may be empty. */
  readonly why: string;
}

/** How one metric and its score came about. */
export interface MetricStory {
  readonly id: string;
  /** Name in the trade. */
  readonly name: string;
  readonly formula: string;
  readonly unit: string;
  /** The set's settings of it in words; empty when it has none. */
  readonly settings: string;
  /** Before it was rounded as the set says. */
  readonly raw: MetricValue;
  readonly value: MetricValue;
  readonly roundTo: number | undefined;
  /** What was compared with the thresholds where that is not the value itself. */
  readonly scored: MetricValue | undefined;
  readonly reference: MetricValue | undefined;
  readonly score: Exact | undefined;
  /** Its thresholds in the sample's stratum, from low to high. */
  readonly segments: readonly Segment[];
  /** The one that gave the score, and how the value lies to it. */
  readonly segment: Segment | undefined;
  readonly how: "inside" | "clipped" | "gap" | undefined;
  /** The way along the segment, as in "0 + 10 x (25 - 8) / (34 - 8)"; undefined where the score is a step. */
  readonly scoreArithmetic: string | undefined;
  /** The covariate that moves limits or adjusts the value, as `name value`. */
  readonly covariate: string;
  readonly parts: readonly PartStory[];
  /** The numbers put into the formula; undefined where they would be a page of their own. */
  readonly arithmetic: string | undefined;
}

/** The stories of the metrics of a sample, in the order of the set. */
export function metricStories(
  compiled: CompiledSet,
  one: ScoringCase,
  results: readonly MetricResult[],
  steps: readonly MetricStep[],
): MetricStory[] {
  return results.flatMap((result, at) => {
    const metric = compiled.metrics.find(({ id }) => id === result.id);
    const step = steps[at];
    return metric === undefined || step === undefined
      ? []
      : [metricStory(compiled, one, metric, result, step)];
  });
}

function metricStory(
  compiled: CompiledSet,
  one: ScoringCase,
  metric: SetMetric,
  result: MetricResult,
  step: MetricStep,
): MetricStory {
  const use = compiled.set.definition.metrics.find(({ id }) => id === metric.id);
  const entry = metricOf(use?.metric ?? metric.id);
  const parts = partStories(compiled, one, metric);
  const { outcome } = step;
  return {
    id: metric.id,
    name: entry.name,
    formula: entry.formula,
    unit: entry.unit,
    settings: settingsText(use),
    raw: step.raw,
    value: result.value,
    roundTo: metric.roundTo,
    scored: use?.adjust === undefined ? undefined : step.scored,
    reference: step.reference,
    score: result.score,
    segments: step.segments,
    segment: outcome?.kind === "scored" ? outcome.segment : undefined,
    how: outcome?.kind === "scored" ? outcome.how : undefined,
    scoreArithmetic: scoreArithmetic(step, use?.percent_of, (column) => covariateOf(one.facts, column)),
    covariate: covariateText(one, use?.adjust?.covariate ?? step.segments[0]?.covariate),
    parts,
    arithmetic: arithmeticOf(entry.formula, step.raw, parts, one.context),
  };
}

function partStories(compiled: CompiledSet, one: ScoringCase, metric: SetMetric): PartStory[] {
  const { community, context } = one;
  const richness = new Map([...community.taxa].map((taxon, at) => [taxon, community.richness[at] as number]));
  const [attribute] = metric.prepared.attributes;
  return metric.prepared.contributions(community, context).map((part): PartStory => {
    const trail = attribute === undefined ? undefined : attributeTrail(compiled, attribute, part.taxon);
    const hasTrail = part.valueFrom !== undefined && trail !== undefined;
    return {
      taxon: compiled.tree.nameOf(part.taxon),
      count: part.count,
      share: community.total === 0 ? undefined : (part.count * 100) / community.total,
      richness: richness.get(part.taxon) ?? 0,
      counted: part.counted,
      value: part.value ?? "",
      valueFrom: part.valueFrom === undefined ? "" : compiled.tree.nameOf(part.valueFrom),
      source: hasTrail ? `${sourceText(trail)} (${trail.verified})` : "",
      why: part.why ?? "",
    };
  });
}

function settingsText(use: SetDefinition["metrics"][number] | undefined): string {
  const settings = Object.entries(use?.settings ?? {});
  return settings.map(([key, value]) => `${key} ${JSON.stringify(value)}`).join(", ");
}

function covariateText(one: ScoringCase, column: string | undefined): string {
  if (column === undefined) return "";
  const value = covariateOf(one.facts, column);
  return `${column} ${value === undefined ? "is not in the sample log" : numberText(Number(value.num) / Number(value.den))}`;
}
