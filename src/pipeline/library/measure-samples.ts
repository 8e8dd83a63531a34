import type { Finding } from "../../findings/finding.ts";
import type { ReadFile } from "../../sheets/bench-sheet.ts";
import type { MeasureChoices, Measured } from "../measure-batch.ts";
import { measureBatch } from "../measure-batch.ts";
import { withMetrics } from "../other-metrics.ts";
import type { BatchRequest } from "./batch-request.ts";
import { BATCH_SHAPE, choicesOfRequest, loadRequest } from "./batch-request.ts";
import { onceOnly } from "./once.ts";
import { checkRequest, RequestError } from "./request.ts";

/** Which metrics of which samples are wanted. */
export interface MeasureSamplesRequest extends BatchRequest {
  /** Ids of the set's metrics, or of any of the catalogue; all of the set's when left out. */
  readonly only?: readonly string[];
  /** How ambiguous parents are dealt with; `all` gives every method side by side; the set's own when left out. */
  readonly parents?: MeasureChoices["parents"];
  /** `each` sample by itself (when left out), the `mean` of replicates, or replicates `pooled` into one sample. */
  readonly replicates?: MeasureChoices["replicates"];
}

/** Metric values on their way out. */
export interface MeasuredBatch {
  /** One by one, in the order in which the samples first appear; can be gone through once. */
  readonly samples: Iterable<Measured>;
  readonly isRefused: boolean;
  /** Findings about files, names and the set; those about single samples come with them. */
  readonly findings: readonly Finding[];
  readonly inputs: readonly ReadFile[];
  readonly seed: string;
}

/**
 * Works out metric values of bench sheets on the road of `scoreSamples` and scores none.
 *
 * @example
 * const { samples } = await measureSamples({ sheets: ["bench-sheet.csv"], reference: "my-set", only: ["ept_richness"] });
 *
 * @throws RequestError for a request that cannot be met; FileError, UnknownSetError, UnknownClassesError and
 *   RangeError as `scoreSamples` does
 */
export async function measureSamples(request: MeasureSamplesRequest): Promise<MeasuredBatch> {
  checkRequest<MeasureSamplesRequest>("measureSamples", request, {
    ...BATCH_SHAPE,
    only: "texts",
    parents: "text",
    replicates: "text",
  });
  const choices = choicesOfRequest(request);
  const loaded = await loadRequest(request);
  const chosen = loaded.batch === undefined ? undefined : withMetrics(loaded.batch, request.only);
  if (chosen !== undefined && "problems" in chosen)
    throw new RequestError(`measureSamples: "only": ${chosen.problems.join("; ")}`);
  const { parents, replicates = "each" } = request;
  return {
    samples: onceOnly(
      "samples",
      chosen === undefined ? [] : measureBatch(chosen.batch, { ...choices, parents, replicates }),
    ),
    isRefused: chosen === undefined,
    findings: loaded.findings,
    inputs: loaded.inputs,
    seed: choices.seed,
  };
}
