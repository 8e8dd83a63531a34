import type { Cell, OutputColumn, OutputRow } from "../files/formats/define.ts";
import { toNumber } from "../model/exact.ts";
import { valueAsNumber } from "../model/metric-value.ts";
import type { ReferenceSet } from "../reference/set.ts";
import type { IntervalEnds, SampleScore, ScoreInterval } from "./result.ts";

const text = (name: string): OutputColumn => ({ name, kind: "text" });
const number = (name: string): OutputColumn => ({ name, kind: "number" });

/** Whether the set gives scores to single metrics (an average-score set does not). */
function hasScores(set: ReferenceSet): boolean {
  return set.segments.size > 0;
}

/** Columns of the wide layout: one row a sample. */
export function wideColumns(set: ReferenceSet, hasIntervals = false): OutputColumn[] {
  return [
    text("sample_id"),
    text("site_id"),
    text("collected_on"),
    text("stratum"),
    text("reference_set"),
    text("reference_version"),
    number("individuals_counted"),
    number("individuals_scored"),
    text("status"),
    number("index"),
    text("rating"),
    text("flags"),
    ...set.definition.metrics.flatMap(({ id }) =>
      hasScores(set) ? [number(id), number(`${id}_score`)] : [number(id)],
    ),
    ...(hasIntervals
      ? [
          number("index_low"),
          number("index_high"),
          number("rating_support"),
          text("rating_next"),
          text("interval"),
        ]
      : []),
  ];
}

/** A sample's row of the wide layout. */
export function wideRow(set: ReferenceSet, score: SampleScore, hasIntervals = false): OutputRow {
  const row: Cell[] = [
    score.sampleId,
    score.siteId,
    score.collectedOn,
    score.stratum,
    set.definition.id,
    set.definition.version,
    score.individualsCounted ?? null,
    score.individualsScored ?? null,
    score.status,
    score.index === undefined ? null : toNumber(score.index),
    score.rating,
    score.flags.length === 0 ? "" : score.flags.join(";"),
  ];
  const withScores = hasScores(set);
  const { metrics } = set.definition;
  for (let at = 0; at < metrics.length; at++) {
    const { id } = metrics[at] as (typeof metrics)[number];
    // A refused sample has none; else they come in the order of the set.
    const likely = score.metrics[at];
    const metric = likely?.id === id ? likely : score.metrics.findLast((one) => one.id === id);
    row.push(metric === undefined ? null : (valueAsNumber(metric.value) ?? null));
    if (withScores) row.push(metric?.score === undefined ? null : toNumber(metric.score));
  }
  if (hasIntervals) row.push(...intervalCells(score.interval));
  return row;
}

/** Ends and support of the index, the next most likely rating, and what the interval is about and made of. */
function intervalCells(interval: ScoreInterval | undefined): OutputRow {
  if (interval === undefined) return [null, null, null, "", ""];
  const { low, high, support, next } = interval;
  return [low ?? null, high ?? null, support ?? null, next?.rating ?? "", intervalText(interval)];
}

/** What an interval is about and made of, for instance "mean: subsampling, clumping". */
export function intervalText({ of, sources }: Pick<ScoreInterval, "of" | "sources">): string {
  return `${of}: ${sources.join(", ")}`;
}

/** Columns of the long layout: one row a metric and one for the index. */
export function longColumns(hasIntervals = false): readonly OutputColumn[] {
  const ends = [number("low"), number("high"), number("support"), text("interval")];
  return hasIntervals ? [...LONG_COLUMNS, ...ends] : LONG_COLUMNS;
}

const LONG_COLUMNS: readonly OutputColumn[] = [
  text("sample_id"),
  text("reference_set"),
  text("kind"),
  text("name"),
  number("value"),
  number("score"),
  text("rating"),
];

/** A sample's rows of the long layout; a refused sample has its index row, empty. */
export function longRows(set: ReferenceSet, score: SampleScore, hasIntervals = false): OutputRow[] {
  const { id } = set.definition;
  const { interval } = score;
  const ends = (one: IntervalEnds | undefined): OutputRow =>
    hasIntervals
      ? [
          one?.low ?? null,
          one?.high ?? null,
          one?.support ?? null,
          interval === undefined ? "" : intervalText(interval),
        ]
      : [];
  return [
    ...score.metrics.map(
      (metric): OutputRow => [
        score.sampleId,
        id,
        "metric",
        metric.id,
        valueAsNumber(metric.value) ?? null,
        metric.score === undefined ? null : toNumber(metric.score),
        "",
        ...ends(interval?.metrics.find((one) => one.id === metric.id)),
      ],
    ),
    [
      score.sampleId,
      id,
      "index",
      "index",
      score.index === undefined ? null : toNumber(score.index),
      null,
      score.rating === "" ? score.status : score.rating,
      ...ends(interval),
    ],
  ];
}

/**
 * Columns of metric values alone. `parents` names the method for ambiguous parents; `replicate_value` says whether
 * a row is the `mean` of its replicates or of the `pooled` sample, and `replicates` how many entered.
 */
export function metricColumns(
  ids: readonly string[],
  extra: { readonly parents: boolean; readonly replicates: boolean } = { parents: false, replicates: false },
): OutputColumn[] {
  return [
    text("sample_id"),
    text("site_id"),
    text("collected_on"),
    text("stratum"),
    ...(extra.parents ? [text("parents")] : []),
    ...(extra.replicates ? [text("replicate_value"), number("replicates")] : []),
    number("individuals_counted"),
    number("individuals_scored"),
    text("status"),
    text("flags"),
    ...ids.map(number),
  ];
}

/** A sample's row of metric values; `extra` are the cells of the columns that `metricColumns` was asked for. */
export function metricRow(
  ids: readonly string[],
  score: SampleScore,
  extra: readonly (string | number)[] = [],
): OutputRow {
  const byId = new Map(score.metrics.map((metric) => [metric.id, metric]));
  return [
    score.sampleId,
    score.siteId,
    score.collectedOn,
    score.stratum,
    ...extra,
    score.individualsCounted ?? null,
    score.individualsScored ?? null,
    score.status,
    score.flags.join(";"),
    ...ids.map((id) => {
      const metric = byId.get(id);
      return metric === undefined ? null : (valueAsNumber(metric.value) ?? null);
    }),
  ];
}
