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
import type { ReferenceSet } from "../../reference/set.ts";
import type { ComparedSample } from "./compare.ts";
import type { ChangeKind } from "./kinds.ts";
import { CHANGE_KINDS } from "./kinds.ts";
import { ratingMove } from "./rating-move.ts";

/** Moves that the summary shows. */
const SHOWN_MOVES = 5;

/** What a manager asks of a re-score. */
export interface RescoreSummary {
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
  readonly largest: readonly ComparedSample[];
}

/** Sums up the samples of re-scored runs as one batch; of all of them the largest moves are kept, and no more. */
export class Summariser {
  readonly #moves = { up: 0, down: 0, other: 0, same: 0 };
  readonly #notAttributable = new Map<string, number>();
  #samples = 0;
  #changedIndexOnly = 0;
  /** Samples whose change is shared out, and the sums of their changes and of the parts. */
  #shared = 0;
  #change = ZERO;
  readonly #parts: Record<ChangeKind, Exact> = {
    counts: ZERO,
    names: ZERO,
    attributes: ZERO,
    metrics: ZERO,
    rules: ZERO,
  };
  #largest: ComparedSample[] = [];

  /** @param setBefore the set that the sample was scored with before; `setAfter` the other */
  add(
    sample: ComparedSample,
    setBefore: Pick<ReferenceSet, "classes">,
    setAfter: Pick<ReferenceSet, "classes">,
  ): void {
    const { change, causes, notAttributable } = sample;
    const move = ratingMove(sample, setBefore, setAfter);
    this.#samples++;
    this.#moves[move]++;
    if (move === "same" && isChanged(sample)) this.#changedIndexOnly++;
    if (change !== undefined && !isZero(change)) this.#keepLargest(sample);
    if (causes === undefined) {
      this.#notAttributable.set(notAttributable, (this.#notAttributable.get(notAttributable) ?? 0) + 1);
      return;
    }
    this.#shared++;
    this.#change = add(this.#change, change as Exact);
    for (const kind of CHANGE_KINDS) this.#parts[kind] = add(this.#parts[kind], causes[kind]);
  }

  get summary(): RescoreSummary {
    const { up, down, other, same } = this.#moves;
    const mean = (sum: Exact) => divide(sum, fraction(this.#shared));
    const { counts, names, attributes, metrics, rules } = this.#parts;
    return {
      samples: this.#samples,
      changedRating: up + down + other,
      up,
      down,
      otherClasses: other,
      changedIndexOnly: this.#changedIndexOnly,
      unchanged: same - this.#changedIndexOnly,
      notAttributable: this.#notAttributable,
      meanChange: this.#shared === 0 ? undefined : mean(this.#change),
      meanCauses:
        this.#shared === 0
          ? undefined
          : {
              counts: mean(counts),
              names: mean(names),
              attributes: mean(attributes),
              metrics: mean(metrics),
              rules: mean(rules),
            },
      largest: this.#largest,
    };
  }

  #keepLargest(sample: ComparedSample): void {
    const last = this.#largest[SHOWN_MOVES - 1];
    if (last !== undefined && compareMoves(sample, last) >= 0) return;
    this.#largest = [...this.#largest, sample].sort(compareMoves).slice(0, SHOWN_MOVES);
  }
}

/** Larger moves come first. */
function compareMoves(a: ComparedSample, b: ComparedSample): number {
  return (
    compareExact(absolute(b.change as Exact), absolute(a.change as Exact)) ||
    compareCodePoints(a.sampleId, b.sampleId)
  );
}

/** Whether anything a reader of the scores would see is another. */
export function isChanged({ before, after }: ComparedSample): boolean {
  if (before.rating !== after.rating || before.status !== after.status) return true;
  if (before.index === undefined || after.index === undefined) return before.index !== after.index;
  return compareExact(before.index, after.index) !== 0;
}

/** The summary in lines for a person. */
export function summaryLines(summary: RescoreSummary): string[] {
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
