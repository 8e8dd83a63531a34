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
export type { DrawResult, MetricResult, SampleScore, SampleStatus } from "./pipeline/result.ts";
export type { ScoredSample } from "./pipeline/score-batch.ts";
export type { ScoredBatch, ScoreSamplesRequest, SheetSource } from "./pipeline/score-samples.ts";
export { scoreSamples } from "./pipeline/score-samples.ts";
