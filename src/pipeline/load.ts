import type { InputFile } from "../files/input.ts";
import { packageRoot } from "../files/package-root.ts";
import type { FindingSink } from "../findings/collector.ts";
import { FindingCollector } from "../findings/collector.ts";
import type { Finding, Place } from "../findings/finding.ts";
import { finding, wholeFile } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { RowTable } from "../model/rows.ts";
import { checkLabNames } from "../names/lab-names.ts";
import { NameResolver } from "../names/resolve.ts";
import { chooseAttributes } from "../reference/choose-attributes.ts";
import { chooseRatings } from "../reference/choose-ratings.ts";
import { findSetFolder } from "../reference/find-set.ts";
import type { SetFolder } from "../reference/folder.ts";
import type { NameSpace } from "../reference/name-space.ts";
import { nameSpaceOf } from "../reference/name-space.ts";
import { readReferenceSet } from "../reference/read-set.ts";
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
import { compileSet } from "./compiled-set.ts";
import { compareWithLog } from "./log-checks.ts";
import { reportCoarse, reportNames } from "./name-notes.ts";
import type { Batch } from "./score-batch.ts";
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

/** A batch joined with its set. */
export interface LoadedBatch extends LoadedRows {
  readonly batch: Batch | undefined;
  readonly set: ReferenceSet | undefined;
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
  if (log !== undefined) compareWithLog(table.samples, log.samples, firstPlaces(table), findings);
  return { table, refused, log, names, space };
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

/** Joins a batch with a set; undefined, with findings, when a metric or a setting of the set is not known. */
export function joinSet(rows: NamedRows, set: ReferenceSet, findings: FindingSink): Batch | undefined {
  const { table, refused, log, names, space } = rows;
  const compiled = compileSet(set, names.tree, space.stageRules);
  if ("problems" in compiled) {
    for (const message of compiled.problems)
      findings.add(finding("bad-set", wholeFile(`${set.folder}/set.json`), { message }));
    return undefined;
  }
  const batch = { table, refused, log: log?.samples ?? new Map(), names, compiled: compiled.compiled };
  reportCoarse(batch, findings);
  return batch;
}

/** What the user changes of a set for one run. */
export interface SetChoices {
  /** Schemes or files of attribute values in place of the set's own. */
  readonly attributes?: readonly string[] | undefined;
  /** Another class table of the set. */
  readonly classes?: string | undefined;
  /** The batch is only checked: a set that lacks an attribute list is no fault, and there may be no batch. */
  readonly rowsOnly?: boolean | undefined;
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

/**
 * Reads a batch and joins it with a reference set.
 *
 * @param reference id of a set or path to a set folder
 * @param cwd the folder in which relative set paths are looked up
 * @param choices what the user changes of the set
 * @throws UnknownClassesError when the set has no such class table
 * @throws FileError when a file cannot be read, UnknownSetError when there is no such set
 */
export async function loadBatch(
  files: BatchFiles,
  reference: string,
  cwd: string,
  choices: SetChoices = {},
): Promise<LoadedBatch> {
  const folder = await findSetFolder(reference, { packageTables: packageTables(), cwd });
  const shared = loadSharedTables(packageTables());
  const findings = new FindingCollector();
  const { classed, set } = await readChosenSet(folder, shared, cwd, choices, findings);
  const loaded = await loadRows(files, classed, shared);
  const batch =
    set === undefined || loaded.rows === undefined ? undefined : joinSet(loaded.rows, set, findings);
  return { ...loaded, batch, set: set ?? classed, findings: [...findings.all, ...loaded.findings] };
}

/** A set with what the user changes of it. */
export interface ChosenSet {
  /** With its class table chosen; undefined when the set cannot be used. */
  readonly classed: ReferenceSet | undefined;
  /** With its attribute tables too; undefined when one is missing or is not to be looked for. */
  readonly set: ReferenceSet | undefined;
}

/**
 * Reads a set and puts what the user chose in place of its own.
 *
 * @param cwd the folder in which files of attribute values are looked up
 * @throws FileError, UnknownClassesError as `loadBatch` does
 */
export async function readChosenSet(
  folder: SetFolder,
  shared: SharedTables,
  cwd: string,
  choices: SetChoices,
  findings: FindingSink,
): Promise<ChosenSet> {
  const read = await readReferenceSet(folder, shared, findings);
  const classed =
    read === undefined || choices.classes === undefined ? read : chooseRatings(read, choices.classes);
  const isRowsOnly = choices.rowsOnly === true && (classed?.attributesNotHeld.size ?? 0) > 0;
  if (classed === undefined || isRowsOnly) return { classed, set: undefined };
  return { classed, set: await chooseAttributes(classed, choices.attributes ?? [], shared, cwd, findings) };
}

/** The folder of the package's reference tables. */
export function packageTables(): string {
  return `${packageRoot()}/reference-tables`;
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
