import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { sha256 } from "../files/digest.ts";
import { asFileError, FileError, systemCode } from "../files/file-error.ts";
import { findingsTable } from "../files/findings-table.ts";
import type { TextSink } from "../files/formats/define.ts";
import type { Finding } from "../findings/finding.ts";
import { finding, sortFindings, wholeFile } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import { compareCodePoints } from "../model/order.ts";
import type { Watcher } from "../model/watcher.ts";
import { unwatched } from "../model/watcher.ts";
import { NORMALISATION } from "../names/normalise.ts";
import type { Checksums } from "../runs/checksums.ts";
import { hashFolder, parseChecksums } from "../runs/checksums.ts";
import { ComparingSink } from "../runs/comparing-sink.ts";
import { RESULT_FILES, RUN_FILES, RUN_README } from "../runs/run-files.ts";
import type { RunRecord } from "../runs/run-record.ts";
import { parseRunRecord, runRecordJsonSchema, runRecordText } from "../runs/run-record.ts";
import type { RunFolder } from "../runs/run-table.ts";
import { asRunError } from "../runs/run-table.ts";
import { amendmentsText } from "../runs/stored-amendments.ts";
import { logFields, logText } from "../runs/stored-log.ts";
import { namesText } from "../runs/stored-names.ts";
import { writeRows } from "../runs/stored-rows.ts";
import { samplesText } from "../runs/stored-samples.ts";
import { INDIVIDUAL_ALGORITHMS } from "../subsample/algorithms.ts";
import type { StoredRun } from "./open-run.ts";
import { openRun, runFolderOf } from "./open-run.ts";
import { writeResults } from "./run-results.ts";

/** How one file of a run stands. */
export interface VerifiedFile {
  /** Path below the run folder. */
  readonly file: string;
  /** Undefined when there was nothing to compare it with. */
  readonly agrees: boolean | undefined;
  /** What was compared: its checksum, whether it was also worked out again, or nothing. */
  readonly compared: "checksum" | "content" | "checksum and content" | "nothing";
  /** Why it does not agree; empty when it does. */
  readonly why: string;
}

/** What verifying a run found. */
export interface Verification {
  readonly agrees: boolean;
  /** False for a folder that has nothing of a run; it has no files to speak of then, only the finding that says so. */
  readonly isRun: boolean;
  readonly files: readonly VerifiedFile[];
  /** Every difference in a sentence of its own. */
  readonly findings: readonly Finding[];
  /** SHA-256 of checksums.txt; empty when there is none. */
  readonly fingerprint: string;
  /** Undefined when run.json cannot be read as a run. */
  readonly record: RunRecord | undefined;
}

/**
 * Verifies a run from its own folder alone: every file against its checksum, and everything that can be worked
 * out again (results, and the tables in their one form) byte by byte.
 *
 * @param threads the most that work intervals out; as many as the machine has when left out
 * @throws FileError when there is no such folder; whatever is wrong in it is a finding
 */
export async function verifyRun(
  folder: string,
  cwd = ".",
  watch: Watcher = unwatched,
  threads?: number,
): Promise<Verification> {
  const place = runFolderOf(folder, cwd);
  const verifier = new Verifier(place, watch, threads);
  if (await verifier.isNoRun()) return { ...verifier.result(), files: [], isRun: false };
  await verifier.compareChecksums(await hashFolder(place.path, place.shownAs));
  await verifier.workOutAgain();
  return verifier.result();
}

class Verifier {
  readonly #place: RunFolder;
  readonly #watch: Watcher;
  readonly #threads: number | undefined;
  readonly #findings: Finding[] = [];
  readonly #why = new Map<string, string[]>();
  readonly #again = new Set<string>();
  #fingerprint = "";
  #hasChecksums = false;
  #record: RunRecord | undefined;

  constructor(place: RunFolder, watch: Watcher, threads: number | undefined) {
    this.#place = place;
    this.#watch = watch;
    this.#threads = threads;
  }

