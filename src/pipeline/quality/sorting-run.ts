import type { InputFile } from "../../files/input.ts";
import { FindingCollector } from "../../findings/collector.ts";
import type { Finding } from "../../findings/finding.ts";
import { finding } from "../../findings/finding.ts";
import type { Exact } from "../../model/exact.ts";
import { fraction, multiply, simplify } from "../../model/exact.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";
import { fact } from "../../model/sample-facts.ts";
import { figureBesideLimit, figureText, missedByText } from "../../quality/figure-text.ts";
import { combineOutcomes } from "../../quality/judgement.ts";
import type { SortingRule } from "../../quality/sorting.ts";
import { sortingFigure } from "../../quality/sorting.ts";
import type { CheckedSample } from "../../quality/sorting-groups.ts";
import type { SorterLot } from "../../quality/sorting-steps.ts";
import type { SampleLog } from "../../sheets/sample-log.ts";
import { readSampleLog } from "../../sheets/sample-log.ts";
import type { LoggedSortingCheck, SortingChecks } from "../../sheets/sorting-check.ts";
import { readSortingChecks } from "../../sheets/sorting-check.ts";
import type { QualityRun } from "./quality-run.ts";
import { countText, refusedRun } from "./quality-run.ts";
import { sortingReport } from "./sorting-report.ts";

export interface SortingFiles {
  readonly checks: InputFile;
  readonly sampleLog?: InputFile | undefined;
  readonly encoding?: string | undefined;
}

export interface SortingChoices {
  readonly rule: SortingRule;
  /** Share that was asked for in the first round; says when a second one is due. */
  readonly share: Exact;
}

/** A check joined with the log, and where its row stands. */
export interface PlacedCheck extends CheckedSample {
  readonly row: LoggedSortingCheck;
  /** Column of the log that `sortedOn` was taken from; empty when there is no date. */
  readonly dateIs: string;
}

/**
 * Sorting efficiency of every check of a sheet, joined with the sample log where there is one.
 *
 * @throws FileError when a file cannot be read
 */
export async function checkSorting(files: SortingFiles, choices: SortingChoices): Promise<QualityRun> {
  const findings = new FindingCollector();
  const options = { encoding: files.encoding };
  const sheet = await readSortingChecks(files.checks, options, findings);
  const log = files.sampleLog && (await readSampleLog(files.sampleLog, options, findings));
  const inputs = [sheet.digest, log?.digest].filter((digest) => digest !== undefined);
  if (sheet.unreadable || log?.unreadable === true) return refusedRun(findings.all, inputs);

  const checks = sheet.checks.map((row): PlacedCheck => {
    const facts = log?.samples.get(row.sampleId);
    return {
      row,
      figure: sortingFigure(row, choices.rule),
      sorter: row.sorter === "" ? (fact(facts, "sorter") ?? "") : row.sorter,
      lot: fact(facts, "lot") ?? "",
      ...dateOf(facts),
    };
  });
  for (const found of rowFindings(sheet, log)) findings.add(found);
  for (const found of checks.flatMap((check) => judgedFindings(check, choices.rule))) findings.add(found);
  return {
    ...sortingReport({ checks, refused: sheet.refused, lots: log && sorterLots(log, checks), ...choices }),
    findings: findings.all,
    inputs,
    outcome: combineOutcomes(checks.map(({ figure }) => figure.outcome)),
  };
}

/** The day of sorting; where the log does not say, the day of receipt or of collection keeps the order in time. */
function dateOf(facts: SampleFacts | undefined): { readonly sortedOn: string; readonly dateIs: string } {
  for (const column of ["sorted_on", "received_on", "collected_on"] as const) {
    const text = fact(facts, column);
    if (text !== undefined) return { sortedOn: text.slice(0, 10), dateIs: column };
  }
  return { sortedOn: "", dateIs: "" };
}

/** Rows whose sample the log does not know, and second checks of a sample. */
function rowFindings(sheet: SortingChecks, log: SampleLog | undefined): Finding[] {
  const findings: Finding[] = [];
  const lines = new Map<string, number>();
  for (const { sampleId, place } of sheet.checks) {
    const earlier = lines.get(sampleId);
    if (earlier === undefined) lines.set(sampleId, place.line);
    else {
      const message = `sample ${sampleId} was also checked in line ${earlier}`;
      findings.push(finding("checked-twice", place, { message, sampleId }));
      continue;
    }
    if (log === undefined || log.samples.has(sampleId)) continue;
    const message = `sample ${sampleId} was checked but has no row in the sample log`;
    findings.push(finding("not-in-log", place, { message, sampleId }));
  }
  return findings;
}

function judgedFindings({ figure, row }: PlacedCheck, rule: SortingRule): Finding[] {
  const { sampleId } = figure;
  const findings: Finding[] = [];
  const add = (
    code: "partly-checked" | "not-computable" | "limit-missed" | "at-open-limit",
    message: string,
  ) => findings.push(finding(code, row.place, { message, sampleId }));
  if (figure.isEstimate) {
    const share = figureText(simplify(multiply(figure.fractionChecked, fraction(100))));
    add(
      "partly-checked",
      `${countText(figure.recovered, "animal")} found in ${share} percent of the residue of ${sampleId} stand for ${figureText(figure.missed)}`,
    );
  }
  const { efficiency, missedBy, limit } = figure;
  if (efficiency === undefined)
    add("not-computable", `sorting efficiency of ${sampleId}: nothing was sorted and nothing recovered`);
  else if (figure.outcome === "undecided")
    add(
      "at-open-limit",
      `${sampleId}: exactly ${figureText(limit)} animals missed; fewer pass, more fail, and this number is not spoken of`,
    );
  else if (figure.outcome === "fail" && missedBy !== undefined)
    add(
      "limit-missed",
      rule.kind === "efficiency"
        ? `sorting efficiency of ${sampleId} is ${figureBesideLimit(efficiency, limit)} percent, ${missedByText(missedBy)} under the limit of ${figureText(limit)}`
        : `${figureBesideLimit(figure.missed, limit)} animals of ${sampleId} were missed, ${missedByText(missedBy)} over the limit of fewer than ${figureText(limit)}`,
    );
  return findings;
}

/** Every sample of the log by sorter and lot. The sorter of a check row goes before the log's. */
function sorterLots(log: SampleLog, checks: readonly PlacedCheck[]): SorterLot[] {
  const sorters = new Map(checks.map((check) => [check.figure.sampleId, check.sorter]));
  const lots = new Map<string, { sorter: string; lot: string; sampleIds: string[] }>();
  for (const [sampleId, facts] of log.samples) {
    const sorter = sorters.get(sampleId) ?? fact(facts, "sorter") ?? "";
    const lot = fact(facts, "lot") ?? "";
    const key = JSON.stringify([sorter, lot]);
    const known = lots.get(key) ?? { sorter, lot, sampleIds: [] };
    known.sampleIds.push(sampleId);
    lots.set(key, known);
  }
  return [...lots.values()];
}
