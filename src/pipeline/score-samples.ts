import { resolve } from "node:path";
import type { Finding } from "../findings/finding.ts";
import type { ResamplingPlan } from "../scoring/intervals/plan.ts";
import { resamplingPlan } from "../scoring/intervals/plan.ts";
import type { ReadFile } from "../sheets/bench-sheet.ts";
import { IntervalMemory } from "./intervals/interval-memory.ts";
import type { BatchRequest } from "./library/batch-request.ts";
import { BATCH_SHAPE, choicesOfRequest, openBatchRequest } from "./library/batch-request.ts";
import { onceOnly } from "./library/once.ts";
import { checkRequest } from "./library/request.ts";
import { loadBatch } from "./load.ts";
import { inRunOrder, runOfBatch } from "./run-of-batch.ts";
import type { ScoredSample } from "./score-batch.ts";
import { scoreBatch } from "./score-batch.ts";
import { writeRun } from "./write-run.ts";

/** What to score and how. */
export interface ScoreSamplesRequest extends BatchRequest {
  /** How the certainty of every score is worked out; not at all when left out. Only the number of resamples is needed. */
  readonly resampling?: Pick<ResamplingPlan, "resamples"> & Partial<ResamplingPlan>;
  /** Leaves a run folder here, which must not exist yet; the bench sheets are then read in the order of their names. */
  readonly run?: string;
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
 * @throws RequestError for a key that there is not or a value of another kind, RangeError for a seed, a target or a
 *   way of resampling that is none; FileError when a file cannot be read or the run folder not be written;
 *   UnknownSetError or UnknownClassesError when there is no such set or class table. Faults in the data are
 *   findings, never exceptions
 */
export async function scoreSamples(request: ScoreSamplesRequest): Promise<ScoredBatch> {
  checkRequest<ScoreSamplesRequest>("scoreSamples", request, {
    ...BATCH_SHAPE,
    resampling: "object",
    run: "text",
  });
  const { seed, target } = choicesOfRequest(request);
  const resampling = request.resampling && resamplingPlan(request.resampling);
  const cwd = request.cwd ?? ".";
  const files = await openBatchRequest(request);
  const { reference, run } = request;
  const setChoices = { attributes: request.attributes, classes: request.classes };
  const loaded = await loadBatch(run === undefined ? files : inRunOrder(files), reference, cwd, setChoices);
  const { batch, set } = loaded;
  const intervals = new IntervalMemory();
  const choices = { seed, target, stratum: request.stratum, resampling, known: intervals };
  const written =
    run === undefined || batch === undefined
      ? undefined
      : await writeRun(
          { path: resolve(cwd, run), shownAs: run },
          await runOfBatch(loaded, { reference, cwd, choices, setChoices }),
          { intervals },
        );
  return {
    samples: onceOnly("samples", batch === undefined ? [] : scoreBatch(batch, choices)),
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
