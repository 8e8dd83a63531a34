import type { InputFile } from "../../files/input.ts";
import { FindingCollector } from "../../findings/collector.ts";
import type { Place } from "../../findings/finding.ts";
import { finding, wholeFile } from "../../findings/finding.ts";
import type { FindingCode } from "../../findings/register.ts";
import { at } from "../../model/at.ts";
import { fact } from "../../model/sample-facts.ts";
import type { Rank, TaxonTree } from "../../model/taxon-tree.ts";
import { CountPolicy } from "../../names/count-policy.ts";
import { checkLabNames } from "../../names/lab-names.ts";
import { NameResolver } from "../../names/resolve.ts";
import { disagreementsOf } from "../../quality/disagreements.ts";
import type { IdentificationRules } from "../../quality/identification.ts";
import { compareIdentifications } from "../../quality/identification.ts";
import type { RecheckedSample } from "../../quality/identification-batch.ts";
import type { QualityLimit } from "../../quality/judgement.ts";
import { loadSharedTables } from "../../reference/shared-tables.ts";
import { readBenchSheets } from "../../sheets/bench-sheet.ts";
import { readNamesList } from "../../sheets/names-list.ts";
import { readSampleLog } from "../../sheets/sample-log.ts";
import { packageTables } from "../package-tables.ts";
import { identificationFindings } from "./identification-findings.ts";
import type { IdentificationResult } from "./identification-report.ts";
import { identificationReport } from "./identification-report.ts";
import { definitionOf, targetLevel } from "./identification-rules.ts";
import type { QualityRun } from "./quality-run.ts";
import { refusedRun } from "./quality-run.ts";
import type { CountedSheet } from "./sheet-counts.ts";
import { countSheets, resolveTogether } from "./sheet-counts.ts";

/** Two readings of the same animals, opened. */
export interface IdentificationFiles {
  readonly primary: readonly InputFile[];
  readonly recheck: readonly InputFile[];
  readonly sampleLog?: InputFile | undefined;
  readonly names?: InputFile | undefined;
  readonly encoding?: string | undefined;
}

/** How they are compared. */
export interface IdentificationChoices {
  readonly rules: Omit<IdentificationRules, "level">;
  /** Target rank of completeness; without it the set's level, without a set genus. */
  readonly rank: Rank | undefined;
  /** Id or path of a reference set, for its level and the animals it counts. */
  readonly reference: string | undefined;
  /** Limit of the mean number of families gained per sample; undefined for none. */
  readonly gainsLimit: QualityLimit | undefined;
}

/** A sample that is on both sheets and cannot be compared. */
export interface RefusedComparison {
  readonly sampleId: string;
  readonly codes: readonly FindingCode[];
}

/**
 * Compares two bench sheets of the same animals: every sample that is on both.
 *
 * @param cwd the folder in which relative set paths are looked up
 * @throws FileError when a file cannot be read, UnknownSetError when there is no such set
 */
export async function checkIdentification(
  files: IdentificationFiles,
  choices: IdentificationChoices,
  cwd: string,
): Promise<QualityRun> {
  const findings = new FindingCollector();
  const shared = await loadSharedTables(packageTables());
  const definition = await definitionOf(choices.reference, shared, cwd, findings);
  const options = { encoding: files.encoding };
  const primary = await readBenchSheets(files.primary, options, findings);
  const recheck = await readBenchSheets(files.recheck, options, findings);
  const log = files.sampleLog && (await readSampleLog(files.sampleLog, options, findings));
  const lab = files.names && (await readNamesList(files.names, options, findings));
  const labFaults = lab === undefined ? [] : checkLabNames(lab, shared.tree, shared.synonyms);
  for (const fault of labFaults) findings.add(fault);
  const inputs = [
    ...primary.digests,
    ...recheck.digests,
    ...[log?.digest, lab?.digest].filter((digest) => digest !== undefined),
  ];
  const isUnreadable =
    [primary, recheck, log, lab].some((reading) => reading?.unreadable === true) ||
    labFaults.some(({ severity }) => severity === "error");
  if (isUnreadable || definition === null) return refusedRun(findings.all, inputs);

  const resolver = new NameResolver({ tree: shared.tree, synonyms: shared.synonyms }, lab?.entries);
  const { tree, names } = resolveTogether([primary, recheck], resolver, shared.tree);
  const [primaryNames, recheckNames] = names;
  if (primaryNames === undefined || recheckNames === undefined) return refusedRun(findings.all, inputs);
  const policy = new CountPolicy(tree, shared.stageRules, definition?.count_policy ?? []);
  const isOn = (reading: typeof primary) => (id: string) => reading.table.samples.numberOf(id) !== undefined;
  const first = countSheets(primary, primaryNames, policy, findings, isOn(recheck));
  const second = new Map(
    countSheets(recheck, recheckNames, policy, findings, isOn(primary)).map((one) => [one.sampleId, one]),
  );
  reportMissingPrimaries(recheck, isOn(primary), first.length, findings);

  const rules: IdentificationRules = { ...choices.rules, level: targetLevel(choices.rank, definition, tree) };
  const logged = (id: string, column: "taxonomist" | "collected_on") => fact(log?.samples.get(id), column);
  const compared = compareSamples(first, second, { tree, rules, logged });
  const { samples } = compared;
  const place = samplePlaces(recheck);
  const judged = identificationFindings(
    samples,
    rules,
    choices.gainsLimit,
    place,
    wholeFile(firstFile(recheck)),
  );
  return {
    ...identificationReport({ ...compared, tree, rules, gainsLimit: choices.gainsLimit }),
    findings: [...findings.all, ...judged.findings],
    inputs,
    outcome: judged.outcome,
  };
}

