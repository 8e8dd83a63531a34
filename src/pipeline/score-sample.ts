import type { FindingSink } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { Community, SampleContext } from "../model/community.ts";
import { numberText } from "../model/number-text.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { roundMetric } from "../scoring/score-metrics.ts";
import type { CompiledSet } from "./compiled-set.ts";
import type { MeasuredMetric, ReferenceCase, ScoredValues } from "./score-values.ts";
import { scoreValues } from "./score-values.ts";

/** What scoring one community needs to know of its sample. */
export interface ScoringCase {
  readonly sampleId: string;
  readonly facts: SampleFacts | undefined;
  readonly stratum: string;
  readonly community: Community;
  readonly context: SampleContext;
  /** Where findings about the whole sample point. */
  readonly place: Place;
  /** The sample's reference sample; undefined when it has none. */
  readonly reference?: ReferenceCase | undefined;
}

/** Works out the metrics of a community, unrounded. */
export function measureRaw(compiled: CompiledSet, one: ScoringCase, findings: FindingSink): MeasuredMetric[] {
  const measured: MeasuredMetric[] = [];
  for (const metric of compiled.metrics) {
    const raw = metric.prepared.evaluate(one.community, one.context);
    if (raw.kind === "missing") {
      findings.add(
        finding("missing-metric", one.place, {
          message: `${metric.id} of ${one.sampleId} cannot be computed: ${raw.why}`,
          sampleId: one.sampleId,
        }),
      );
    }
    measured.push({ id: metric.id, raw });
  }
  return measured;
}

/** Works out the metrics of a community, rounded where the set says so, and scores none. */
export function measureOnly(compiled: CompiledSet, one: ScoringCase, findings: FindingSink): ScoredValues {
  const measured = measureRaw(compiled, one, findings);
  return {
    metrics: measured.map(({ id, raw }, at) => ({
      id,
      value: roundMetric(raw, compiled.metrics[at]?.roundTo),
      score: undefined,
    })),
    index: undefined,
    rating: "",
    steps: measured.map(({ raw }) => ({
      raw,
      scored: undefined,
      reference: undefined,
      segments: [],
      outcome: undefined,
    })),
    unrounded: undefined,
  };
}

/** Scores the metrics of a community against its stratum, and gives index and rating. */
export function scoreCommunity(compiled: CompiledSet, one: ScoringCase, findings: FindingSink): ScoredValues {
  const measured = measureRaw(compiled, one, findings);
  reportStandIns(compiled, one, findings);
  reportWithoutValue(compiled, one, findings);
  return scoreValues(compiled.set, measured, one, findings);
}

/** A score that rests on a table other than the method's own says so, every one of them. */
function reportStandIns(compiled: CompiledSet, one: ScoringCase, findings: FindingSink): void {
  for (const { attribute, from, insteadOf } of compiled.set.standIns) {
    findings.add(
      finding("other-attributes", one.place, {
        message: `${one.sampleId}: ${attribute.replaceAll("_", " ")} from ${from}, not the method's own list (${insteadOf})`,
        sampleId: one.sampleId,
      }),
    );
  }
}

/** A doubt when more animals than the set allows have no value of an attribute that its metrics read. */
function reportWithoutValue(compiled: CompiledSet, one: ScoringCase, findings: FindingSink): void {
  const { without_value_limit_percent: limit, values_incomplete } = compiled.set.definition;
  const { taxa, counts, total } = one.community;
  if (total === 0) return;
  const tellsShare = values_incomplete === true || compiled.set.standIns.length > 0;
  for (const attribute of compiled.read) {
    const has = compiled.attributes.get(attribute)?.has;
    if (has === undefined) continue;
    let without = 0;
    for (let at = 0; at < taxa.length; at++)
      if (has[taxa[at] as number] === 0) without += counts[at] as number;
    // Cross-multiplied: a share that equals the limit is not above it.
    const isBeyond = without * 100 > limit * total;
    if (!tellsShare && !isBeyond) continue;
    const percent = (animals: number) => numberText(Math.round((animals * 1000) / total) / 10);
    const words = attribute.replaceAll("_", " ");
    if (tellsShare) {
      findings.add(
        finding("value-share", one.place, {
          message: `${percent(total - without)} percent of the animals of ${one.sampleId} have a ${words} value`,
          sampleId: one.sampleId,
        }),
      );
    }
    if (!isBeyond) continue;
    findings.add(
      finding("without-value", one.place, {
        message: `${percent(without)} percent of the animals of ${one.sampleId} have no ${words} value (limit ${limit})`,
        sampleId: one.sampleId,
      }),
    );
  }
}
