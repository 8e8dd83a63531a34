import type { Finding, Place } from "../../findings/finding.ts";
import { finding } from "../../findings/finding.ts";
import type { Exact } from "../../model/exact.ts";
import { fraction } from "../../model/exact.ts";
import { figureBesideLimit, figureText, missedByText } from "../../quality/figure-text.ts";
import type { IdentificationRules } from "../../quality/identification.ts";
import type { RecheckedSample } from "../../quality/identification-batch.ts";
import type { Judgement, Outcome, QualityLimit } from "../../quality/judgement.ts";
import { combineOutcomes, judge } from "../../quality/judgement.ts";
import { meanExact } from "../../quality/percent.ts";

/**
 * What the limits make of a batch of re-identified samples.
 *
 * @param placeOf where a sample stands on the second sheet
 * @param batchPlace where findings about the batch as a whole point
 */
export function identificationFindings(
  samples: readonly RecheckedSample[],
  rules: IdentificationRules,
  gainsLimit: QualityLimit | undefined,
  placeOf: (sampleId: string) => Place,
  batchPlace: Place,
): { readonly outcome: Outcome; readonly findings: readonly Finding[] } {
  const findings: Finding[] = [];
  const outcomes: Outcome[] = [];
  for (const { figures } of samples) {
    const { sampleId } = figures;
    const place = placeOf(sampleId);
    const isCounted = rules.hierarchical === "count";
    const ptd = isCounted ? figures.disagreement : figures.disagreementWithoutHierarchical;
    const rows = [
      ["PDE", figures.enumerationDifference, rules.enumerationLimit, figures.enumerationJudgement],
      [
        isCounted ? "PTD" : "PTD without hierarchical",
        ptd,
        rules.disagreementLimit,
        figures.disagreementJudgement,
      ],
      [
        "PTC difference",
        figures.completenessDifference,
        rules.completenessLimit,
        figures.completenessJudgement,
      ],
    ] as const;
    for (const [name, value, limit, judgement] of rows)
      findings.push(...missed(`${name} of ${sampleId}`, value, limit, judgement, place, sampleId));
    if (figures.outcome === "not-computable") {
      const message = `figures of ${sampleId}: neither sheet has an animal that counts`;
      findings.push(finding("not-computable", place, { message, sampleId }));
    }
    outcomes.push(figures.outcome);
  }
  const gains = meanExact(samples.map(({ figures }) => fraction(figures.gains)));
  if (gainsLimit !== undefined) {
    const judgement = judge(gains, gainsLimit);
    outcomes.push(judgement.outcome);
    findings.push(
      ...missed(
        "mean number of families gained per sample",
        gains,
        gainsLimit,
        judgement,
        batchPlace,
        "",
        "",
      ),
    );
  }
  return { outcome: combineOutcomes(outcomes), findings };
}

function missed(
  what: string,
  value: Exact | undefined,
  limit: QualityLimit | undefined,
  { outcome, missedBy }: Judgement,
  place: Place,
  sampleId: string,
  unit = " percent",
): Finding[] {
  if (outcome !== "fail" || value === undefined || limit === undefined || missedBy === undefined) return [];
  const side = limit.side === "at-most" ? "over" : "under";
  const message = `${what} is ${figureBesideLimit(value, limit.at)}${unit}, ${missedByText(missedBy)} ${side} the limit of ${figureText(limit.at)}`;
  const hint = "look at the reasons (--table disagreements) and write down what was done";
  return [finding("limit-missed", place, { message, sampleId, hint })];
}