interface Comparing {
  readonly tree: TaxonTree;
  readonly rules: IdentificationRules;
  /** What the sample log says. */
  readonly logged: (sampleId: string, column: "taxonomist" | "collected_on") => string | undefined;
}

/** Compares every sample of the first reading with that of the second; what either refuses is not compared. */
function compareSamples(
  first: readonly CountedSheet[],
  second: ReadonlyMap<string, CountedSheet>,
  { tree, rules, logged }: Comparing,
): Pick<IdentificationResult, "samples" | "refused" | "checkers"> {
  const samples: RecheckedSample[] = [];
  const refused: RefusedComparison[] = [];
  const checkers = new Map<string, string>();
  for (const own of first) {
    const { sampleId } = own;
    const other = second.get(sampleId);
    if (other === undefined) continue;
    const codes = [...new Set([...own.refusals, ...other.refusals])];
    if (codes.length > 0) {
      refused.push({ sampleId, codes });
      continue;
    }
    const sheets = { primary: own.counts, recheck: other.counts };
    const figures = compareIdentifications(sampleId, tree, own.counts, other.counts, rules);
    const disagreements = disagreementsOf(sampleId, tree, figures.matching, sheets);
    const taxonomist = logged(sampleId, "taxonomist") ?? own.identifiedBy;
    const date = own.identifiedOn === "" ? (logged(sampleId, "collected_on") ?? "") : own.identifiedOn;
    checkers.set(sampleId, other.identifiedBy);
    samples.push({ figures, ...sheets, disagreements, taxonomist, date: date.slice(0, 10) });
  }
  return { samples, refused, checkers };
}

type Sheets = Awaited<ReturnType<typeof readBenchSheets>>;

/** Samples that only the second reading has, and the case that the two have nothing in common at all. */
function reportMissingPrimaries(
  recheck: Sheets,
  isOnPrimary: (sampleId: string) => boolean,
  common: number,
  findings: FindingCollector,
): void {
  if (common === 0) {
    findings.add(
      finding("no-counterpart", wholeFile(firstFile(recheck)), {
        message: "no sample stands on both sheets, so there is nothing to compare",
        severity: "error",
      }),
    );
    return;
  }
  const place = samplePlaces(recheck);
  for (const sampleId of recheck.table.samples.texts) {
    if (isOnPrimary(sampleId)) continue;
    findings.add(
      finding("no-counterpart", place(sampleId), {
        message: `sample ${sampleId} is not on the first sheet`,
        sampleId,
      }),
    );
  }
}

/** Where each sample first stands on a reading; the whole file for a sample of which no row could be read. */
function samplePlaces({ table }: Sheets): (sampleId: string) => Place {
  const first = new Map<string, number>();
  for (let row = table.size - 1; row >= 0; row--) first.set(table.samples.textOf(table.sampleAt(row)), row);
  return (sampleId) => {
    const row = first.get(sampleId);
    if (row === undefined) return wholeFile(firstFile({ table }));
    return { file: table.fileAt(row), line: table.lineAt(row), column: 1 };
  };
}

function firstFile({ table }: Pick<Sheets, "table">): string {
  return at(table.files, 0);
}
