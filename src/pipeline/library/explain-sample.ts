import type { Finding } from "../../findings/finding.ts";
import { didYouMean } from "../../metrics/closest.ts";
import { explainSample as tellSample } from "../explain/explain-sample.ts";
import type { SampleStory } from "../explain/story.ts";
import type { BatchRequest } from "./batch-request.ts";
import { BATCH_SHAPE, choicesOfRequest, loadRequest } from "./batch-request.ts";
import { checkRequest, RequestError } from "./request.ts";

/** Which sample is to be explained, and how its batch is scored. */
export interface ExplainSampleRequest extends BatchRequest {
  /** The sample, by the id that the sheets give it. */
  readonly sample: string;
}

/** How every number of a sample came about. */
export interface ExplainedSample {
  /** Undefined when the batch as a whole is refused; `findings` say why. */
  readonly story: SampleStory | undefined;
  /** Findings about files, names and the set; those about the sample stand in its story. */
  readonly findings: readonly Finding[];
}

/**
 * Walks one sample down the road of `scoreSamples` and tells every step: rows, names, what was left out, the
 * draw, the taxa, each metric with the very limits that scored it, the index and the rating.
 *
 * @throws RequestError for a request that cannot be met, also when the sheets have no such sample; FileError,
 *   UnknownSetError, UnknownClassesError and RangeError as `scoreSamples` does
 */
export async function explainSample(request: ExplainSampleRequest): Promise<ExplainedSample> {
  checkRequest<ExplainSampleRequest>("explainSample", request, { ...BATCH_SHAPE, sample: "text!" });
  const choices = choicesOfRequest(request);
  const { batch, findings } = await loadRequest(request);
  if (batch === undefined) return { story: undefined, findings };
  const { sample } = request;
  const story = tellSample(batch, choices, sample);
  if (story !== undefined) return { story, findings };
  const known = batch.table.samples.texts;
  throw new RequestError(`explainSample: the sheets have no sample "${sample}"${didYouMean(sample, known)}`);
}
