import type { OutputColumn } from "../files/formats/define.ts";
import { visibleText } from "../files/visible-text.ts";
import { toNumber } from "../model/exact.ts";
import { numberText } from "../model/number-text.ts";
import { certaintyWords } from "../pipeline/explain/certainty-words.ts";
import type { IndexStory } from "../pipeline/explain/index-story.ts";
import type { MetricStory } from "../pipeline/explain/metric-story.ts";
import type { AttributeTrail, DrawStory, RowStory, SampleStory } from "../pipeline/explain/story.ts";
import {
  adjustedText,
  exactText,
  howText,
  partHow,
  placeText,
  roundedText,
  valueText,
} from "../pipeline/explain/words.ts";
import { segmentText, spanText } from "../reference/describe-set.ts";
import { findingLine } from "./messages.ts";
import { textTable } from "./text-table.ts";
import { definitionList, wrap } from "./wrap.ts";

/** Widest that sentences are written; tables take what they need unless the terminal is narrower. */
const WIDTH = 100;
const text = (name: string): OutputColumn => ({ name, kind: "text" });
const number = (name: string): OutputColumn => ({ name, kind: "number" });

/**
 * The whole road of one sample, as a page for a person.
 *
 * @param width of the terminal; undefined where the page goes to a file or a pipe, whose tables are not wrapped
 */
export async function samplePage(story: SampleStory, width?: number): Promise<string> {
  const sections = [
    heading(story, width),
    await rowsSection(story.rows, width),
    ...(story.draw === undefined ? [] : [await drawSection(story.draw, width)]),
    ...(story.draw === undefined ? [] : [await taxaSection(story, width)]),
    ...(story.metrics.length === 0 ? [] : [await metricsSection(story, width)]),
    ...(story.index === undefined ? [] : [indexSection(story, story.index, width)]),
    ...doubtsSection(story, width),
  ];
  return sections.join("\n");
}

/** One metric of one sample, taxon by taxon, as a page for a person who wants to redo it; `width` as above. */
export async function metricPage(story: SampleStory, metric: MetricStory, width?: number): Promise<string> {
  const hasValues = metric.parts.some((part) => part.value !== "");
  const isProduct = metric.formula.includes("n x t");
  const table = await textTable(
    [
      text("taxon"),
      number("animals"),
      number("percent"),
      number("adds"),
      ...(hasValues ? [{ ...text("value"), align: "right" as const }] : []),
      ...(isProduct ? [number("n x t")] : []),
      text("takes part"),
      text("because"),
    ],
    metric.parts.map((part) => [
      part.taxon,
      part.count,
      short(part.share),
      part.richness,
      ...(hasValues ? [part.value === "" ? "-" : part.value] : []),
      ...(isProduct ? [part.counted ? part.count * Number(part.value) : null] : []),
      part.counted ? "yes" : "no",
      partHow(true, part.why, part.valueFrom, part.taxon),
    ]),
    width,
  );
  const counted = metric.parts.filter((part) => part.counted);
  const sum = (parts: MetricStory["parts"], of: (part: MetricStory["parts"][number]) => number) =>
    numberText(parts.reduce((total, part) => total + of(part), 0));
  const totals = [
    `take part: ${counted.length} of ${metric.parts.length} records, ${sum(counted, (one) => one.count)} animals, ${sum(counted, (one) => one.richness)} taxa`,
    `all: ${sum(metric.parts, (one) => one.count)} animals, ${sum(metric.parts, (one) => one.richness)} taxa`,
  ];
  const sources = [...new Set(metric.parts.map((part) => part.source).filter((source) => source !== ""))];
  return [
    `${metric.id} of ${visibleText(story.sampleId)}: ${valueText(metric.value)}${metric.unit === "" ? "" : ` (${metric.unit})`}\n${facts(
      [
        ["name", metric.name],
        ["formula", metric.formula],
        ["settings", metric.settings],
        ["values from", sources.join("; ")],
      ],
      width,
    )}`,
    table,
    list(totals, width),
    `${facts(
      [
        ["worked out", metric.arithmetic ?? "put the numbers above into the formula"],
        ["rounded", roundedText(metric)],
        ["adjusted", adjustedText(metric)],
        ["covariate", metric.covariate],
        ["thresholds", thresholdsText(story, metric)],
        ["score", metric.score === undefined ? "" : exactText(metric.score)],
      ],
      width,
    )}`,
  ].join("\n");
}

