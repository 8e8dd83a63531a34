import { LARGEST_TARGET } from "../../model/largest-target.ts";
import { DEFAULT_SEED, parseSeed } from "../../subsample/seed.ts";
import type { LoadedBatch } from "../load.ts";
import { loadBatch } from "../load.ts";
import type { BatchFiles } from "../load-rows.ts";
import type { ScoringChoices } from "../score-batch.ts";
import type { RequestShape } from "./request.ts";
import type { SheetSource } from "./sources.ts";
import { openOptional, openSources } from "./sources.ts";

/** A batch and how it is drawn and scored: what the functions that read bench sheets have in common. */
export interface BatchRequest {
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
  readonly target?: number | null | undefined;
  /** The stratum of every sample, in place of the log's. */
  readonly stratum?: string;
  /** Schemes, or files of attribute values, in place of the set's own; every score then carries a doubt. */
  readonly attributes?: readonly string[];
  /** Another class table of the set. */
  readonly classes?: string;
  /** Encoding of text files that are not UTF-8 or UTF-16. */
  readonly encoding?: string;
  /** The folder in which relative paths are looked up; the working folder when left out. */
  readonly cwd?: string;
}

/** The shape of a `BatchRequest`, for the checks of those that add to it. */
export const BATCH_SHAPE: RequestShape<BatchRequest> = {
  sheets: "sources!",
  samples: "source",
  names: "source",
  reference: "text!",
  seed: "text",
  target: "number",
  stratum: "text",
  attributes: "texts",
  classes: "text",
  encoding: "text",
  cwd: "text",
};

/** @throws RangeError for a seed or a target that is none */
export function choicesOfRequest(
  request: BatchRequest,
): ScoringChoices & { readonly seed: string; readonly target: number | null | undefined } {
  const seed = parseSeed(request.seed ?? DEFAULT_SEED);
  if (seed === undefined) throw new RangeError(`not a seed: ${request.seed}`);
  const { target, stratum } = request;
  if (typeof target === "number" && (!Number.isSafeInteger(target) || target < 1 || target > LARGEST_TARGET))
    throw new RangeError(`not a target: ${target}`);
  return { seed, target, stratum };
}

/** Opens the files of a batch. @throws FileError when one cannot be read */
export async function openBatchRequest(request: BatchRequest): Promise<BatchFiles> {
  const cwd = request.cwd ?? ".";
  return {
    sheets: await openSources(request.sheets, cwd),
    sampleLog: await openOptional(request.samples, cwd),
    names: await openOptional(request.names, cwd),
    encoding: request.encoding,
  };
}

/** @throws FileError, UnknownSetError and UnknownClassesError as `loadBatch` does */
export async function loadRequest(request: BatchRequest): Promise<LoadedBatch> {
  const { cwd = "." } = request;
  const files = await openBatchRequest(request);
  const { attributes, classes } = request;
  return loadBatch(files, request.reference, cwd, { attributes, classes });
}
