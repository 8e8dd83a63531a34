import { FindingCollector } from "../findings/collector.ts";
import type { Finding } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import { flagsOf } from "./flags.ts";
import type { PreparedSample, SamplePreparer } from "./prepare-sample.ts";
import { knownOf } from "./prepare-sample.ts";
import type { ReferenceSamples } from "./reference-samples.ts";
import type { SampleScore, SampleStatus } from "./result.ts";
import type { ScoringCase } from "./score-sample.ts";
import { measureOnly, scoreCommunity } from "./score-sample.ts";
import type { ScoredValues } from "./score-values.ts";

/**
 * The whole road of one sample with everything met on the way: what `score` prints the end of and `explain`
 * prints step by step, so that the two can never tell different stories.
 */
export interface SampleRoad {
  readonly score: SampleScore;
  readonly findings: readonly Finding[];
  /** Rows, piles and, unless the sample was stopped, the draw. */
  readonly prepared: PreparedSample;
  /** What was scored, joined with its reference sample; undefined when the sample was stopped. */
  readonly one: ScoringCase | undefined;
  /** Undefined when the sample was stopped. */
  readonly scored: ScoredValues | undefined;
}

/**
 * Takes one sample down the road.
 *
 * @param sample number of the sample in the table
 * @param references undefined where the set compares with none
 */
export function walkSample(
  preparer: SamplePreparer,
  sample: number,
  references: ReferenceSamples | undefined,
): SampleRoad {
  const { batch, choices } = preparer;
  const findings = new FindingCollector();
  const prepared = preparer.prepare(sample, findings);
  if (prepared.kind === "stopped") {
    return {
      score: { ...prepared.score, flags: flagsOf(findings.all, prepared.faults) },
      findings: findings.all,
      prepared,
      one: undefined,
      scored: undefined,
    };
  }
  const { counted, draw } = prepared;
  const one = references === undefined ? prepared.one : references.join(prepared.one, findings);
  const { definition } = batch.compiled.set;
  // What the draw left, whatever the parent rule makes of it afterwards.
  const { kept } = prepared.drawn;
  if (kept === 0) {
    const message = `sample ${one.sampleId} has no animal that counts`;
    findings.add(finding("no-animals", one.place, { message, sampleId: one.sampleId }));
  }
  const least = definition.count_rule.least;
  const tooFew = choices.metricsOnly !== true && least !== null && kept < least;
  if (tooFew) {
    const message = `sample ${one.sampleId} has ${kept} animals; the set asks for at least ${least}`;
    findings.add(finding("few-animals", one.place, { message, sampleId: one.sampleId }));
  }
  const isExpanded = least !== null && choices.metricsOnly !== true && prepared.gathered.piles.hasExpanded;
  if (isExpanded && !findings.all.some((one) => one.code === "expanded-counts")) {
    const message = `sample ${one.sampleId} holds expanded counts, so it is not known whether ${least} animals were counted`;
    findings.add(finding("expanded-counts", one.place, { message, sampleId: one.sampleId }));
  }
  const scored = choices.metricsOnly
    ? measureOnly(batch.compiled, one, findings)
    : scoreCommunity(batch.compiled, one, findings);
  const known = knownOf(one.sampleId, one.facts);
  const hasIndex = !(tooFew && definition.count_rule.below_least === "no-index");
  const status: SampleStatus = findings.count("warning") + findings.count("error") > 0 ? "flagged" : "scored";
  return {
    // Every field by name: a spread costs more than all that is left to do here.
    score: {
      sampleId: one.sampleId,
      siteId: known.siteId,
      collectedOn: known.collectedOn,
      stratum: one.stratum,
      individualsCounted: counted,
      individualsScored: kept,
      status,
      index: hasIndex ? scored.index : undefined,
      rating: hasIndex ? scored.rating : "",
      metrics: scored.metrics,
      draw,
      flags: flagsOf(findings.all, []),
    },
    findings: findings.all,
    prepared,
    one,
    scored,
  };
}
