import { FindingCollector } from "../findings/collector.ts";
import type { Finding } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { RowTable } from "../model/rows.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import type { BatchNames } from "./batch-names.ts";
import type { CompiledSet } from "./compiled-set.ts";
import { flagsOf } from "./flags.ts";
import { knownOf, SamplePreparer } from "./prepare-sample.ts";
import type { ReferenceSamples } from "./reference-samples.ts";
import { findReferenceSamples, needsReferenceCommunity } from "./reference-samples.ts";
import type { SampleScore, SampleStatus } from "./result.ts";
import { measure, scoreCommunity } from "./score-sample.ts";
import type { ScoredValues } from "./score-values.ts";

/** A batch read, named and joined with its set: everything needed to score its samples one by one. */
export interface Batch {
  readonly table: RowTable;
  /** Samples with a faulty row, and the codes of the faults. */
  readonly refused: ReadonlyMap<string, readonly FindingCode[]>;
  readonly log: ReadonlyMap<string, SampleFacts>;
  readonly names: BatchNames;
  readonly compiled: CompiledSet;
}

/** What the user may ask for beyond the set's own rules. */
export interface ScoringChoices {
  readonly seed: string;
  /** Undefined: the set's count rule; null: no draw. */
  readonly target?: number | null | undefined;
  /** The stratum of all samples, in place of the log's. */
  readonly stratum?: string | undefined;
  /** Only metric values, no scores: a missing stratum is then no fault. */
  readonly metricsOnly?: boolean | undefined;
}

/** A sample's result with the findings about it. */
export interface ScoredSample {
  readonly score: SampleScore;
  readonly findings: readonly Finding[];
}

/**
 * Scores a batch, one sample at a time, in the order in which the samples first appear. Every sample comes out
 * exactly once: scored, flagged, held back, or refused with the reason. Where the set compares with reference
 * samples, those are worked out first.
 */
export function* scoreBatch(batch: Batch, choices: ScoringChoices): Generator<ScoredSample> {
  const preparer = new SamplePreparer(batch, choices);
  const references =
    choices.metricsOnly === true && !needsReferenceCommunity(batch.compiled)
      ? undefined
      : findReferenceSamples(preparer);
  for (let sample = 0; sample < batch.table.samples.size; sample++) {
    yield scoreOne(preparer, sample, references);
  }
}

function scoreOne(
  preparer: SamplePreparer,
  sample: number,
  references: ReferenceSamples | undefined,
): ScoredSample {
  const { batch, choices } = preparer;
  const findings = new FindingCollector();
  const prepared = preparer.prepare(sample, findings);
  if (prepared.kind === "stopped") {
    return {
      score: { ...prepared.score, flags: flagsOf(findings.all, prepared.faults) },
      findings: findings.all,
    };
  }
  const { counted, draw } = prepared;
  const one = references === undefined ? prepared.one : references.join(prepared.one, findings);
  const { definition } = batch.compiled.set;
  const { total } = one.community;
  if (total === 0) {
    const message = `sample ${one.sampleId} has no animal that counts`;
    findings.add(finding("no-animals", one.place, { message, sampleId: one.sampleId }));
  }
  const least = definition.count_rule.least;
  const tooFew = choices.metricsOnly !== true && least !== null && total < least;
  if (tooFew) {
    const message = `sample ${one.sampleId} has ${total} animals; the set asks for at least ${least}`;
    findings.add(finding("few-animals", one.place, { message, sampleId: one.sampleId }));
  }
  const scored: ScoredValues = choices.metricsOnly
    ? { metrics: measure(batch.compiled, one, findings), index: undefined, rating: "" }
    : scoreCommunity(batch.compiled, one, findings);
  const hasIndex = !(tooFew && definition.count_rule.below_least === "no-index");
  const status: SampleStatus = findings.count("warning") + findings.count("error") > 0 ? "flagged" : "scored";
  return {
    score: {
      ...knownOf(one.sampleId, one.facts),
      stratum: one.stratum,
      individualsCounted: counted,
      individualsScored: total,
      status,
      index: hasIndex ? scored.index : undefined,
      rating: hasIndex ? scored.rating : "",
      metrics: scored.metrics,
      draw,
      flags: flagsOf(findings.all, []),
    },
    findings: findings.all,
  };
}
