import { resolve } from "node:path";
import type { Finding } from "../../findings/finding.ts";
import { checkRequest } from "../library/request.ts";
import type { SheetSource } from "../library/sources.ts";
import { openOptional } from "../library/sources.ts";
import type { ComparedSample } from "./compare.ts";
import { findRuns } from "./find-runs.ts";
import { writeRescored } from "./new-run.ts";
import { rescoreRuns } from "./rescore-runs.ts";
import type { RescoreSummary } from "./summary.ts";
import { Summariser } from "./summary.ts";
import type { WhyRow } from "./why-sample.ts";
import { whySample } from "./why-sample.ts";

/** Which runs to score again, and what to change. Whatever is left out stays as each run has it. */
export interface RescoreSamplesRequest {
  /** Run folders, or folders that hold run folders. */
  readonly runs: readonly string[];
  /** Id of a reference set or path to a set folder. */
  readonly reference?: string;
  /** Corrections: sample_id, taxon, old_count, new_count, reason, by, on. */
  readonly amend?: SheetSource;
  /** Another list of names of the lab. */
  readonly names?: SheetSource;
  /** Schemes, or files of attribute values, in place of the set's own. */
  readonly attributes?: readonly string[];
  /** Another class table of the set. */
  readonly classes?: string;
  /** Animals drawn from each larger sample; null for none. */
  readonly target?: number | null;
  /** The stratum of every sample. */
  readonly stratum?: string;
  /** Leaves a run folder of the new scores here; it must not exist yet. */
  readonly run?: string;
  /** The folder in which relative paths are looked up; the working folder when left out. */
  readonly cwd?: string;
}

/** A sample before and after, and the run it is from. */
export interface RescoredSample extends ComparedSample {
  readonly run: string;
}

/** What a re-score gave. */
export interface RescoredBatch {
  readonly samples: readonly RescoredSample[];
  readonly summary: RescoreSummary;
  /** Findings about files, sets and corrections; those about samples come with them. */
  readonly findings: readonly Finding[];
  /** Runs that could not be scored again; the findings say why, and no run folder is left then. */
  readonly refusedRuns: readonly string[];
  /** The rows behind the change of a sample, in every run that has it. */
  why(sampleId: string): readonly WhyRow[];
}

/**
 * Scores stored runs again and says what changed and how much of it came from each kind of difference. The parts
 * of a change add up to it exactly (mean over all orders in which the differences can be applied, Shapley 1953).
 *
 * @example
 * const { samples, summary } = await rescoreSamples({ runs: ["run-2023"], reference: "my-set-2" });
 *
 * @throws RequestError for a request that cannot be met; FileError when a folder is no run, a file cannot be read or the new run not be written; UnknownSetError,
 *   UnknownClassesError
 */
export async function rescoreSamples(request: RescoreSamplesRequest): Promise<RescoredBatch> {
  checkRequest<RescoreSamplesRequest>("rescoreSamples", request, {
    runs: "texts!",
    reference: "text",
    amend: "source",
    names: "source",
    attributes: "texts",
    classes: "text",
    target: "number",
    stratum: "text",
    run: "text",
    cwd: "text",
  });
  const cwd = request.cwd ?? ".";
  const { reference, attributes, classes, target, stratum } = request;
  const amend = await openOptional(request.amend, cwd);
  const names = await openOptional(request.names, cwd);
  const changes = { reference, attributes, classes, target, stratum, amend, names, cwd };
  const samples: RescoredSample[] = [];
  const summariser = new Summariser();
  const { runs, refused, inputs, findings } = await rescoreRuns(
    await findRuns(request.runs, cwd),
    changes,
    (sample, run, after) => {
      samples.push({ ...sample, run: run.folder.shownAs });
      summariser.add(sample, run.set, after.set);
    },
  );
  if (request.run !== undefined && refused.length === 0)
    await writeRescored({ path: resolve(cwd, request.run), shownAs: request.run }, runs, inputs, {});
  return {
    samples,
    summary: summariser.summary,
    findings,
    refusedRuns: refused.map((folder) => folder.shownAs),
    why: (sampleId) => runs.flatMap((run) => whySample(run, sampleId) ?? []),
  };
}
