import type { FindingSink } from "../findings/collector.ts";
import { FindingCollector } from "../findings/collector.ts";
import { finding, wholeFile } from "../findings/finding.ts";
import { chooseAttributes } from "../reference/choose-attributes.ts";
import { chooseRatings } from "../reference/choose-ratings.ts";
import { findSetFolder } from "../reference/find-set.ts";
import type { SetFolder } from "../reference/folder.ts";
import { readReferenceSet } from "../reference/read-set.ts";
import type { ReferenceSet } from "../reference/set.ts";
import type { SharedTables } from "../reference/shared-tables.ts";
import { loadSharedTables } from "../reference/shared-tables.ts";
import { compileSet } from "./compiled-set.ts";
import type { BatchFiles, LoadedRows, NamedRows } from "./load-rows.ts";
import { loadRows } from "./load-rows.ts";
import { reportCoarse } from "./name-notes.ts";
import { packageTables } from "./package-tables.ts";
import type { Batch } from "./score-batch.ts";

/** A batch joined with its set. */
export interface LoadedBatch extends LoadedRows {
  readonly batch: Batch | undefined;
  readonly set: ReferenceSet | undefined;
}

/** Joins a batch with a set; undefined, with findings, when a metric or a setting of the set is not known. */
export function joinSet(rows: NamedRows, set: ReferenceSet, findings: FindingSink): Batch | undefined {
  const { table, refused, log, facts, names, space } = rows;
  const compiled = compileSet(set, names.tree, space.stageRules);
  if ("problems" in compiled) {
    for (const message of compiled.problems)
      findings.add(finding("bad-set", wholeFile(`${set.folder}/set.json`), { message }));
    return undefined;
  }
  const batch = { table, refused, log: log?.samples ?? new Map(), facts, names, compiled: compiled.compiled };
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
