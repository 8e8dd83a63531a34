import { join, resolve } from "node:path";
import { FileError } from "../files/file-error.ts";
import { FindingCollector } from "../findings/collector.ts";
import type { Finding } from "../findings/finding.ts";
import type { RowTable } from "../model/rows.ts";
import type { Watcher } from "../model/watcher.ts";
import { unwatched } from "../model/watcher.ts";
import type { SetFolder } from "../reference/folder.ts";
import { nameSpaceOf } from "../reference/name-space.ts";
import type { ReferenceSet } from "../reference/set.ts";
import { loadSharedTables } from "../reference/shared-tables.ts";
import { amendRows } from "../runs/amend-rows.ts";
import { storedSetPath } from "../runs/reference-copy.ts";
import { RUN_FILES } from "../runs/run-files.ts";
import type { RunInput, RunRecord } from "../runs/run-record.ts";
import { parseRunRecord } from "../runs/run-record.ts";
import type { RunFolder } from "../runs/run-table.ts";
import { readRunText } from "../runs/run-table.ts";
import { readStoredAmendments } from "../runs/stored-amendments.ts";
import { readStoredFindings } from "../runs/stored-findings.ts";
import { readLog } from "../runs/stored-log.ts";
import { readNames } from "../runs/stored-names.ts";
import { readRows } from "../runs/stored-rows.ts";
import { readSamples } from "../runs/stored-samples.ts";
import type { ReadFile } from "../sheets/bench-sheet.ts";
import type { LoadedBatch } from "./load.ts";
import { joinSet, readChosenSet } from "./load.ts";
import { checkLab, nameRows } from "./load-rows.ts";
import { choicesOf } from "./run-contents.ts";
import type { ScoringChoices } from "./score-batch.ts";

/**
 * A run read back from its folder: what `loadBatch` gives of files, and how the run was scored. `read.rows` has
 * the rows as they were read; `rows` and `batch` have the corrections of the run made.
 */
export interface StoredRun extends LoadedBatch {
  readonly folder: RunFolder;
  readonly record: RunRecord;
  readonly choices: ScoringChoices;
  readonly set: ReferenceSet;
  readonly setFolder: SetFolder;
  /** The folder of the run's own copy of the shared tables. */
  readonly tables: string;
  readonly amendments: Awaited<ReturnType<typeof readStoredAmendments>>;
  /** The bench sheets with the corrections behind them: files of the rows of `rows`. */
  readonly readingFindings: readonly Finding[];
}

/** The folder of a run as a command names it. */
export function runFolderOf(folder: string, cwd: string): RunFolder {
  return { path: resolve(cwd, folder), shownAs: folder.replace(/(?<=[^\\/])[\\/]+$/, "") };
}

/**
 * Opens a run folder: everything comes from the folder itself, nothing from the package's tables.
 *
 * @throws FileError naming file and line when the folder is no run, or a part of it cannot be read
 */
export async function openRun(
  folder: string | RunFolder,
  cwd = ".",
  watch: Watcher = unwatched,
): Promise<StoredRun> {
  const place = typeof folder === "string" ? runFolderOf(folder, cwd) : folder;
  const record = await readRecord(place);
  const tables = join(place.path, RUN_FILES.reference);
  const shared = loadSharedTables(tables);
  const setPath = storedSetPath(record.reference.id);
  const setFolder = { path: join(place.path, setPath), shownAs: setPath };
  const setFindings = new FindingCollector();
  const { attributes, classes } = record.options;
  const chosen = { attributes, classes: classes ?? undefined };
  const { set } = await readChosenSet(setFolder, shared, place.path, chosen, setFindings).catch(
    // Findings must not hang on where a run lies, so they name files from the run on; a message names the run.
    (error: unknown) => {
      if (!(error instanceof FileError) || !error.path.startsWith(RUN_FILES.reference)) throw error;
      throw new FileError(`${place.shownAs}/${error.path}`, error.reason, { cause: error.cause });
    },
  );
  if (set === undefined)
    throw new FileError(
      `${place.shownAs}/${setPath}`,
      firstError(setFindings.all, "cannot be read as a set"),
    );

  const table = await readTable(place, record, watch);
  const { rows: stored, samples } = table;
  const lab = record.has_names ? await readNames(place, inputOf(record, "names", place)) : undefined;
  const log =
    record.sample_log_fields === null
      ? undefined
      : await readLog(place, record.sample_log_fields, inputOf(record, "sample-log", place), samples);
  const readingFindings = await readStoredFindings(place);
  const amendments = record.inputs.some((input) => input.role === "amendment")
    ? await readStoredAmendments(place)
    : [];
  const amended = amendRows(stored, amendments);
  const [unfit] = amended.findings;
  if (unfit !== undefined) throw new FileError(`${place.shownAs}/${RUN_FILES.amendments}`, unfit.message);

  const asRead = { table: stored, refused: samples.byRows, log, lab };
  const space = nameSpaceOf(set, shared);
  const findings = new FindingCollector();
  if (!checkLab(asRead, space, findings))
    throw new FileError(`${place.shownAs}/${RUN_FILES.names}`, firstError(findings.all, "cannot be used"));
  const rows = nameRows({ ...asRead, table: amended.table }, space, findings);
  const batch = joinSet(rows, set, findings);
  const inputs = record.inputs.map(
    ({ file, sha256, bytes, rows: count }): ReadFile => ({
      file,
      sha256,
      bytes,
      rows: count,
    }),
  );
  return {
    folder: place,
    record,
    choices: choicesOf(record),
    set,
    setFolder,
    tables,
    amendments,
    readingFindings,
    read: { rows: asRead, isUnreadable: false, findings: readingFindings, inputs },
    rows,
    shared,
    batch,
    inputs,
    findings: [...setFindings.all, ...readingFindings, ...findings.all],
  };
}

/** @throws FileError when run.json is not there or has another form */
export async function readRecord(place: RunFolder): Promise<RunRecord> {
  const parsed = parseRunRecord(await readRunText(place, RUN_FILES.record));
  if ("record" in parsed) return parsed.record;
  throw new FileError(`${place.shownAs}/${RUN_FILES.record}`, `cannot be read as a run: ${parsed.problem}`);
}

async function readTable(
  place: RunFolder,
  record: RunRecord,
  watch: Watcher,
): Promise<{ readonly rows: RowTable; readonly samples: Awaited<ReturnType<typeof readSamples>> }> {
  const samples = await readSamples(place);
  const sheets = record.inputs
    .filter((input) => input.role === "bench-sheet")
    .map(({ file, name_field: nameField }) => ({ file, nameField: nameField ?? 0 }));
  return { rows: await readRows(place, sheets, samples.ids, watch), samples };
}

function inputOf(record: RunRecord, role: RunInput["role"], place: RunFolder): RunInput {
  const input = record.inputs.find((one) => one.role === role);
  if (input !== undefined) return input;
  throw new FileError(
    `${place.shownAs}/${RUN_FILES.record}`,
    `cannot be read as a run: there is no input of the kind ${role}`,
  );
}

function firstError(findings: readonly Finding[], otherwise: string): string {
  const error = findings.find((one) => one.severity === "error");
  return error === undefined ? otherwise : `line ${error.line}: ${error.message}`;
}
