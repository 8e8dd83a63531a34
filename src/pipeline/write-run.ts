import { sha256 } from "../files/digest.ts";
import { FileError } from "../files/file-error.ts";
import type { FileSystem } from "../files/file-system.ts";
import { findingsTable } from "../files/findings-table.ts";
import { writeFolderWhole } from "../files/safe-write.ts";
import { sortFindings } from "../findings/finding.ts";
import type { Watcher } from "../model/watcher.ts";
import { unwatched } from "../model/watcher.ts";
import { checksumsText, hashFolder } from "../runs/checksums.ts";
import { FolderWriter } from "../runs/folder-sink.ts";
import { copyReference } from "../runs/reference-copy.ts";
import { RESULT_FILES, RUN_FILES, RUN_README } from "../runs/run-files.ts";
import { runRecordJsonSchema, runRecordText } from "../runs/run-record.ts";
import { amendmentsText } from "../runs/stored-amendments.ts";
import { logFields, logText } from "../runs/stored-log.ts";
import { namesText } from "../runs/stored-names.ts";
import { writeRows } from "../runs/stored-rows.ts";
import { samplesText } from "../runs/stored-samples.ts";
import type { IntervalMemory } from "./intervals/interval-memory.ts";
import { openRun } from "./open-run.ts";
import type { RunContents } from "./run-contents.ts";
import { recordOf } from "./run-contents.ts";
import { writeResults } from "./run-results.ts";

/** A run as it was written. */
export interface WrittenRun {
  /** SHA-256 of checksums.txt: one number that stands for every byte of the run. */
  readonly fingerprint: string;
}

/** Where and how a run folder is written. */
export interface RunPlace {
  /** Absolute path. */
  readonly path: string;
  readonly shownAs: string;
  readonly fileSystem?: FileSystem | undefined;
}

/** Told of what is being written. */
export interface RunListener {
  readonly watch?: Watcher | undefined;
  /** Is given the intervals of the samples. */
  readonly intervals?: Pick<IntervalMemory, "keep"> | undefined;
}

/**
 * Writes a run folder, whole or not at all. The results are worked out from what was written and read back, so
 * that a run which could not be repeated from its own folder never comes to be.
 *
 * @throws FileError when the folder exists already or cannot be written
 */
export async function writeRun(
  place: RunPlace,
  contents: RunContents,
  listener: RunListener = {},
): Promise<WrittenRun> {
  let fingerprint = "";
  await writeFolderWhole(
    place.path,
    async (folder) => {
      fingerprint = (await fillRun(folder, place, contents, listener)).fingerprint;
    },
    { shownAs: place.shownAs, fileSystem: place.fileSystem },
  );
  return { fingerprint };
}

/** Fills an empty folder with a run. */
export async function fillRun(
  folder: string,
  { shownAs, fileSystem }: RunPlace,
  contents: RunContents,
  { watch = unwatched, intervals }: RunListener = {},
): Promise<WrittenRun> {
  const writer = new FolderWriter(folder, fileSystem);
  await putInputs(writer, contents);
  const stored = await openRun({ path: folder, shownAs }, ".", watch);
  const { batch, set, record } = stored;
  if (batch === undefined || set.hash !== record.reference.hash)
    throw new FileError(contents.set.folder, "changed while it was being used");
  const choices = { ...stored.choices, threads: contents.choices.threads };
  await writer.streams(RESULT_FILES, (sinkOf) =>
    writeResults({ ...stored, batch, choices }, sinkOf, watch, intervals),
  );
  await writer.put(RUN_FILES.schema, runRecordJsonSchema());
  await writer.put(RUN_FILES.readme, RUN_README);
  const checksums = checksumsText(await hashFolder(folder, shownAs));
  await writer.put(RUN_FILES.checksums, checksums);
  return { fingerprint: sha256(checksums) };
}

async function putInputs(writer: FolderWriter, contents: RunContents): Promise<void> {
  const { table, refused, log, lab } = contents.rows;
  await writer.streams([RUN_FILES.rows], (sinkOf) =>
    writeRows(sinkOf(RUN_FILES.rows), table, contents.sheetNames),
  );
  await writer.put(RUN_FILES.samples, samplesText(table.samples.texts, refused, log?.refused ?? new Map()));
  if (log !== undefined) await writer.put(RUN_FILES.sampleLog, logText(log));
  if (lab !== undefined) await writer.put(RUN_FILES.names, namesText(lab));
  if (contents.amendments.length > 0)
    await writer.put(RUN_FILES.amendments, amendmentsText(contents.amendments));
  const order = contents.inputs.map((input) => input.file);
  await writer.put(RUN_FILES.readingFindings, findingsTable(sortFindings(contents.readingFindings, order)));
  for (const { path, bytes } of contents.attributeFiles) await writer.put(path, bytes);
  const { set, setFolder, shared, tables } = contents;
  for (const { path, bytes } of await copyReference(set, setFolder, shared, tables))
    await writer.put(path, bytes);
  await writer.put(
    RUN_FILES.record,
    runRecordText(recordOf(contents, log === undefined ? null : logFields(log))),
  );
}
