import type { OutputColumn, OutputRow } from "../../files/formats/define.ts";
import type { Exact } from "../../model/exact.ts";
import { toNumber } from "../../model/exact.ts";
import { numberText } from "../../model/number-text.ts";
import { segmentText, spanText } from "../../reference/describe-set.ts";
import { certaintyWords } from "./certainty-words.ts";
import type { MetricStory } from "./metric-story.ts";
import type { SampleStory } from "./story.ts";
import {
  adjustedText,
  exactText,
  howText,
  partHow,
  placeText,
  roundedText,
  sourceText,
  valueText,
} from "./words.ts";

const text = (name: string): OutputColumn => ({ name, kind: "text" });
const number = (name: string): OutputColumn => ({ name, kind: "number" });

/**
 * Columns of an explanation as rows for a program. What stands in them depends on the step:
 *
 * - `sample`: item is a fact of the sample or its result, value is the fact
 * - `row`: item is the name as written, taxon what it was taken as, source the file and line; how says how the
 *   name was found and, for animals that do not count, why
 * - `draw`: item is the target, the seed, the algorithm ..., value is the number or word
 * - `pile`: item is name and stage; count before the draw, left after it
 * - `taxon`: count after the draw, left after the parent rule, value what it adds to richness, share in percent
 *   of the animals; how says why
 * - `attribute`: item is the attribute, value that of the taxon, source the table and its source; how names the
 *   taxon whose row gave it
 * - `merge`: taxon is scored as item by the set's list
 * - `move`: animals that the parent rule moved from taxon to item (empty: left out)
 * - `metric`: value and score; how holds formula and arithmetic
 * - `threshold`: item is the metric, source the row of thresholds.csv, how the segment; value is `used` for the
 *   one that gave the score
 * - `part`: item is the metric, value the attribute value, share in percent; left is the animals that take part
 * - `index`: item is a stage of the index, value its number
 */
export const EXPLAIN_COLUMNS: readonly OutputColumn[] = [
  text("sample_id"),
  text("step"),
  text("item"),
  text("taxon"),
  text("source"),
  number("count"),
  number("left"),
  text("value"),
  number("share"),
  number("score"),
  text("how"),
];

interface Line {
  readonly step: string;
  readonly item?: string;
  readonly taxon?: string;
  readonly source?: string;
  readonly count?: number;
  readonly left?: number;
  readonly value?: string;
  readonly share?: number | undefined;
  readonly score?: Exact | undefined;
  readonly how?: string;
}

/** The rows of a whole explanation. */
export function* storyRows(story: SampleStory): Generator<OutputRow> {
  yield* rowsOf(story, [
    ...aboutLines(story),
    ...sheetLines(story),
    ...drawLines(story),
    ...taxonLines(story),
    ...story.metrics.flatMap((metric) => [metricLine(metric), ...thresholdLines(story, metric)]),
    ...indexLines(story),
  ]);
}

/** The rows of one metric: the value, its thresholds and the part of every taxon. */
export function* metricRows(story: SampleStory, metric: MetricStory): Generator<OutputRow> {
  yield* rowsOf(story, [
    metricLine(metric),
    ...thresholdLines(story, metric),
    ...metric.parts.map(
      (part): Line => ({
        step: "part",
        item: metric.id,
        taxon: part.taxon,
        source: part.source,
        count: part.count,
        left: part.counted ? part.count : 0,
        value: part.value,
        share: part.share,
        how: partHow(part.counted, part.why, part.valueFrom, part.taxon),
      }),
    ),
  ]);
}

function* rowsOf({ sampleId }: SampleStory, lines: readonly Line[]): Generator<OutputRow> {
  for (const { step, item, taxon, source, count, left, value, share, score, how } of lines) {
    yield [
      sampleId,
      step,
      item ?? "",
      taxon ?? "",
      source ?? "",
      count ?? null,
      left ?? null,
      value ?? "",
      share ?? null,
      score === undefined ? null : toNumber(score),
      how ?? "",
    ];
  }
}

function aboutLines({ score, set, findings }: SampleStory): Line[] {
  const line = (item: string, value: string): Line => ({ step: "sample", item, value });
  return [
    line("site_id", score.siteId),
    line("collected_on", score.collectedOn),
    line("stratum", score.stratum),
    line("reference_set", `${set.definition.id} ${set.definition.version}`),
    line("status", score.status),
    line("flags", score.flags.join(";")),
    ...findings.map(
      (one): Line => ({
        step: "sample",
        item: one.code,
        source: placeText(one),
        value: one.severity,
        how: one.message,
      }),
    ),
  ];
}