function heading({ sampleId, score, set, index }: SampleStory, width: number | undefined): string {
  const { definition } = set;
  const result =
    index?.index === undefined
      ? score.status
      : `${exactText(index.index)} ${definition.index.unit}${score.rating === "" ? "" : `, ${score.rating}`}`;
  return `${visibleText(sampleId)}: ${result}\n${facts(
    [
      ["site", visibleText(score.siteId)],
      ["collected", score.collectedOn],
      ["stratum", score.stratum],
      ["set", `${definition.id} ${definition.version}`],
      ["status", score.status],
      ["doubts", score.flags.join(", ")],
    ],
    width,
  )}`;
}

async function rowsSection(rows: readonly RowStory[], width: number | undefined): Promise<string> {
  const animals = rows.reduce((sum, row) => sum + row.count, 0);
  const out = rows.filter((row) => row.fate !== "counts");
  const lost = out.reduce((sum, row) => sum + row.count, 0);
  const table = await textTable(
    [text("row"), text("as written"), text("stage"), number("count"), text("taken as"), text("how")],
    rows.map((row) => [
      placeText(row.place),
      row.written,
      row.stage === "unknown" ? "" : row.stage,
      row.count,
      row.taxon,
      [row.how, row.largeRare ? "large/rare search" : "", row.container === "" ? "" : `jar ${row.container}`]
        .filter((part) => part !== "")
        .join("; "),
    ]),
    width,
  );
  const leftOut = out.map((row) => {
    const what = row.fate === "released" ? "put back" : row.fate === "refused" ? "not known" : "left out";
    return `${placeText(row.place)} ${what}: ${row.count} ${visibleText(row.written)}${row.why === "" ? "" : ` (${row.why})`}`;
  });
  return `Rows: ${rows.length}, ${numberText(animals)} animals\n${table}\n${list(
    [
      ...leftOut,
      out.length === 0
        ? "every animal counts"
        : `${numberText(animals)} - ${numberText(lost)} = ${numberText(animals - lost)} animals that count`,
    ],
    width,
  )}`;
}

async function drawSection(draw: DrawStory, width: number | undefined): Promise<string> {
  const { result } = draw;
  const about = facts(
    [
      ["status", result.status],
      ["target", result.target === undefined ? "no fixed count" : String(result.target)],
      ["animals", `${draw.before} before, ${draw.after} after`],
      ["seed", result.seed],
      ["algorithm", result.algorithm],
      ["fraction sorted", draw.fractionSorted === undefined ? "not known" : numberText(draw.fractionSorted)],
      [
        "estimated total",
        draw.estimatedTotal === undefined
          ? "not known"
          : `${draw.before} / ${numberText(draw.fractionSorted ?? 1)} = ${numberText(draw.estimatedTotal)} animals in the whole sample`,
      ],
    ],
    width,
  );
  if (result.status !== "drawn") return `Draw\n${about}`;
  const table = await textTable(
    [text("name"), text("stage"), number("before"), number("after"), text("part")],
    draw.piles.map((pile) => [
      pile.name,
      pile.stage === "unknown" ? "" : pile.stage,
      pile.before,
      pile.after,
      pile.largeRare ? "large/rare search: never drawn" : "",
    ]),
    width,
  );
  return `Draw\n${about}\n${table}`;
}

