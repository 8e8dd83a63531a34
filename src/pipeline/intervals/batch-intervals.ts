import type { Finding } from "../../findings/finding.ts";
import { finding } from "../../findings/finding.ts";
import { numberText } from "../../model/number-text.ts";
import type { ResamplingOutcome } from "../../scoring/intervals/resample.ts";
import type { FieldPart } from "../../scoring/intervals/resampling-job.ts";
import { flagsOf } from "../flags.ts";
import type { SamplePreparer } from "../prepare-sample.ts";
import type { ReferenceSamples } from "../reference-samples.ts";
import type { IntervalSource, ScoreInterval } from "../result.ts";
import type { SampleRoad } from "../walk-sample.ts";
import { walkSample } from "../walk-sample.ts";
import { Evaluators } from "./evaluators.ts";
import { fieldParts } from "./field-parts.ts";
import { RatingNumbers } from "./general-evaluator.ts";
import { resultOf } from "./interval-result.ts";
import type { SampleResampling } from "./sample-resampling.ts";
import { MOST_RESAMPLED, sampleResampling } from "./sample-resampling.ts";

/** The intervals of a batch; undefined when none were asked for. */
export function intervalsFor(
  preparer: SamplePreparer,
  references: ReferenceSamples | undefined,
): BatchIntervals | undefined {
  return preparer.choices.resampling === undefined || preparer.choices.metricsOnly === true
    ? undefined
    : new BatchIntervals(preparer, references);
}

/** Adds intervals to samples one by one. What comes out for a sample does not depend on the others, except for the field part. */
export class BatchIntervals {
  readonly #preparer: SamplePreparer;
  readonly #ratings = new RatingNumbers();
  readonly #evaluators: Evaluators;
  readonly #fieldOf: ((sampleId: string) => FieldPart | undefined) | undefined;
  readonly #fieldFinding: Finding | undefined;
  #isFirst = true;

  constructor(preparer: SamplePreparer, references: ReferenceSamples | undefined) {
    this.#preparer = preparer;
    this.#evaluators = new Evaluators(preparer, this.#ratings);
    const plan = preparer.choices.resampling;
    if (plan === undefined || plan.field === "none") return;
    const field = fieldParts(preparer, plan, (sample) => {
      const road = walkSample(preparer, sample, references);
      const own = this.#prepared(road, undefined);
      return own === undefined ? undefined : { observed: own.task.observed, outcome: own.run() };
    });
    this.#fieldOf = field.partOf;
    this.#fieldFinding = field.finding;
  }

  /** The road with the interval of its score, its findings and flags. */
  added(road: SampleRoad): SampleRoad {
    const prepared = this.prepare(road);
    return this.complete(road, prepared, this.known(road) === undefined ? prepared?.run() : undefined);
  }

  /** The interval of a sample that was worked out already. */
  known({ score }: SampleRoad): ScoreInterval | undefined {
    return this.#preparer.choices.known?.of(score.sampleId);
  }

  /** What is to be resampled; undefined when the sample allows no interval. */
  prepare(road: SampleRoad): SampleResampling | undefined {
    return this.#prepared(road, this.#fieldOf?.(road.score.sampleId));
  }

