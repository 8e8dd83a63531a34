import type { Exact } from "../../model/exact.ts";
import { roundExact, toNumber } from "../../model/exact.ts";
import { valueAsNumber } from "../../model/metric-value.ts";
import { numberText } from "../../model/number-text.ts";
import type { RatingClass } from "../../model/segment.ts";
import type { ReferenceSet } from "../../reference/set.ts";
import { classesFor, distanceToNextClass, rate } from "../../scoring/rate.ts";
import type { SampleScore } from "../result.ts";
import type { ScoredValues } from "../score-values.ts";

/** How the scores became an index and a rating. */
export interface IndexStory {
  /** The numbers put together, as in "5.5 + 4.8 = 10.3; x 100 / 20 = 51.5". */
  readonly arithmetic: string;
  /** Before it was rounded. */
  readonly unrounded: Exact | undefined;
  readonly index: Exact | undefined;
  /** Why there is none; empty when there is one. */
  readonly whyNone: string;
  readonly rating: string;
  /** The classes that hold it: one, or both neighbours of a deliberate gap. */
  readonly classes: readonly RatingClass[];
  /** The nearest limit at which the class changes. */
  readonly next: { readonly distance: Exact; readonly limit: Exact; readonly rating: string } | undefined;
}

/** The story of a sample's index. */
export function indexStory(set: ReferenceSet, score: SampleScore, scored: ScoredValues): IndexStory {
  const { ratings, index: rule } = set.definition;
  const classes = classesFor(set.classes, score.stratum);
  const { unrounded } = scored;
  const rounded =
    unrounded === undefined || rule.round_to === undefined ? unrounded : roundExact(unrounded, rule.round_to);
  const deciding = ratings.on === "rounded" ? rounded : unrounded;
  const isGiven = deciding !== undefined && score.index !== undefined;
  return {
    arithmetic: arithmetic(set, scored),
    unrounded,
    index: score.index,
    whyNone: score.index === undefined ? whyNone(set, scored) : "",
    rating: score.rating,
    classes: isGiven ? rate(deciding, classes, ratings.gaps).classes : [],
    next: isGiven ? distanceToNextClass(deciding, classes) : undefined,
  };
}

function whyNone(set: ReferenceSet, scored: ScoredValues): string {
  if (scored.unrounded !== undefined)
    return `fewer animals than ${set.definition.count_rule.least}: the set gives no index`;
  const without = scored.metrics.filter(({ id, value, score }) =>
    set.segments.has(id) ? score === undefined : value.kind === "missing",
  );
  return `no score for ${without.map(({ id }) => id).join(", ") || "the reference sample"}`;
}

function arithmetic(set: ReferenceSet, { metrics, unrounded }: ScoredValues): string {
  const { index: rule, metrics: uses } = set.definition;
  const end = unrounded === undefined ? "" : ` = ${text(unrounded)}`;
  if (rule.method === "metric") return `the value of ${rule.metric}${end}`;
  const isWeighted = rule.method === "weighted-mean";
  const parts = metrics.flatMap(({ id, value, score }, at) => {
    const number = set.segments.has(id)
      ? score === undefined
        ? undefined
        : toNumber(score)
      : valueAsNumber(value);
    if (number === undefined) return [];
    const weight = uses[at]?.weight ?? 1;
    return [
      {
        number,
        weight,
        shown: isWeighted ? `${numberText(weight)} x ${numberText(number)}` : numberText(number),
      },
    ];
  });
  const sum = parts.map(({ shown }) => shown).join(" + ");
  const weights = parts.reduce((total, { weight }) => total + (isWeighted ? weight : 1), 0);
  const whole = {
    sum,
    mean: `(${sum}) / ${numberText(weights)}`,
    "weighted-mean": `(${sum}) / ${numberText(weights)}`,
    "scaled-sum": `(${sum}) x ${rule.scale_to ?? ""} / ${bestOf(rule.best_sum, parts.length, metrics.length)}`,
  }[rule.method];
  if (!rule.percent_of_reference) return `${whole}${end}`;
  return `${whole}, in percent of the reference sample's own${end}`;
}

/** What the scores that are there can reach at best. */
function bestOf(best: number | undefined, present: number, all: number): string {
  if (best === undefined) return "";
  return present === all ? numberText(best) : `(${numberText(best)} x ${present} / ${all})`;
}

function text(exact: Exact): string {
  return numberText(toNumber(exact));
}
