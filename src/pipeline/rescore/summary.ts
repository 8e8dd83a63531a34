import type { Exact } from "../../model/exact.ts";
import {
  absolute,
  add,
  compareExact,
  divide,
  fraction,
  isZero,
  roundExact,
  toNumber,
  ZERO,
} from "../../model/exact.ts";
import { numberText } from "../../model/number-text.ts";
import { compareCodePoints } from "../../model/order.ts";
import type { ComparedOutcome, ComparedSample } from "./compare.ts";
import type { ChangeKind } from "./kinds.ts";
import { CHANGE_KINDS } from "./kinds.ts";
import { ratingMove } from "./rating-move.ts";
import type { RescoredRun } from "./rescore-runs.ts";

/** Moves that the summary shows. */
const SHOWN_MOVES = 5;

/** What a manager asks of a re-score. */
export interface RescoreSummary<Sample extends ComparedOutcome = ComparedSample> {
  readonly samples: number;
  /** Samples with another rating, and which way they went. */
  readonly changedRating: number;
  readonly up: number;
  readonly down: number;
  /** Samples with another rating under classes that are called differently. */
  readonly otherClasses: number;
  /** Samples with the same rating and another index. */
  readonly changedIndexOnly: number;
  readonly unchanged: number;
  /** Samples whose change cannot be shared out, by the reason. */
  readonly notAttributable: ReadonlyMap<string, number>;
  /** Mean of the change and of each part of it, over the samples that have them. */
  readonly meanChange: Exact | undefined;
  readonly meanCauses: Readonly<Record<ChangeKind, Exact>> | undefined;
  /** The largest changes of the index, the largest first. */
  readonly largest: readonly Sample[];
}

/** Sums up re-scored runs as one batch. */
export function summarise<Sample extends ComparedOutcome>(
  runs: readonly RescoredRun<Sample>[],
): RescoreSummary<Sample> {
  const moves = { up: 0, down: 0, other: 0, same: 0 };
  const notAttributable = new Map<string, number>();
  const samples = runs.flatMap((one) => one.samples);
  let changedIndexOnly = 0;
  for (const { samples: own, run, after } of runs) {
    for (const sample of own) {
      const move = ratingMove(sample, run.set, after.set);
      moves[move]++;
      if (move === "same" && isChanged(sample)) changedIndexOnly++;
      if (sample.causes !== undefined) continue;
      const why = sample.notAttributable;
      notAttributable.set(why, (notAttributable.get(why) ?? 0) + 1);
    }
  }
  const shared = samples.filter((sample) => sample.causes !== undefined);
  const meanOf = (part: (sample: Sample) => Exact | undefined): Exact =>
    divide(
      shared.reduce((sum, sample) => add(sum, part(sample) as Exact), ZERO),
      fraction(Math.max(1, shared.length)),
    );
  const meanOfKind = (kind: ChangeKind) => meanOf((sample) => sample.causes?.[kind]);
  const [counts, names, attributes, metrics, rules] = CHANGE_KINDS;
  return {
    samples: samples.length,
    changedRating: moves.up + moves.down + moves.other,
    up: moves.up,
    down: moves.down,
    otherClasses: moves.other,
    changedIndexOnly,
    unchanged: moves.same - changedIndexOnly,
    notAttributable,
    meanChange: shared.length === 0 ? undefined : meanOf((sample) => sample.change),
    meanCauses:
      shared.length === 0
        ? undefined
        : {
            counts: meanOfKind(counts),
            names: meanOfKind(names),
            attributes: meanOfKind(attributes),
            metrics: meanOfKind(metrics),
            rules: meanOfKind(rules),
          },
    largest: samples
      .filter((sample) => sample.change !== undefined && !isZero(sample.change))
      .sort(
        (a, b) =>
          compareExact(absolute(b.change as Exact), absolute(a.change as Exact)) ||
          compareCodePoints(a.sampleId, b.sampleId),
      )
      .slice(0, SHOWN_MOVES),
  };
}

/** Whether anything a reader of the scores would see is another. */
export function isChanged({ before, after }: ComparedOutcome): boolean {
  if (before.rating !== after.rating || before.status !== after.status) return true;
  if (before.index === undefined || after.index === undefined) return before.index !== after.index;
  return compareExact(before.index, after.index) !== 0;
}

/** The summary in lines for a person. */
export function summaryLines(summary: RescoreSummary<ComparedOutcome>): string[] {
  const { samples, changedRating, up, down, otherClasses, changedIndexOnly, unchanged } = summary;
  const others = otherClasses === 0 ? "" : `, ${otherClasses} to classes with other names`;
  const lines = [
    `${samples} sample${samples === 1 ? "" : "s"}: ${changedRating} changed rating, ${up} up, ${down} down${others}; ${changedIndexOnly} changed index only, ${unchanged} unchanged`,
  ];
  const { meanCauses, meanChange } = summary;
  if (meanCauses !== undefined && meanChange !== undefined) {
    const parts = CHANGE_KINDS.map((kind) => `${kind} ${signed(meanCauses[kind])}`);
    lines.push(`mean change of the index ${signed(meanChange)}: ${parts.join(", ")}`);
  }
  const unshared = [...summary.notAttributable].sort(([a], [b]) => compareCodePoints(a, b));
  for (const [why, count] of unshared) lines.push(`${count} not attributable: ${why}`);
  if (summary.largest.length > 0) lines.push("largest moves:");
  for (const { sampleId, before, after, change } of summary.largest) {
    const ratings = before.rating === after.rating ? before.rating : `${before.rating} to ${after.rating}`;
    lines.push(
      `  ${sampleId} ${signed(change as Exact)}: ${shown(before.index)} to ${shown(after.index)} (${ratings})`,
    );
  }
  return lines;
}

function shown(value: Exact | undefined): string {
  return value === undefined ? "none" : numberText(toNumber(roundExact(value, 4)));
}

function signed(value: Exact): string {
  const text = shown(value);
  return text.startsWith("-") || text === "0" ? text : `+${text}`;
}
