import { readFileSync } from "node:fs";
import { join } from "node:path";
import { sha256 } from "../../files/digest.ts";
import { asFileError } from "../../files/file-error.ts";
import { FindingCollector } from "../../findings/collector.ts";
import type { Finding } from "../../findings/finding.ts";
import { finding, wholeFile } from "../../findings/finding.ts";
import type { Watcher } from "../../model/watcher.ts";
import { unwatched } from "../../model/watcher.ts";
import { hashFolderBeside } from "../../runs/checksum-thread.ts";
import { parseChecksums } from "../../runs/checksums.ts";
import { RUN_FILES } from "../../runs/run-files.ts";
import type { RunFolder } from "../../runs/run-table.ts";
import type { StoredRun } from "../open-run.ts";
import { openRun } from "../open-run.ts";
import type { AfterSide, RescoreInputs, RescoreRequest } from "./after.ts";
import { afterSide, readRescoreInputs } from "./after.ts";
import type { ComparedSample } from "./compare.ts";
import { compareSides } from "./compare.ts";
import type { ChangeKind } from "./kinds.ts";
import { sideOf } from "./side.ts";

/** One run, scored again. */
export interface RescoredRun {
  readonly run: StoredRun;
  readonly after: AfterSide;
  readonly kinds: readonly ChangeKind[];
  /** SHA-256 of the run's checksums.txt. */
  readonly fingerprint: string;
}

/** Several runs scored again in one batch. */
export interface Rescored {
  /** Runs that could be scored again, in the order given. */
  readonly runs: readonly RescoredRun[];
  /** Runs that could not; the findings say why. */
  readonly refused: readonly RunFolder[];
  readonly inputs: RescoreInputs;
  /** Findings about files, sets and corrections; those about samples come with them. */
  readonly findings: readonly Finding[];
}

/** Is given each sample in its turn, with the run that it is of and that run as it was scored again. */
export type SampleTaker = (sample: ComparedSample, run: StoredRun, after: AfterSide) => void;

/**
 * Scores stored runs again, without the files they were made from.
 *
 * @param take is given the samples; nothing else keeps them, since with their metrics those of an archive take much
 *   memory
 * @throws FileError when a folder is no run or a file cannot be read, UnknownSetError, UnknownClassesError
 */
export async function rescoreRuns(
  folders: readonly RunFolder[],
  request: RescoreRequest,
  take: SampleTaker,
  watch: Watcher = unwatched,
): Promise<Rescored> {
  const inputs = await readRescoreInputs(request);
  const findings = new FindingCollector();
  for (const one of inputs.findings) findings.add(one);
  if (inputs.isUnreadable) return { runs: [], refused: folders, inputs, findings: findings.all };
  const runs: RescoredRun[] = [];
  const refused: RunFolder[] = [];
  const amendments = inputs.amendments?.amendments ?? [];
  /** Samples of corrections that any run has. */
  const amended = new Set<string>();
  for (const folder of folders) {
    const rescored = await rescoreRun(folder, request, inputs, findings, amended, take, watch);
    if (rescored === undefined) refused.push(folder);
    else runs.push(rescored);
  }
  for (const { sampleId, place } of amendments) {
    if (amended.has(sampleId)) continue;
    const message = `no run has the sample ${sampleId}`;
    findings.add(finding("amendment-does-not-fit", place, { message, sampleId }));
  }
  return { runs, refused, inputs, findings: onceEach(findings.all) };
}

/** What is said of a set or a list is said once, not for every run. */
function onceEach(findings: readonly Finding[]): Finding[] {
  const seen = new Map(findings.map((one) => [JSON.stringify(one), one]));
  return [...seen.values()];
}

async function rescoreRun(
  folder: RunFolder,
  request: RescoreRequest,
  inputs: RescoreInputs,
  findings: FindingCollector,
  amended: Set<string>,
  take: SampleTaker,
  watch: Watcher,
): Promise<RescoredRun | undefined> {
  let isRefused = false;
  const check = async () => {
    try {
      const sum = await checkUnchanged(folder, request.threads, findings);
      isRefused = sum === undefined;
      return sum;
    } catch (error) {
      isRefused = true;
      throw error;
    }
  };
  const watchUnlessRefused: Watcher = (what, done, all) => {
    if (isRefused) throw new Error("the run is not read on");
    return watch(what, done, all);
  };
  const [checked, opened] = await Promise.allSettled([check(), openRun(folder, ".", watchUnlessRefused)]);
  // That a run was changed says more than what cannot be read because of it.
  const fingerprint = settled(checked);
  if (fingerprint === undefined) return undefined;
  const run = settled(opened);
  for (const { sampleId } of inputs.amendments?.amendments ?? [])
    if (run.read.rows.table.samples.numberOf(sampleId) !== undefined) amended.add(sampleId);
  const after = await afterSide(run, request, inputs, findings);
  if (after === undefined) return undefined;
  const comparison = compareSides(sideOf(run), after);
  if ("problem" in comparison) {
    const place = wholeFile(`${after.set.folder}/set.json`);
    findings.add(finding("bad-set", place, { message: comparison.problem }));
    return undefined;
  }
  let done = 0;
  for (const one of comparison.samples) {
    take(one, run, after);
    const pause = watch("samples scored again", ++done, run.read.rows.table.samples.size);
    if (pause !== undefined) await pause;
  }
  return { run, after, kinds: comparison.kinds, fingerprint };
}

function settled<Value>(outcome: PromiseSettledResult<Value>): Value {
  if (outcome.status === "rejected") throw outcome.reason;
  return outcome.value;
}

/** A run that was changed is not scored again: nobody could say of what the new scores are. */
async function checkUnchanged(
  folder: RunFolder,
  threads: number | undefined,
  findings: FindingCollector,
): Promise<string | undefined> {
  const shown = `${folder.shownAs}/${RUN_FILES.checksums}`;
  let bytes: Buffer;
  try {
    bytes = readFileSync(join(folder.path, RUN_FILES.checksums));
  } catch (error) {
    throw asFileError(shown, error);
  }
  const parsed = parseChecksums(bytes.toString("utf8"));
  const found = await hashFolderBeside({ folder: folder.path, shownAs: folder.shownAs }, threads);
  const isSame =
    "checksums" in parsed &&
    parsed.checksums.size === found.size &&
    [...parsed.checksums].every(([file, digest]) => found.get(file) === digest);
  if (isSame) return sha256(bytes);
  findings.add(
    finding("run-file-changed", wholeFile(shown), {
      message: "the run is not what it was when it was made, so it is not scored again",
      hint: "jartally verify says what was changed",
    }),
  );
  return undefined;
}
