import { FindingCollector } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import { findMetric } from "../metrics/registry.ts";
import { compareExact, exactOf } from "../model/exact.ts";
import { exactValue } from "../model/metric-value.ts";
import { numberText } from "../model/number-text.ts";
import { fact } from "../model/sample-facts.ts";
import type { MetricSample } from "../sheets/metric-table.ts";
import { flagsOf } from "./flags.ts";
import { checkSeason, isHeldBack, stratumOf } from "./log-checks.ts";
import type { MetricBatch } from "./metric-batch.ts";
import { knownOf } from "./prepare-sample.ts";
import { comparesWithReference, noReferenceSample } from "./reference-samples.ts";
import type { SampleScore } from "./result.ts";
import type { ScoredSample, ScoringChoices } from "./score-batch.ts";
import type { MeasuredMetric, ReferenceCase, ValueCase } from "./score-values.ts";
import { scoreValues } from "./score-values.ts";

/**
 * Scores metric values worked out elsewhere, in the order in which samples first appear. How many animals they
 * rest on is not known here, so the set's least count is not checked.
 */
export function* scoreMetricTable(
  batch: MetricBatch,
  choices: Pick<ScoringChoices, "stratum">,
): Generator<ScoredSample> {
  const named = new Set<string>();
  for (const id of batch.table.samples.keys()) {
    const reference = fact(batch.log.get(id), "reference_sample_id");
    if (reference !== undefined) named.add(reference);
  }
  const ids = new Set([...batch.table.samples.keys(), ...batch.table.refused.keys()]);
  for (const id of ids) yield scoreOne(batch, choices, id, named);
}

function scoreOne(
  batch: MetricBatch,
  choices: Pick<ScoringChoices, "stratum">,
  sampleId: string,
  named: ReadonlySet<string>,
): ScoredSample {
  const findings = new FindingCollector();
  const { set } = batch;
  const sample = batch.table.samples.get(sampleId);
  const facts = batch.log.get(sampleId);
  const inTable = sample === undefined || sample.stratum === "" ? undefined : sample.stratum;
  const forAll = choices.stratum ?? inTable;
  const base = {
    ...knownOf(sampleId, facts),
    stratum: forAll ?? fact(facts, "stratum") ?? "",
    individualsCounted: undefined,
    individualsScored: undefined,
    draw: undefined,
  };
  const stopped = (
    status: "refused" | "held-back",
    faults: readonly FindingCode[],
    stratum = base.stratum,
  ) => ({
    score: {
      ...base,
      stratum,
      status,
      index: undefined,
      rating: "",
      metrics: [],
      flags: flagsOf(findings.all, faults),
    },
    findings: findings.all,
  });
  const faults = [...(batch.table.refused.get(sampleId) ?? [])];
  if (sample === undefined || faults.length > 0) return stopped("refused", faults);
  if (checkRanges(batch, sample, findings)) return stopped("refused", []);
  if (isHeldBack(sampleId, facts, findings)) return stopped("held-back", []);
  const stratum = stratumOf(sampleId, facts, set.definition, forAll, sample.place, findings);
  if (stratum === undefined) return stopped("refused", [], "");
  checkSeason(sampleId, facts, set.definition, findings);
  const measured = measuredOf(batch, sample);
  for (const { id, raw } of measured) {
    if (raw.kind !== "missing") continue;
    const message = `${id} of ${sampleId} is missing: the table does not give it`;
    const hint = "add the value to the table; the index is empty where the set asks for every metric";
    findings.add(finding("missing-metric", sample.place, { message, sampleId, hint }));
  }
  const one: ValueCase = { sampleId, facts, stratum, place: sample.place };
  const scored = scoreValues(
    set,
    measured,
    { ...one, ...referenceOf(batch, one, named, findings) },
    findings,
  );
  const isDoubtful = findings.count("warning") + findings.count("error") > 0;
  const score: SampleScore = {
    ...base,
    stratum,
    status: isDoubtful ? "flagged" : "scored",
    index: scored.index,
    rating: scored.rating,
    metrics: scored.metrics,
    flags: flagsOf(findings.all),
  };
  return { score, findings: findings.all };
}

function measuredOf({ set }: MetricBatch, sample: MetricSample): MeasuredMetric[] {
  return set.definition.metrics.map(({ id }) => {
    const given = sample.values.get(id);
    return {
      id,
      raw:
        given === undefined
          ? { kind: "missing", why: "the table does not give it" }
          : exactValue(given.value),
    };
  });
}

/** A value that the metric cannot have is a slip (a share for a percentage, a column moved); it is not scored. */
function checkRanges({ set }: MetricBatch, sample: MetricSample, findings: FindingCollector): boolean {
  for (const use of set.definition.metrics) {
    const given = sample.values.get(use.id);
    const range = findMetric(use.metric ?? use.id)?.range;
    if (given === undefined || range === undefined) continue;
    const [low, high] = range;
    const isBelow = Number.isFinite(low) && compareExact(given.value, exactOf(low)) < 0;
    const isAbove = Number.isFinite(high) && compareExact(given.value, exactOf(high)) > 0;
    if (!isBelow && !isAbove) continue;
    const ends = `${Number.isFinite(low) ? numberText(low) : "any number"} to ${Number.isFinite(high) ? numberText(high) : "any number"}`;
    findings.add(
      finding("impossible-metric", given.place, {
        message: `${use.id} of ${sample.sampleId} goes from ${ends}`,
        sampleId: sample.sampleId,
      }),
    );
  }
  return findings.count("error") > 0;
}

function referenceOf(
  batch: MetricBatch,
  one: ValueCase,
  named: ReadonlySet<string>,
  findings: FindingCollector,
): { readonly reference?: ReferenceCase } {
  if (!comparesWithReference(batch.set)) return {};
  const id = fact(one.facts, "reference_sample_id") ?? (named.has(one.sampleId) ? one.sampleId : undefined);
  const reference = id === undefined ? undefined : batch.table.samples.get(id);
  const isRefused = id !== undefined && batch.table.refused.has(id);
  if (reference === undefined || isRefused) {
    findings.add(noReferenceSample(one, id, isRefused ? "is refused" : "is not among the samples"));
    return {};
  }
  return { reference: { facts: batch.log.get(reference.sampleId), measured: measuredOf(batch, reference) } };
}
