import type { ExchangeMetric, ExchangeRun, ExchangeSample } from "../exchange/exchange-sample.ts";
import { metricOf } from "../metrics/registry.ts";
import { toNumber } from "../model/exact.ts";
import { valueAsNumber } from "../model/metric-value.ts";
import { fractionSorted } from "../model/sample-facts.ts";
import type { ReferenceSet } from "../reference/set.ts";
import { exchangeRecords } from "./exchange-records.ts";
import type { StoredRun } from "./open-run.ts";
import { SamplePreparer } from "./prepare-sample.ts";
import { protectedSites } from "./protected-sites.ts";
import { referencesFor } from "./reference-samples.ts";
import type { MetricResult } from "./result.ts";
import type { Batch } from "./score-batch.ts";
import { walkSample } from "./walk-sample.ts";

/** What holds for all samples of a run's export. */
export function exchangeRun({ record }: StoredRun, exactPlaces: boolean): ExchangeRun {
  const { id, version, title, hash, verification } = record.reference;
  // Only a run that was stamped says when it was made.
  const calculatedOn = (record.environment.made_at ?? "").slice(0, 10);
  return {
    set: { id, version, title, hash, verification },
    seed: record.options.seed,
    calculatedOn,
    exactPlaces,
  };
}

/** The samples of a run, one by one, as exchange tables see them. Only samples that were scored have animals. */
export function* exchangeSamples(run: StoredRun & { readonly batch: Batch }): Generator<ExchangeSample> {
  const { batch, choices } = run;
  const preparer = new SamplePreparer(batch, choices);
  const references = referencesFor(preparer);
  const isProtected = protectedSites(batch);
  for (let sample = 0; sample < batch.table.samples.size; sample++) {
    const { score, prepared } = walkSample(preparer, sample, references);
    const facts = batch.log.get(score.sampleId);
    yield {
      sampleId: score.sampleId,
      siteId: score.siteId,
      collectedOn: score.collectedOn,
      stratum: score.stratum,
      facts: facts?.texts ?? new Map(),
      status: score.status,
      flags: score.flags,
      isProtectedSite: isProtected(score.sampleId),
      records: prepared.kind === "stopped" ? [] : exchangeRecords(batch, prepared.gathered),
      metrics: score.metrics.map((result) => exchangeMetric(run.set, result)),
      counted: score.individualsCounted,
      scored: score.individualsScored,
      drawTarget: score.draw?.target,
      fractionSorted: fractionSorted(facts),
      index: score.index === undefined ? undefined : toNumber(score.index),
      rating: score.rating,
    };
  }
}

function exchangeMetric(set: ReferenceSet, { id, value, score }: MetricResult): ExchangeMetric {
  const use = set.definition.metrics.find((one) => one.id === id);
  const entry = metricOf(use?.metric ?? id);
  return {
    id,
    name: entry.name,
    unit: entry.unit,
    value: valueAsNumber(value),
    whyMissing: value.kind === "missing" ? value.why : "",
    score: score === undefined ? undefined : toNumber(score),
  };
}