function sheetLines({ rows }: SampleStory): Line[] {
  return rows.map((row) => ({
    step: "row",
    item: row.written,
    taxon: row.taxon,
    source: placeText(row.place),
    count: row.count,
    left: row.fate === "counts" ? row.count : 0,
    value: row.fate,
    how: [row.stage, row.largeRare ? "large/rare search" : "", row.how, row.why]
      .filter((part) => part !== "" && part !== "unknown")
      .join("; "),
  }));
}

function drawLines({ draw }: SampleStory): Line[] {
  if (draw === undefined) return [];
  const line = (item: string, value: number | string | undefined): Line => ({
    step: "draw",
    item,
    value: typeof value === "number" ? numberText(value) : (value ?? ""),
  });
  return [
    line("status", draw.result.status),
    line("target", draw.result.target),
    line("seed", draw.result.seed),
    line("algorithm", draw.result.algorithm),
    line("fraction_sorted", draw.fractionSorted),
    line("estimated_total", draw.estimatedTotal),
    { step: "draw", item: "animals", count: draw.before, left: draw.after },
    ...draw.piles.map(
      (pile): Line => ({
        step: "pile",
        item: pile.stage === "unknown" ? pile.name : `${pile.name}, ${pile.stage}`,
        count: pile.before,
        left: pile.after,
        how: pile.largeRare ? "large/rare search: never drawn" : "",
      }),
    ),
  ];
}

function taxonLines({ taxa, merges, moves, parents }: SampleStory): Line[] {
  return [
    ...taxa.flatMap((one): Line[] => [
      {
        step: "taxon",
        taxon: one.taxon,
        count: one.before,
        left: one.after,
        value: numberText(one.richness),
        share: one.share,
        how: one.madeOf.length === 0 ? one.why : `${one.why}; made of ${one.madeOf.join(", ")}`,
      },
      ...one.attributes.map(
        (trail): Line => ({
          step: "attribute",
          item: trail.attribute,
          taxon: one.taxon,
          source: trail.value === "" ? trail.scheme : sourceText(trail),
          value: trail.value,
          how:
            trail.value === ""
              ? "no rank of its line has a value"
              : `row of ${trail.from} (${trail.verified})`,
        }),
      ),
    ]),
    ...merges.map(
      (merge): Line => ({
        step: "merge",
        item: merge.scoredAs,
        taxon: merge.taxon,
        how: "the set's list scores it as that taxon",
      }),
    ),
    ...moves.map(
      (move): Line => ({ step: "move", item: move.to, taxon: move.from, count: move.animals, how: parents }),
    ),
  ];
}

function metricLine(metric: MetricStory): Line {
  return {
    step: "metric",
    item: metric.id,
    value: valueText(metric.value),
    score: metric.score,
    how: [
      metric.formula,
      metric.settings,
      metric.arithmetic,
      roundedText(metric),
      adjustedText(metric),
      metric.covariate,
    ]
      .filter((part) => part !== undefined && part !== "")
      .join("; "),
  };
}

function thresholdLines({ set, score }: SampleStory, metric: MetricStory): Line[] {
  return metric.segments.map((segment) => ({
    step: "threshold",
    item: metric.id,
    source: `${set.folder}/thresholds.csv:${segment.line}`,
    value: segment === metric.segment ? "used" : "",
    score: segment === metric.segment ? metric.score : undefined,
    how: [score.stratum, segmentText(segment), segment === metric.segment ? howText(metric) : ""]
      .filter((part) => part !== "")
      .join("; "),
  }));
}

function indexLines({ index, score }: SampleStory): Line[] {
  if (index === undefined) return [];
  const line = (item: string, value: Exact | undefined, how = ""): Line => ({
    step: "index",
    item,
    value: value === undefined ? "" : exactText(value),
    how,
  });
  const held = index.classes.map((one) => `${one.rating}: ${spanText(one.lower, one.upper)}`).join("; ");
  return [
    line("unrounded", index.unrounded, index.arithmetic),
    line("index", index.index, index.whyNone),
    { step: "index", item: "rating", value: score.rating, how: held },
    ...(index.next === undefined
      ? []
      : [
          line(
            "distance",
            index.next.distance,
            `to ${exactText(index.next.limit)}, the limit to ${index.next.rating}`,
          ),
        ]),
    ...certaintyWords(score.interval).map(([item, how]): Line => ({ step: "index", item, value: "", how })),
  ];
}
