/**
 * The library: what another program may import. Everything else may change without notice.
 */
export { FileError } from "./files/file-error.ts";
export type { Finding, Place, Severity } from "./findings/finding.ts";
export type { FindingCode } from "./findings/register.ts";
export type { Exact } from "./model/exact.ts";
export { toNumber } from "./model/exact.ts";
export type { MetricValue } from "./model/metric-value.ts";
export { valueAsNumber } from "./model/metric-value.ts";
export type { SampleStory } from "./pipeline/explain/story.ts";
export type { BatchRequest } from "./pipeline/library/batch-request.ts";
export type { ExplainedSample, ExplainSampleRequest } from "./pipeline/library/explain-sample.ts";
export { explainSample } from "./pipeline/library/explain-sample.ts";
export type { MeasuredBatch, MeasureSamplesRequest } from "./pipeline/library/measure-samples.ts";
export { measureSamples } from "./pipeline/library/measure-samples.ts";
export type {
  CheckDuplicatesRequest,
  CheckIdentificationRequest,
  CheckSortingRequest,
  ChooseRechecksRequest,
} from "./pipeline/library/quality.ts";
export {
  checkDuplicates,
  checkIdentification,
  checkSorting,
  chooseRechecks,
} from "./pipeline/library/quality.ts";
export { RequestError } from "./pipeline/library/request.ts";
export type { SheetSource } from "./pipeline/library/sources.ts";
export type { Measured } from "./pipeline/measure-batch.ts";
export type { StoredRun } from "./pipeline/open-run.ts";
export { openRun } from "./pipeline/open-run.ts";
export type { QualityRun } from "./pipeline/quality/quality-run.ts";
export type { Causes, ComparedSample } from "./pipeline/rescore/compare.ts";
export type { ChangeKind } from "./pipeline/rescore/kinds.ts";
export { CHANGE_KINDS } from "./pipeline/rescore/kinds.ts";
export type {
  RescoredBatch,
  RescoredSample,
  RescoreSamplesRequest,
} from "./pipeline/rescore/rescore-samples.ts";
export { rescoreSamples } from "./pipeline/rescore/rescore-samples.ts";
export type { RescoreSummary } from "./pipeline/rescore/summary.ts";
export type { WhyRow } from "./pipeline/rescore/why-sample.ts";
export type {
  DrawResult,
  IntervalEnds,
  IntervalSource,
  MetricResult,
  RatingShare,
  SampleScore,
  SampleStatus,
  ScoreInterval,
} from "./pipeline/result.ts";
export type { ScoredSample } from "./pipeline/score-batch.ts";
export type { ScoredBatch, ScoreSamplesRequest } from "./pipeline/score-samples.ts";
export { scoreSamples } from "./pipeline/score-samples.ts";
export type { Verification, VerifiedFile } from "./pipeline/verify-run.ts";
export { verifyRun } from "./pipeline/verify-run.ts";
export { UnknownClassesError } from "./reference/choose-ratings.ts";
export { UnknownSetError } from "./reference/find-set.ts";
export type { RunRecord } from "./runs/run-record.ts";
export type { FieldLinks, IntervalKind, ResamplingPlan } from "./scoring/intervals/plan.ts";
