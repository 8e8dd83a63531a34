import type { FindingSink } from "../findings/collector.ts";
import { FindingCollector } from "../findings/collector.ts";
import type { Finding } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import { fact } from "../model/sample-facts.ts";
import type { ReferenceSet } from "../reference/set.ts";
import type { CompiledSet } from "./compiled-set.ts";
import { placeOfFact } from "./log-checks.ts";
import type { SamplePreparer } from "./prepare-sample.ts";
import type { ScoringCase } from "./score-sample.ts";
import { measureRaw } from "./score-sample.ts";
import type { ReferenceCase } from "./score-values.ts";

/** Whether a metric is worked out from the animals of a reference sample (community loss). */
export function needsReferenceCommunity(compiled: CompiledSet): boolean {
  return compiled.metrics.some((metric) => metric.needs.includes("reference-sample"));
}

/** Whether scores of the set are taken in percent of a reference sample. */
export function comparesWithReference(set: ReferenceSet): boolean {
  if (set.definition.index.percent_of_reference) return true;
  return [...set.segments.values()].some((byStratum) =>
    [...byStratum.values()].some((segments) => segments.some((one) => one.basis === "percent-of-reference")),
  );
}

/** The reference samples that a batch needs; undefined when it needs none. */
export function referencesFor(preparer: SamplePreparer): ReferenceSamples | undefined {
  const { batch, choices } = preparer;
  if (choices.metricsOnly === true && !needsReferenceCommunity(batch.compiled)) return undefined;
  return findReferenceSamples(preparer);
}

/** The reference samples of a batch, worked out before any sample is scored. */
export interface ReferenceSamples {
  /** The case with its reference sample; a sample without one that can be used gets a finding. */
  join(one: ScoringCase, findings: FindingSink): ScoringCase;
}

/**
 * Works out the reference samples that the log names (reference_sample_id). A sample that others name and that
 * names none itself is its own reference.
 *
 * @returns undefined when the set compares with none
 */
export function findReferenceSamples(preparer: SamplePreparer): ReferenceSamples | undefined {
  const { batch } = preparer;
  if (!needsReferenceCommunity(batch.compiled) && !comparesWithReference(batch.compiled.set))
    return undefined;
  const named = new Set<string>();
  for (const id of batch.table.samples.texts) {
    const reference = fact(batch.log.get(id), "reference_sample_id");
    if (reference !== undefined) named.add(reference);
  }
  const found = new Map<string, { readonly one: ScoringCase; readonly reference: ReferenceCase } | string>();
  for (const id of named) {
    const number = batch.table.samples.numberOf(id);
    // What there is to say of a reference sample is said where it is scored itself.
    const unheard = new FindingCollector();
    const prepared = number === undefined ? undefined : preparer.prepare(number, unheard);
    if (prepared === undefined) found.set(id, "is not among the samples");
    else if (prepared.kind === "stopped") found.set(id, `is ${prepared.score.status}`);
    else {
      const itself = { ...prepared.one.context, reference: prepared.one.community };
      const measured = measureRaw(batch.compiled, { ...prepared.one, context: itself }, unheard);
      found.set(id, { one: prepared.one, reference: { facts: prepared.one.facts, measured } });
    }
  }
  return {
    join(one, findings) {
      const given = fact(one.facts, "reference_sample_id");
      const id = given ?? (named.has(one.sampleId) ? one.sampleId : undefined);
      const known = id === undefined ? undefined : found.get(id);
      if (known === undefined || typeof known === "string") {
        findings.add(noReferenceSample(one, id, known ?? ""));
        return one;
      }
      return {
        ...one,
        context: { ...one.context, reference: known.one.community },
        reference: known.reference,
      };
    },
  };
}

/**
 * That a sample has no reference sample that can be used.
 *
 * @param id what it names; undefined when it names none
 * @param why what is wrong with that one
 */
export function noReferenceSample(
  one: Pick<ScoringCase, "sampleId" | "facts" | "place">,
  id: string | undefined,
  why: string,
): Finding {
  const { sampleId, facts, place } = one;
  const what = id === undefined ? " names no reference sample" : `: its reference sample ${id} ${why}`;
  return finding(
    "no-reference-sample",
    facts === undefined ? place : placeOfFact(facts, "reference_sample_id"),
    { message: `sample ${sampleId}${what}`, sampleId },
  );
}