  result(): Verification {
    const files = [...this.#why].sort(([a], [b]) => compareCodePoints(a, b));
    return {
      agrees: !this.#findings.some((one) => one.severity === "error"),
      isRun: true,
      files: files.map(([file, why]) => {
        const compared = this.#compared(file);
        const agrees = why.length > 0 ? false : compared === "nothing" ? undefined : true;
        return { file, agrees, compared, why: why.join("; ") };
      }),
      findings: this.#findings,
      fingerprint: this.#fingerprint,
      record: this.#record,
    };
  }

  #compared(file: string): VerifiedFile["compared"] {
    const isWorkedOut = this.#again.has(file);
    if (!this.#hasChecksums) return isWorkedOut ? "content" : "nothing";
    return isWorkedOut ? "checksum and content" : "checksum";
  }

  /** Whether the folder has nothing of a run; every file of it would be a difference then, and none worth saying. */
  async isNoRun(): Promise<boolean> {
    const members = await readdir(this.#place.path).catch((error: unknown) => {
      throw asRunError(this.#place, this.#place.shownAs, error);
    });
    if (members.includes(RUN_FILES.record) || members.includes(RUN_FILES.checksums)) return false;
    const message = `this is no run: there is neither ${RUN_FILES.record} nor ${RUN_FILES.checksums} in it`;
    this.#say("run-unreadable", RUN_FILES.record, message);
    return true;
  }

  async compareChecksums(found: Checksums): Promise<void> {
    for (const file of found.keys()) this.#why.set(file, []);
    const bytes = await this.#bytes(RUN_FILES.checksums);
    this.#why.set(RUN_FILES.checksums, []);
    if (bytes === undefined) return this.#say("run-file-missing", RUN_FILES.checksums, "the file is missing");
    this.#fingerprint = sha256(bytes);
    const parsed = parseChecksums(bytes.toString("utf8"));
    if ("faultyLine" in parsed) {
      const message = "it is not a list of SHA-256 and names";
      return this.#say("run-unreadable", RUN_FILES.checksums, message, parsed.faultyLine);
    }
    this.#hasChecksums = true;
    for (const [file, digest] of parsed.checksums) {
      const now = found.get(file);
      if (now === undefined) this.#say("run-file-missing", file, "the file is missing");
      else if (now !== digest)
        this.#say("run-file-changed", file, "the file was changed since the run was made");
    }
    for (const file of found.keys()) {
      if (!parsed.checksums.has(file)) this.#say("run-file-added", file, "the file is no part of the run");
    }
  }

  async workOutAgain(): Promise<void> {
    const text = await this.#bytes(RUN_FILES.record);
    if (text === undefined) {
      this.#say("run-unreadable", RUN_FILES.record, "run.json cannot be read as a run: it is missing");
      return;
    }
    const parsed = parseRunRecord(text.toString("utf8"));
    if ("problem" in parsed) {
      const message = `run.json cannot be read as a run: ${parsed.problem}`;
      this.#say("run-unreadable", RUN_FILES.record, message);
      return;
    }
    this.#record = parsed.record;
    if (!this.#checkVersions(parsed.record)) return;
    let run: StoredRun;
    try {
      run = await openRun(this.#place, ".", this.#watch);
    } catch (error) {
      if (!(error instanceof FileError) || isDevice(error)) throw error;
      const file = error.path.startsWith(`${this.#place.shownAs}/`)
        ? error.path.slice(this.#place.shownAs.length + 1)
        : RUN_FILES.record;
      this.#say("run-unreadable", file, error.reason);
      return;
    }
    if (run.set.hash !== run.record.reference.hash) {
      const says = `the set ${run.set.definition.id} in ${RUN_FILES.reference}/ has the hash ${run.set.hash}, run.json says ${run.record.reference.hash}`;
      this.#say("run-set-changed", RUN_FILES.record, says);
    }
    await this.#compareInputs(run);
    const { batch } = run;
    if (batch === undefined) {
      this.#say("run-unreadable", RUN_FILES.record, "the set and the rows of the run cannot be joined");
      return;
    }
    const sinks = new Map<string, ComparingSink>();
    for (const file of RESULT_FILES)
      sinks.set(file, new ComparingSink((await this.#bytes(file)) ?? new Uint8Array()));
    const choices = { ...run.choices, threads: this.#threads };
    await writeResults({ ...run, batch, choices }, (file) => sinkAt(sinks, file), this.#watch);
    for (const [file, sink] of sinks) this.#compare(file, sink);
  }

  /** Whether this version can work the run out again. */
  #checkVersions({ algorithms, tool }: RunRecord): boolean {
    const draws = INDIVIDUAL_ALGORITHMS.map((one) => one.id);
    const other: string[] = [];
    if (!draws.includes(algorithms.draw))
      other.push(`the run drew with ${algorithms.draw}; this version has ${draws.join(", ")}`);
    if (algorithms.name_key !== NORMALISATION)
      other.push(`the run normalised names with ${algorithms.name_key}; this version has ${NORMALISATION}`);
    for (const message of other) this.#say("run-other-algorithm", RUN_FILES.record, message);
    if (tool.version !== JARTALLY_VERSION) {
      const message = `the run was made by jartally ${tool.version}; this is ${JARTALLY_VERSION}`;
      this.#findings.push(finding("run-other-version", this.#at(RUN_FILES.record), { message }));
    }
    return other.length === 0;
  }

  /** What went in has one form only: read and written again, it must be the same bytes. */
  async #compareInputs(run: StoredRun): Promise<void> {
    const { table, refused, log, lab } = run.read.rows;
    const order = run.record.inputs.map((input) => input.file);
    const texts = new Map<string, string>([
      [
        RUN_FILES.record,
        runRecordText({ ...run.record, sample_log_fields: log === undefined ? null : logFields(log) }),
      ],
      [RUN_FILES.samples, samplesText(table.samples.texts, refused, log?.refused ?? new Map())],
      [RUN_FILES.readingFindings, findingsTable(sortFindings(run.readingFindings, order))],
    ]);
    if (run.record.tool.version === JARTALLY_VERSION) {
      texts.set(RUN_FILES.schema, runRecordJsonSchema());
      texts.set(RUN_FILES.readme, RUN_README);
    }
    if (log !== undefined) texts.set(RUN_FILES.sampleLog, logText(log));
    if (lab !== undefined) texts.set(RUN_FILES.names, namesText(lab));
    if (run.amendments.length > 0) texts.set(RUN_FILES.amendments, amendmentsText(run.amendments));
    for (const [file, text] of texts) {
      const sink = new ComparingSink((await this.#bytes(file)) ?? new Uint8Array());
      await sink.write(text);
      this.#compare(file, sink);
    }
    const rows = new ComparingSink((await this.#bytes(RUN_FILES.rows)) ?? new Uint8Array());
    await writeRows(rows, table, table.files);
    this.#compare(RUN_FILES.rows, rows);
  }

  #compare(file: string, sink: ComparingSink): void {
    this.#again.add(file);
    const line = sink.differsAt;
    if (line === undefined) return;
    const message = `worked out again from the rest of the run, the file differs from line ${line} on`;
    this.#say("run-result-differs", file, message, line);
  }

  #say(code: FindingCode, file: string, message: string, line = 0): void {
    this.#findings.push(finding(code, { ...this.#at(file), line }, { message }));
    const known = this.#why.get(file) ?? [];
    this.#why.set(file, [...known, message]);
  }

  #at(file: string) {
    return wholeFile(`${this.#place.shownAs}/${file}`);
  }

  async #bytes(file: string): Promise<Buffer | undefined> {
    try {
      return await readFile(join(this.#place.path, file));
    } catch (error) {
      // A file that cannot be read says nothing about the run: that is no mismatch.
      if (isNoFile(systemCode(error))) return undefined;
      throw asFileError(`${this.#place.shownAs}/${file}`, error);
    }
  }
}

/** Whether a file could not be read though it is there, so that nothing is known of what it says. */
function isDevice({ cause }: FileError): boolean {
  const code = systemCode(cause);
  return code !== undefined && !isNoFile(code);
}

function isNoFile(code: string | undefined): boolean {
  return code === "ENOENT" || code === "EISDIR" || code === "ENOTDIR";
}

function sinkAt(sinks: ReadonlyMap<string, ComparingSink>, file: string): TextSink {
  const sink = sinks.get(file);
  if (sink === undefined) throw new RangeError(`${file} is no file of results`);
  return sink;
}