async function taxaSection(story: SampleStory, width: number | undefined): Promise<string> {
  const attributes = story.taxa[0]?.attributes ?? [];
  const moved = story.taxa.some((one) => one.before !== one.after);
  const valuesOf = story.taxa.map((one) => one.attributes.map((value) => borrowedFrom(value, one.taxon)));
  const isBorrowed = attributes.map((_, at) => valuesOf.some((values) => values[at] !== ""));
  const table = await textTable(
    [
      text("taxon"),
      number("animals"),
      ...(moved ? [number("after parents")] : []),
      number("percent"),
      number("adds"),
      ...attributes.flatMap(({ attribute }, at) => [
        { ...text(attribute.replaceAll("_", " ")), align: "right" as const },
        ...(isBorrowed[at] ? [text("value of")] : []),
      ]),
      text("why"),
    ],
    story.taxa.map((one, row) => [
      one.taxon,
      one.before,
      ...(moved ? [one.after] : []),
      short(one.share),
      one.richness,
      ...one.attributes.flatMap(({ value }, at) => [
        value === "" ? "-" : value,
        ...(isBorrowed[at] ? [valuesOf[row]?.[at] ?? ""] : []),
      ]),
      one.why,
    ]),
    width,
  );
  const animals = story.taxa.reduce((sum, one) => sum + one.after, 0);
  const adds = story.taxa.reduce((sum, one) => sum + one.richness, 0);
  return `Taxa: ${numberText(adds)}, ${numberText(animals)} animals\n${table}\n${list(
    [
      `ambiguous parents: ${story.parents}`,
      ...attributes.map((one) => `${one.attribute.replaceAll("_", " ")}: ${one.scheme}`),
      ...story.merges.map((merge) => `${merge.taxon} is scored as ${merge.scoredAs} by the set's list`),
      ...story.taxa
        .filter((one) => one.madeOf.length > 0)
        .map((one) => `${one.taxon} is made of ${one.madeOf.map(visibleText).join(", ")}`),
      ...story.moves.map(
        (move) =>
          `${numberText(move.animals)} animals of ${move.from} ${move.to === "" ? "left out" : `to ${move.to}`}`,
      ),
    ],
    width,
  )}`;
}

/** Which taxon a value is of when it is not the record's own, and whether it was recalled. */
function borrowedFrom({ from, verified }: AttributeTrail, taxon: string): string {
  return [from === taxon ? "" : from, verified === "memory" ? "from memory" : ""]
    .filter((part) => part !== "")
    .join(", ");
}

async function metricsSection(story: SampleStory, width: number | undefined): Promise<string> {
  const table = await textTable(
    [text("metric"), number("value"), number("score"), text("worked out"), text("threshold")],
    story.metrics.map((metric) => [
      metric.id,
      metric.value.kind === "missing" ? null : Number(valueText(metric.value)),
      metric.score === undefined ? null : toNumber(metric.score),
      [
        metric.value.kind === "missing" ? metric.value.why : (metric.arithmetic ?? metric.formula),
        roundedText(metric),
        adjustedText(metric),
        metric.covariate,
      ]
        .filter((part) => part !== "")
        .join("; "),
      metric.segment === undefined
        ? ""
        : `${segmentText(metric.segment)} (thresholds.csv:${metric.segment.line})${howText(metric) === "" ? "" : `, ${howText(metric)}`}`,
    ]),
    width,
  );
  return `Metrics\n${table}`;
}

function indexSection({ score, set }: SampleStory, index: IndexStory, width: number | undefined): string {
  const { unit } = set.definition.index;
  return `Index\n${facts(
    [
      ["worked out", index.arithmetic],
      ["index", index.index === undefined ? `none: ${index.whyNone}` : `${exactText(index.index)} ${unit}`],
      ["rating", score.rating],
      ["class", index.classes.map((one) => `${one.rating}: ${spanText(one.lower, one.upper)}`).join("; ")],
      [
        "nearest limit",
        index.next === undefined
          ? ""
          : `${exactText(index.next.limit)}, the limit to ${index.next.rating}: ${exactText(index.next.distance)} away`,
      ],
      ...certaintyWords(score.interval).map(([item, words]): [string, string] => [item, words]),
    ],
    width,
  )}`;
}

/** Notes are told where they belong, among the rows. */
function doubtsSection({ findings }: SampleStory, width: number | undefined): string[] {
  const doubts = findings.filter((one) => one.severity !== "note");
  return doubts.length === 0
    ? []
    : [
        `Doubts\n${list(
          doubts.map((one) => findingLine(one)),
          width,
        )}`,
      ];
}

function thresholdsText({ score, set }: SampleStory, metric: MetricStory): string {
  if (metric.segments.length === 0) return "";
  const lines = metric.segments.map((segment) => {
    const mark = segment === metric.segment ? " <- used" : "";
    const how = segment === metric.segment && howText(metric) !== "" ? `, ${howText(metric)}` : "";
    return `${segmentText(segment)} (thresholds.csv:${segment.line})${mark}${how}`;
  });
  return [`${set.definition.id}, ${score.stratum}`, ...lines].join("\n");
}

/** Terms and what is to be said of them; those without anything are left out. */
function facts(items: readonly (readonly [string, string])[], width: number | undefined): string {
  const said = items.filter(([, value]) => value !== "");
  return said.length === 0 ? "" : `${definitionList(said, narrower(width))}\n`;
}

function list(lines: readonly string[], width: number | undefined): string {
  return lines
    .flatMap((line) =>
      wrap(line, narrower(width) - 4).map((part, at) => `${at === 0 ? "  " : "    "}${part}\n`),
    )
    .join("");
}

function narrower(width: number | undefined): number {
  return Math.min(width ?? WIDTH, WIDTH);
}

/** Shares to two decimals: the exact ones follow from the counts. */
function short(share: number | undefined): number | null {
  return share === undefined ? null : Math.round(share * 100) / 100;
}
