import type { InputFile } from "../files/input.ts";
import type { FindingSink } from "../findings/collector.ts";
import { FindingCollector } from "../findings/collector.ts";
import type { Finding, Place } from "../findings/finding.ts";
import { wholeFile } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { RowTable } from "../model/rows.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { checkLabNames } from "../names/lab-names.ts";
import { NameResolver } from "../names/resolve.ts";
import type { NameSpace } from "../reference/name-space.ts";
import { nameSpaceOf } from "../reference/name-space.ts";
import type { ReferenceSet } from "../reference/set.ts";
import type { SharedTables } from "../reference/shared-tables.ts";
import { loadSharedTables } from "../reference/shared-tables.ts";
import type { ReadFile } from "../sheets/bench-sheet.ts";
import { readBenchSheets } from "../sheets/bench-sheet.ts";
import type { LabNames } from "../sheets/names-list.ts";
import { readNamesList } from "../sheets/names-list.ts";
import type { SampleLog } from "../sheets/sample-log.ts";
import { readSampleLog } from "../sheets/sample-log.ts";
import { reportKeptProtected } from "./alerts.ts";
import type { BatchNames } from "./batch-names.ts";
import { resolveBatchNames } from "./batch-names.ts";
import { compareWithLog } from "./log-checks.ts";
import { reportNames } from "./name-notes.ts";
import { packageTables } from "./package-tables.ts";
import { reportOddStages } from "./stage-notes.ts";

/** The files of a batch, opened. */
export interface BatchFiles {
  readonly sheets: readonly InputFile[];
  readonly sampleLog?: InputFile | undefined;
  readonly names?: InputFile | undefined;
  readonly encoding?: string | undefined;
}

/** A batch of rows with their log and their names resolved; no reference set has been applied yet. */
export interface NamedRows {
  readonly table: RowTable;
  /** Samples with a faulty row, and the codes of the faults. */
  readonly refused: ReadonlyMap<string, readonly FindingCode[]>;
  readonly log: SampleLog | undefined;
  /** What the log says of each sample, by its number; empty without a log. */
  readonly facts: readonly (SampleFacts | undefined)[];
  readonly names: BatchNames;
  /** The names that the batch may use. */
  readonly space: NameSpace;
}

/** What reading a batch gave. */
export interface LoadedRows {
  /** Undefined when a fault could hide rows of any sample: the run is refused. */
  readonly rows: NamedRows | undefined;
  /** The same before names were resolved, for a run folder. */
  readonly read: ReadBatch;
  readonly shared: SharedTables;
  readonly findings: readonly Finding[];
  /** What was read, in the order given: sheets, log, names. */
  readonly inputs: readonly ReadFile[];
}

/** Rows, log and list of a batch as read; no table of taxa has been asked yet. */
export interface BatchRows {
  readonly table: RowTable;
  readonly refused: ReadonlyMap<string, readonly FindingCode[]>;
  readonly log: SampleLog | undefined;
  readonly lab: LabNames | undefined;
}

/** What the files of a batch say. */
export interface ReadBatch {
  readonly rows: BatchRows;
  /** True when a fault could hide rows of any sample: nothing may be scored. */
  readonly isUnreadable: boolean;
  readonly findings: readonly Finding[];
  /** What was read, in the order given: sheets, log, names. */
  readonly inputs: readonly ReadFile[];
}

/**
 * Reads the files of a batch.
 *
 * @throws FileError when a file cannot be read; faults in what the files say are findings
 */
export async function readBatch(files: BatchFiles): Promise<ReadBatch> {
  const findings = new FindingCollector();
  const options = files.encoding === undefined ? {} : { encoding: files.encoding };
  const sheets = await readBenchSheets(files.sheets, options, findings);
  const log =
    files.sampleLog === undefined ? undefined : await readSampleLog(files.sampleLog, options, findings);
  const lab = files.names === undefined ? undefined : await readNamesList(files.names, options, findings);
  const inputs = [...sheets.digests, ...[log?.digest, lab?.digest].filter((digest) => digest !== undefined)];
  const isUnreadable = sheets.unreadable || log?.unreadable === true || lab?.unreadable === true;
  const rows = { table: sheets.table, refused: sheets.refused, log, lab };
  return { rows, isUnreadable, findings: findings.all, inputs };
}

/** Whether the lab's list of names can be used with the names of the set; `findings` say what is wrong with it. */
export function checkLab({ lab }: BatchRows, space: NameSpace, findings: FindingSink): boolean {
  const faults = lab === undefined ? [] : checkLabNames(lab, space.tree, space.synonyms);
  for (const fault of faults) findings.add(fault);
  return !faults.some((fault) => fault.severity === "error");
}

/** Resolves the names of a batch and compares it with its log. */
export function nameRows(rows: BatchRows, space: NameSpace, findings: FindingSink): NamedRows {
  const { table, log, lab } = rows;
  const refused = joinRefusals(rows.refused, log?.refused);
  const resolver = new NameResolver({ tree: space.tree, synonyms: space.synonyms }, lab?.entries);
  const names = resolveBatchNames(table.names, space.isGroups ? groupsOnly(resolver) : resolver, space.tree);
  reportNames(table, names, findings);
  reportOddStages(table, names, findings);
  reportKeptProtected(table, names, space, findings);
  const facts =
    log === undefined ? [] : compareWithLog(table.samples, log.samples, firstPlaces(table), findings);
  return { table, refused, log, facts, names, space };
}

/** A sample is refused for a fault in its rows, and for one in its row of the log. */
function joinRefusals(
  byRows: BatchRows["refused"],
  byLog: BatchRows["refused"] | undefined,
): BatchRows["refused"] {
  if (byLog === undefined || byLog.size === 0) return byRows;
  const both = new Map(byRows);
  for (const [sampleId, codes] of byLog)
    both.set(sampleId, [...new Set([...(byRows.get(sampleId) ?? []), ...codes])]);
  return both;
}

/** Groups are matched as they are called: a slash of two, or "Mayfly A", is none of the method's groups. */
function groupsOnly(resolver: NameResolver): Pick<NameResolver, "resolve"> {
  return {
    resolve: (asWritten) => {
      const resolution = resolver.resolve(asWritten);
      return resolution.kind === "operational" ? { kind: "unknown", suggestions: [] } : resolution;
    },
  };
}

/**
 * Reads sheets, log and names of a batch and resolves the names.
 *
 * @param set the set whose names the batch uses; the shared tree of taxa when left out
 * @throws FileError when a file cannot be read; faults in what the files say are findings
 */
export async function loadRows(
  files: BatchFiles,
  set?: ReferenceSet,
  shared: SharedTables = loadSharedTables(packageTables()),
): Promise<LoadedRows> {
  const space = nameSpaceOf(set, shared);
  const read = await readBatch(files);
  const findings = new FindingCollector();
  const isLabUsable = checkLab(read.rows, space, findings);
  const rows = read.isUnreadable || !isLabUsable ? undefined : nameRows(read.rows, space, findings);
  return { rows, read, shared, inputs: read.inputs, findings: [...read.findings, ...findings.all] };
}

/** The first row of each sample, for findings about the sample as a whole. */
function firstPlaces(table: RowTable): (sampleId: string) => Place {
  return (sampleId) => {
    const { order, starts } = table.bySample();
    const sample = table.samples.numberOf(sampleId) ?? -1;
    const row =
      sample < 0 || starts[sample] === starts[sample + 1] ? undefined : order[starts[sample] as number];
    return row === undefined
      ? wholeFile(table.files[0] ?? "")
      : { file: table.fileAt(row), line: table.lineAt(row), column: 1 };
  };
}
