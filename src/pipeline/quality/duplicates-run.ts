import type { InputFile } from "../../files/input.ts";
import { FindingCollector } from "../../findings/collector.ts";
import type { Finding } from "../../findings/finding.ts";
import { finding } from "../../findings/finding.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";
import { fact } from "../../model/sample-facts.ts";
import type { DuplicateGroup } from "../../quality/duplicate-groups.ts";
import { groupDuplicates } from "../../quality/duplicate-groups.ts";
import type { DuplicateSummary } from "../../quality/duplicates.ts";
import { duplicateSummary } from "../../quality/duplicates.ts";
import { figureBesideLimit, figureText, missedByText } from "../../quality/figure-text.ts";
import type { Outcome, QualityLimit } from "../../quality/judgement.ts";
import { combineOutcomes } from "../../quality/judgement.ts";
import { ratingAgreement } from "../../quality/rating-agreement.ts";
import type { SampleLog } from "../../sheets/sample-log.ts";
import { readSampleLog } from "../../sheets/sample-log.ts";
import type { ScoresTable } from "../../sheets/scores-table.ts";
import { readScoresTable } from "../../sheets/scores-table.ts";
import { placeOfFact } from "../log-checks.ts";
import { duplicatesReport } from "./duplicates-report.ts";
import type { QualityRun } from "./quality-run.ts";
import { refusedRun } from "./quality-run.ts";

/** Columns of the log that link samples of one place and visit. */
export const DUPLICATE_LINKS = ["duplicate_of", "replicate_of", "both"] as const;
export type DuplicateLinks = (typeof DUPLICATE_LINKS)[number];

export interface DuplicateFiles {
  readonly scores: InputFile;
  readonly sampleLog: InputFile;
  readonly encoding?: string | undefined;
}

export interface DuplicateChoices {
  readonly links: DuplicateLinks;
  /** Limit of the relative percent difference; undefined for none. */
  readonly limit: QualityLimit | undefined;
  /** Whether the limit holds for every metric, not for the index only. */
  readonly limitsMetrics: boolean;
}

/**
 * Precision of the index and of every metric from the duplicates that the sample log names.
 *
 * @throws FileError when a file cannot be read
 */
export async function checkDuplicates(files: DuplicateFiles, choices: DuplicateChoices): Promise<QualityRun> {
  const findings = new FindingCollector();
  const options = { encoding: files.encoding };
  const scores = await readScoresTable(files.scores, options, findings);
  const log = await readSampleLog(files.sampleLog, options, findings);
  const inputs = [scores.digest, log.digest];
  if (scores.unreadable || log.unreadable) return refusedRun(findings.all, inputs);

  const columns =
    choices.links === "both" ? (["duplicate_of", "replicate_of"] as const) : ([choices.links] as const);
  const links = [...log.samples.values()].flatMap((facts) =>
    columns.flatMap((column) => {
      const of = fact(facts, column);
      return of === undefined ? [] : [{ sampleId: facts.sampleId, of, facts, column }];
    }),
  );
  const { groups: all, circular } = groupDuplicates(links);
  for (const sampleId of circular) {
    const link = links.find((one) => one.sampleId === sampleId);
    if (link === undefined) continue;
    const message =
      link.of === sampleId
        ? `sample ${sampleId} is called a duplicate of itself`
        : `samples ${sampleId} and ${link.of} repeat each other in a circle`;
    findings.add(finding("circular-duplicates", placeOfFact(link.facts, link.column), { message, sampleId }));
  }
  // A log of years holds many duplicates that these scores are not about.
  const groups = all.filter(({ sampleIds }) => sampleIds.some((id) => scores.samples.has(id)));
  for (const found of missingScores(groups, scores, log, links)) findings.add(found);

  const measures = scores.measures.map((measure) =>
    duplicateSummary(
      measure,
      groups,
      (sampleId) => scores.samples.get(sampleId)?.values.get(measure),
      measure === "index" || choices.limitsMetrics ? choices.limit : undefined,
    ),
  );
  const ratings = groups.map(({ sampleIds }) => sampleIds.map((id) => scores.samples.get(id)?.rating ?? ""));
  const limited = measures.filter(({ measure }) => measure === "index" || choices.limitsMetrics);
  for (const found of limited.flatMap((one) => judgedFindings(one, choices.limit, scores)))
    findings.add(found);
  const outcomes = limited.flatMap(({ figures }): Outcome[] => figures.map((one) => one.judgement.outcome));
  return {
    ...duplicatesReport({
      groups,
      ratings,
      measures,
      agreement: ratingAgreement(ratings),
      hasRatings: [...scores.samples.values()].some(({ rating }) => rating !== ""),
      ...choices,
    }),
    findings: findings.all,
    inputs,
    outcome: combineOutcomes(outcomes),
  };
}

/** Samples of a group that are not among the scores: the pair is lost, and nobody would notice. */
function missingScores(
  groups: readonly DuplicateGroup[],
  scores: ScoresTable,
  log: SampleLog,
  links: readonly {
    readonly sampleId: string;
    readonly facts: SampleFacts;
    readonly column: "duplicate_of" | "replicate_of";
  }[],
): Finding[] {
  const linkOf = new Map(links.map((link) => [link.sampleId, link]));
  return groups.flatMap(({ primary, sampleIds }) =>
    sampleIds
      .filter((id) => !scores.samples.has(id))
      .map((sampleId) => {
        const repeats = sampleIds.filter((id) => id !== sampleId).join(", ");
        const link =
          linkOf.get(sampleId) ?? sampleIds.map((id) => linkOf.get(id)).find((one) => one !== undefined);
        const place =
          link === undefined ? { file: log.file, line: 0, column: 0 } : placeOfFact(link.facts, link.column);
        const message =
          sampleId === primary
            ? `sample ${sampleId}, which ${repeats} repeats, is not among the scores`
            : `sample ${sampleId}, which repeats ${primary}, is not among the scores`;
        return finding("no-duplicate", place, { message, sampleId });
      }),
  );
}

function judgedFindings(
  { measure, figures }: DuplicateSummary,
  limit: QualityLimit | undefined,
  scores: ScoresTable,
): Finding[] {
  return figures.flatMap((figure) => {
    const last = figure.sampleIds.at(-1) ?? figure.primary;
    const place = { file: scores.file, line: scores.samples.get(last)?.line ?? 0, column: 1 };
    const ids = figure.sampleIds.join(", ");
    const { outcome, missedBy } = figure.judgement;
    if (outcome === "fail" && limit !== undefined && missedBy !== undefined && figure.relativeDifference) {
      const rpd = figureBesideLimit(figure.relativeDifference, limit.at);
      const message = `RPD of ${measure} of ${ids} is ${rpd} percent, ${missedByText(missedBy)} over the limit of ${figureText(limit.at)}`;
      return [finding("limit-missed", place, { message, sampleId: last })];
    }
    if (figure.whyNot === undefined) return [];
    const why = {
      "too-few-values": `fewer than two of ${[...figure.sampleIds, ...figure.withoutValue].join(", ")} have a value`,
      "all-zero": `the values of ${ids} are all zero`,
      "below-zero": `a value of ${ids} is below zero`,
    }[figure.whyNot];
    return [finding("not-computable", place, { message: `RPD of ${measure}: ${why}`, sampleId: last })];
  });
}