  /**
   * Adds what resampling gave, or the interval that is known already; samples must come in their order.
   *
   * @param outcome undefined where nothing was resampled
   */
  complete(
    road: SampleRoad,
    prepared: SampleResampling | undefined,
    outcome: ResamplingOutcome | undefined,
  ): SampleRoad {
    const said = this.#said(road, prepared);
    if (prepared === undefined) return withFindings(road, said);
    const interval = this.known(road) ?? (outcome && this.#result(road, prepared, outcome));
    if (interval === undefined) return withFindings(road, said);
    return withFindings({ ...road, score: { ...road.score, interval } }, [
      ...said,
      ...this.#doubts(road, interval),
    ]);
  }

  #prepared(road: SampleRoad, field: FieldPart | undefined): SampleResampling | undefined {
    return sampleResampling(this.#preparer, road, this.#evaluators, this.#ratings, field);
  }

  #result(road: SampleRoad, { task }: SampleResampling, outcome: ResamplingOutcome): ScoreInterval {
    const sources: IntervalSource[] = ["subsampling"];
    if (task.design.kind === "grids") sources.push("clumping");
    if (task.field !== undefined) sources.push("field");
    return resultOf(road.score, task.plan, this.#preparer.batch.compiled, sources, outcome, this.#ratings);
  }

  /** What is to be said of how the interval came about. */
  #said(road: SampleRoad, prepared: SampleResampling | undefined): Finding[] {
    const { sampleId } = road.score;
    const said: Finding[] = [];
    if (this.#isFirst && this.#fieldFinding !== undefined) said.push(this.#fieldFinding);
    this.#isFirst = false;
    const { one } = road;
    if (one === undefined) return said;
    const { place } = one;
    if (prepared === undefined) {
      const message = `the certainty of ${sampleId} cannot be worked out: it has ${whyNone(road)}`;
      return [...said, finding("no-interval", place, { message, sampleId })];
    }
    const { design } = prepared.task;
    if (design.jar === undefined && design.onTray === undefined) {
      const message = `it is not known how much of ${sampleId} was sorted, so its jar is taken as endless`;
      said.push(finding("endless-jar", place, { message, sampleId }));
    }
    if (design.kind === "animals" && !design.isWhole) {
      const message = `the sheet of ${sampleId} does not name the grid of each animal (of two grids at least), so clumping in the tray is not in its interval`;
      said.push(finding("clumping-not-covered", place, { message, sampleId }));
    }
    return said;
  }

  #doubts({ score, one, scored }: SampleRoad, interval: ScoreInterval): Finding[] {
    const { sampleId } = score;
    const limit = this.#preparer.choices.resampling?.supportLimit;
    if (one === undefined) return [];
    const doubts: Finding[] = [];
    const { support, next, low, high } = interval;
    if (limit !== undefined && support !== undefined && support < limit) {
      const other = next === undefined ? "" : `; next most likely: ${next.rating || "no rating"}`;
      const message = `the rating ${score.rating || "(none)"} of ${sampleId} is that of ${percent(support)} of its resamples (limit ${percent(limit)})${other}`;
      doubts.push(finding("near-class-limit", one.place, { message, sampleId }));
    }
    const index = scored?.unrounded === undefined ? undefined : score.index;
    const at = index === undefined ? undefined : Number(index.num) / Number(index.den);
    if (at !== undefined && low !== undefined && high !== undefined && (at < low || at > high)) {
      const message = `the index ${numberText(at)} of ${sampleId} comes from one draw and lies outside of ${numberText(low)} to ${numberText(high)}, where the mean over all draws from its ${score.individualsCounted} animals lies`;
      doubts.push(finding("index-outside-interval", one.place, { message, sampleId }));
    }
    return doubts;
  }
}

function percent(share: number): string {
  return `${numberText(Math.round(share * 1000) / 10)} percent`;
}

function withFindings(road: SampleRoad, more: readonly Finding[]): SampleRoad {
  if (more.length === 0) return road;
  const findings = [...road.findings, ...more];
  const { score } = road;
  const isDoubtful = score.status === "scored" && more.some((one) => one.severity !== "note");
  const flags = flagsOf(more, score.flags);
  return { ...road, findings, score: { ...score, flags, status: isDoubtful ? "flagged" : score.status } };
}

/** Why a scored sample is not resampled. */
function whyNone({ score, prepared }: SampleRoad): string {
  if (score.individualsScored === 0) return "no animal";
  if (prepared.gathered.piles.hasExpanded) return "expanded counts";
  return `${score.individualsCounted} animals, and no more than ${MOST_RESAMPLED} are resampled`;
}
