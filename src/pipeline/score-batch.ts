import type { Finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { RowTable } from "../model/rows.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import type { ResamplingPlan } from "../scoring/intervals/plan.ts";
import type { ParentMethod } from "../taxa/parents.ts";
import type { BatchNames } from "./batch-names.ts";
import type { CompiledSet } from "./compiled-set.ts";
import type { IntervalMemory } from "./intervals/interval-memory.ts";
import type { SampleScore } from "./result.ts";
import { roadsInThreads, roadsOf } from "./roads.ts";

/** A batch read, named and joined with its set: everything needed to score its samples one by one. */
export interface Batch {
  readonly table: RowTable;
  /** Samples with a faulty row, and the codes of the faults. */
  readonly refused: ReadonlyMap<string, readonly FindingCode[]>;
  readonly log: ReadonlyMap<string, SampleFacts>;
  /** What the log says of each sample, by its number; empty without a log. */
  readonly facts: readonly (SampleFacts | undefined)[];
  readonly names: BatchNames;
  readonly compiled: CompiledSet;
}

/** What the user may ask for beyond the set's own rules. */
export interface ScoringChoices {
  readonly seed: string;
  /** Undefined: the set's count rule; null: no draw. */
  readonly target?: number | null | undefined;
  /** The stratum of all samples, in place of the log's. */
  readonly stratum?: string | undefined;
  /** Only metric values, no scores: a missing stratum is then no fault. */
  readonly metricsOnly?: boolean | undefined;
  /** Version of the draw, one of `INDIVIDUAL_ALGORITHMS`; the newest when left out. */
  readonly algorithm?: string | undefined;
  /** What is done with ambiguous parents, in place of the set's own method. */
  readonly parents?: ParentMethod | undefined;
  /** How the certainty of the scores is worked out; not at all when left out. */
  readonly resampling?: ResamplingPlan | undefined;
  /** Most threads that resample; as many as the machine has when left out. Nothing that comes out depends on it. */
  readonly threads?: number | undefined;
  /** Intervals that were worked out already, of the same samples with the same choices. */
  readonly known?: Pick<IntervalMemory, "of" | "size"> | undefined;
}

/** A sample's result with the findings about it. */
export interface ScoredSample {
  readonly score: SampleScore;
  readonly findings: readonly Finding[];
}

/**
 * Scores a batch, one sample at a time, in the order in which the samples first appear. Every sample comes out
 * exactly once: scored, flagged, held back, or refused with the reason. Where the set compares with reference
 * samples, those are worked out first.
 */
export function* scoreBatch(batch: Batch, choices: ScoringChoices): Generator<ScoredSample> {
  for (const { score, findings } of roadsOf(batch, choices)) yield { score, findings };
}

/** The same, resampled in several threads where that is worth while; the same samples in the same order. */
export function scoreInThreads(batch: Batch, choices: ScoringChoices): AsyncGenerator<ScoredSample> {
  return roadsInThreads(batch, choices);
}
