import type { InputFile } from "../../files/input.ts";
import type { FindingSink } from "../../findings/collector.ts";
import { FindingCollector } from "../../findings/collector.ts";
import type { Finding } from "../../findings/finding.ts";
import { findSetFolder } from "../../reference/find-set.ts";
import type { SetFolder } from "../../reference/folder.ts";
import { nameSpaceOf } from "../../reference/name-space.ts";
import { readReferenceSet } from "../../reference/read-set.ts";
import { loadSharedTables } from "../../reference/shared-tables.ts";
import { amendRows } from "../../runs/amend-rows.ts";
import type { Amendments } from "../../sheets/amendment.ts";
import { readAmendments } from "../../sheets/amendment.ts";
import type { LabNames } from "../../sheets/names-list.ts";
import { readNamesList } from "../../sheets/names-list.ts";
import { readChosenSet } from "../load.ts";
import { checkLab } from "../load-rows.ts";
import type { StoredRun } from "../open-run.ts";
import { packageTables } from "../package-tables.ts";
import { newestDraw } from "../run-contents.ts";
import type { Side } from "./side.ts";
import { sideOf } from "./side.ts";

/** What is changed of runs. Whatever is left out stays as each run has it. */
export interface RescoreRequest {
  /** Id of a set or path to its folder. */
  readonly reference?: string | undefined;
  /** Corrections of the rows. */
  readonly amend?: InputFile | undefined;
  /** Another list of names of the lab. */
  readonly names?: InputFile | undefined;
  readonly attributes?: readonly string[] | undefined;
  readonly classes?: string | undefined;
  readonly target?: number | null | undefined;
  readonly stratum?: string | undefined;
  readonly cwd: string;
  /** Most threads that may be used; as many as the machine has when left out. Nothing that comes out depends on it. */
  readonly threads?: number | undefined;
}

/** The files of a request, read once for all runs. */
export interface RescoreInputs {
  readonly amendments: Amendments | undefined;
  readonly lab: LabNames | undefined;
  readonly findings: readonly Finding[];
  /** True when a file cannot be used at all. */
  readonly isUnreadable: boolean;
}

/** @throws FileError when a file cannot be read */
export async function readRescoreInputs({ amend, names }: RescoreRequest): Promise<RescoreInputs> {
  const findings = new FindingCollector();
  const amendments = amend === undefined ? undefined : await readAmendments(amend, {}, findings);
  const lab = names === undefined ? undefined : await readNamesList(names, {}, findings);
  const isUnreadable =
    amendments?.unreadable === true || lab?.unreadable === true || findings.count("error") > 0;
  return { amendments, lab, findings: findings.all, isUnreadable };
}

/** The second side of a comparison, and where its set lies. */
export interface AfterSide extends Side {
  readonly setFolder: SetFolder;
  /** The folder its shared tables were read from. */
  readonly tables: string;
  /** Words as the run has them or the user gave them, with the folder in which files of them lie. */
  readonly attributes: readonly string[];
  readonly attributesFolder: string;
  readonly classes: string | undefined;
}

/**
 * The run as the request changes it.
 *
 * @param inputs corrections of samples that the run does not have are left to the other runs
 * @returns undefined, with findings, when the run cannot be scored so
 * @throws FileError, UnknownSetError, UnknownClassesError as `loadBatch` does
 */
export async function afterSide(
  run: StoredRun,
  request: RescoreRequest,
  inputs: RescoreInputs,
  findings: FindingSink,
): Promise<AfterSide | undefined> {
  const own = request.reference === undefined;
  const tables = own ? run.tables : packageTables();
  const setFolder =
    request.reference === undefined
      ? run.setFolder
      : await findSetFolder(request.reference, { packageTables: tables, cwd: request.cwd });
  const shared = own ? run.shared : loadSharedTables(tables);
  const { options } = run.record;
  const isChosen = options.attributes.length > 0 || options.classes !== null;
  // What was put in place of parts of a set says nothing about another set.
  const isSameSet = own || (isChosen && (await hasId(setFolder, run.record.reference.id, shared)));
  const attributes = request.attributes ?? (isSameSet ? options.attributes : []);
  const attributesFolder = request.attributes === undefined ? run.folder.path : request.cwd;
  const classes = request.classes ?? (isSameSet ? (options.classes ?? undefined) : undefined);
  const said = new FindingCollector();
  const { set } = await readChosenSet(setFolder, shared, attributesFolder, { attributes, classes }, said);
  for (const one of said.all) findings.add(one);
  if (set === undefined) return undefined;

  const before = sideOf(run);
  const mine = (inputs.amendments?.amendments ?? []).filter(
    (one) => run.read.rows.table.samples.numberOf(one.sampleId) !== undefined,
  );
  const amended = amendRows(before.rows.table, mine);
  for (const one of amended.findings) findings.add(one);
  const rows = { ...before.rows, table: amended.table, lab: inputs.lab ?? before.rows.lab };
  const space = nameSpaceOf(set, shared);
  if (!checkLab(rows, space, findings) || amended.findings.length > 0) return undefined;
  return {
    rows,
    amendments: mine,
    shared,
    space,
    set,
    choices: {
      ...run.choices,
      algorithm: newestDraw(),
      target: request.target === undefined ? run.choices.target : request.target,
      stratum: request.stratum ?? run.choices.stratum,
      threads: request.threads,
    },
    setFolder,
    tables,
    attributes,
    attributesFolder,
    classes,
  };
}

async function hasId(folder: SetFolder, id: string, shared: AfterSide["shared"]): Promise<boolean> {
  // What there is to say of the set is said when it is read with what was chosen.
  const set = await readReferenceSet(folder, shared, new FindingCollector());
  return set?.definition.id === id;
}
