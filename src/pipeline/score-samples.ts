import { resolve } from "node:path";
import type { InputFile } from "../files/input.ts";
import { inputFromBytes, openInput, openInputs } from "../files/input.ts";
import type { Finding } from "../findings/finding.ts";
import type { ResamplingPlan } from "../scoring/intervals/plan.ts";
import { resamplingPlan } from "../scoring/intervals/plan.ts";
import type { ReadFile } from "../sheets/bench-sheet.ts";
import { DEFAULT_SEED, parseSeed } from "../subsample/seed.ts";
import { loadBatch } from "./load.ts";
import { inRunOrder, runOfBatch } from "./run-of-batch.ts";
import type { ScoredSample } from "./score-batch.ts";
import { scoreBatch } from "./score-batch.ts";
import { writeRun } from "./write-run.ts";

/** A file by its path, or its content with a name for findings. */
export type SheetSource = string | { readonly name: string; readonly content: Uint8Array | string };

/** What to score and how. */
export interface ScoreSamplesRequest {
  /** Bench sheets: paths (folders too) or contents. */
  readonly sheets: readonly SheetSource[];
  /** The sample log. */
  readonly samples?: SheetSource;
  /** The lab's own list of names. */
  readonly names?: SheetSource;
  /** Id of a reference set or path to a set folder. */
  readonly reference: string;
  /** Whole number or word; the documented default when left out. */
  readonly seed?: string;
  /** Animals drawn from each larger sample; null for none; the set's own rule when left out. */
  readonly target?: number | null;
  /** The stratum of every sample, in place of the log's. */
  readonly stratum?: string;
  /** Schemes, or files of attribute values, in place of the set's own; every score then carries a doubt. */
  readonly attributes?: readonly string[];
  /** Another class table of the set. */
  readonly classes?: string;
  /** How the certainty of every score is worked out; not at all when left out. Only the number of resamples is needed. */
  readonly resampling?: Pick<ResamplingPlan, "resamples"> & Partial<ResamplingPlan>;
  /** Encoding of text files that are not UTF-8 or UTF-16. */
  readonly encoding?: string;
  /** Leaves a run folder here, which must not exist yet; the bench sheets are then read in the order of their names. */
  readonly run?: string;
  /** The folder in which relative paths are looked up; the working folder when left out. */
  readonly cwd?: string;
}

/** A batch on its way out. */
export interface ScoredBatch {
  /** The samples one by one, in the order in which they first appear; can be gone through once. Empty when the run is refused. */
  readonly samples: Iterable<ScoredSample>;
  /** True when the run as a whole is refused; `findings` say why. */
  readonly isRefused: boolean;
  /** Findings about files, names and the set; those about single samples come with them. */
  readonly findings: readonly Finding[];
  readonly seed: string;
  /** What was read, with SHA-256 and numbers of rows. */
  readonly inputs: readonly ReadFile[];
  readonly reference: { readonly id: string; readonly version: string; readonly hash: string } | undefined;
  /** The run folder that was left, with the SHA-256 of its checksums; undefined when none was. */
  readonly run: { readonly folder: string; readonly fingerprint: string } | undefined;
}

/**
 * Scores bench sheets: the main job as a function.
 *
 * Names are resolved, animals that do not count are left out, larger samples are drawn to the fixed count,
 * metrics are worked out and scored against the thresholds of each sample's stratum. The same contents, seed,
 * set and version give the same result on any machine.
 *
 * @example
 * const batch = await scoreSamples({ sheets: ["bench-sheet.csv"], samples: "sample-log.csv", reference: "my-set" });
 * for (const { score, findings } of batch.samples) console.log(score.sampleId, score.rating, findings.length);
 *
 * @throws FileError when a file cannot be read or the run folder not be written, UnknownSetError or UnknownClassesError when there is no such set
 *   or class table, RangeError for a seed, a target or a way of
 *   resampling that is none; faults in the data are findings, never
 *   exceptions
 */
export async function scoreSamples(request: ScoreSamplesRequest): Promise<ScoredBatch> {
  const seed = parseSeed(request.seed ?? DEFAULT_SEED);
  if (seed === undefined) throw new RangeError(`not a seed: ${request.seed}`);
  const { target } = request;
  if (typeof target === "number" && (!Number.isSafeInteger(target) || target < 1)) {
    throw new RangeError(`not a target: ${target}`);
  }
  const resampling = request.resampling && resamplingPlan(request.resampling);
  const cwd = request.cwd ?? ".";
  const sheets: InputFile[] = [];
  for (const sheet of request.sheets) sheets.push(...(await openSources(sheet, cwd)));
  const files = {
    sheets,
    sampleLog: request.samples === undefined ? undefined : await openSource(request.samples, cwd),
    names: request.names === undefined ? undefined : await openSource(request.names, cwd),
    encoding: request.encoding,
  };
  const { reference, run } = request;
  const setChoices = { attributes: request.attributes, classes: request.classes };
  const loaded = await loadBatch(run === undefined ? files : inRunOrder(files), reference, cwd, setChoices);
  const { batch, set } = loaded;
  const choices = { seed, target, stratum: request.stratum, resampling };
  const written =
    run === undefined || batch === undefined
      ? undefined
      : await writeRun(
          { path: resolve(cwd, run), shownAs: run },
          await runOfBatch(loaded, { reference, cwd, choices, setChoices }),
        );
  return {
    samples: batch === undefined ? [] : scoreBatch(batch, choices),
    run: run === undefined || written === undefined ? undefined : { folder: run, ...written },
    isRefused: batch === undefined,
    findings: loaded.findings,
    seed,
    inputs: loaded.inputs,
    reference:
      set === undefined
        ? undefined
        : { id: set.definition.id, version: set.definition.version, hash: set.hash },
  };
}

/** The library reads no standard input. */
const NO_STDIN: AsyncIterable<Uint8Array> = { [Symbol.asyncIterator]: async function* () {} };

async function openSources(source: SheetSource, cwd: string): Promise<InputFile[]> {
  if (typeof source === "string") return openInputs([source], { stdin: NO_STDIN, cwd });
  return [inputFromBytes(source.name, source.content)];
}

/** Opens a file or a content. @throws FileError when it cannot be read */
export async function openSource(source: SheetSource, cwd: string): Promise<InputFile> {
  if (typeof source === "string") return openInput(source, { stdin: NO_STDIN, cwd });
  return inputFromBytes(source.name, source.content);
}
