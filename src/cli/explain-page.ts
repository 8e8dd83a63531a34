import type { OutputColumn } from "../files/formats/define.ts";
import { visibleText } from "../files/visible-text.ts";
import { toNumber } from "../model/exact.ts";
import { numberText } from "../model/number-text.ts";
import { certaintyWords } from "../pipeline/explain/certainty-words.ts";
import type { IndexStory } from "../pipeline/explain/index-story.ts";
import type { MetricStory } from "../pipeline/explain/metric-story.ts";
import type { DrawStory, RowStory, SampleStory } from "../pipeline/explain/story.ts";
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

const WIDTH = 100;
const text = (name: string): OutputColumn => ({ name, kind: "text" });
const number = (name: string): OutputColumn => ({ name, kind: "number" });

/** The whole road of one sample, as a page for a person. */
export async function samplePage(story: SampleStory): Promise<string> {
  const sections = [
    heading(story),
    await rowsSection(story.rows),
    ...(story.draw === undefined ? [] : [await drawSection(story.draw)]),
    ...(story.draw === undefined ? [] : [await taxaSection(story)]),
    ...(story.metrics.length === 0 ? [] : [await metricsSection(story)]),
    ...(story.index === undefined ? [] : [indexSection(story, story.index)]),
    ...doubtsSection(story),
  ];
  return sections.join("\n");
}

/** One metric of one sample, taxon by taxon, as a page for a person who wants to redo it. */
export async function metricPage(story: SampleStory, metric: MetricStory): Promise<string> {
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
    )}`,
    table,
    `${totals.map((line) => `  ${line}`).join("\n")}\n`,
    `${facts([
      ["worked out", metric.arithmetic ?? "put the numbers above into the formula"],
      ["rounded", roundedText(metric)],
      ["adjusted", adjustedText(metric)],
      ["covariate", metric.covariate],
      ["thresholds", thresholdsText(story, metric)],
      ["score", metric.score === undefined ? "" : exactText(metric.score)],
    ])}`,
  ].join("\n");
}

function heading({ sampleId, score, set, index }: SampleStory): string {
  const { definition } = set;
  const result =
    index?.index === undefined
      ? score.status
      : `${exactText(index.index)} ${definition.index.unit}${score.rating === "" ? "" : `, ${score.rating}`}`;
  return `${visibleText(sampleId)}: ${result}\n${facts([
    ["site", visibleText(score.siteId)],
    ["collected", score.collectedOn],
    ["stratum", score.stratum],
    ["set", `${definition.id} ${definition.version}`],
    ["status", score.status],
    ["doubts", score.flags.join(", ")],
  ])}`;
}

async function rowsSection(rows: readonly RowStory[]): Promise<string> {
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
  );
  const leftOut = out.map((row) => {
    const what = row.fate === "released" ? "put back" : row.fate === "refused" ? "not known" : "left out";
    return `${placeText(row.place)} ${what}: ${row.count} ${visibleText(row.written)}${row.why === "" ? "" : ` (${row.why})`}`;
  });
  return `Rows: ${rows.length}, ${numberText(animals)} animals\n${table}\n${list([
    ...leftOut,
    out.length === 0
      ? "every animal counts"
      : `${numberText(animals)} - ${numberText(lost)} = ${numberText(animals - lost)} animals that count`,
  ])}`;
}

async function drawSection(draw: DrawStory): Promise<string> {
  const { result } = draw;
  const about = facts([
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
  ]);
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
  );
  return `Draw\n${about}\n${table}`;
}

async function taxaSection(story: SampleStory): Promise<string> {
  const attributes = story.taxa[0]?.attributes ?? [];
  const moved = story.taxa.some((one) => one.before !== one.after);
  const table = await textTable(
    [
      text("taxon"),
      number("animals"),
      ...(moved ? [number("after parents")] : []),
      number("percent"),
      number("adds"),
      ...attributes.flatMap(({ attribute }) => [
        { ...text(attribute.replaceAll("_", " ")), align: "right" as const },
        text("value of"),
      ]),
      text("why"),
    ],
    story.taxa.map((one) => [
      one.taxon,
      one.before,
      ...(moved ? [one.after] : []),
      short(one.share),
      one.richness,
      ...one.attributes.flatMap(({ value, from, verified }) => [
        value === "" ? "-" : value,
        [from === one.taxon ? "" : from, verified === "memory" ? "from memory" : ""]
          .filter((part) => part !== "")
          .join(", "),
      ]),
      one.why,
    ]),
  );
  const animals = story.taxa.reduce((sum, one) => sum + one.after, 0);
  const adds = story.taxa.reduce((sum, one) => sum + one.richness, 0);
  return `Taxa: ${numberText(adds)}, ${numberText(animals)} animals\n${table}\n${list([
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
  ])}`;
}

async function metricsSection(story: SampleStory): Promise<string> {
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
  );
  return `Metrics\n${table}`;
}

function indexSection({ score, set }: SampleStory, index: IndexStory): string {
  const { unit } = set.definition.index;
  return `Index\n${facts([
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
  ])}`;
}

/** Notes are told where they belong, among the rows. */
function doubtsSection({ findings }: SampleStory): string[] {
  const doubts = findings.filter((one) => one.severity !== "note");
  return doubts.length === 0 ? [] : [`Doubts\n${list(doubts.map((one) => findingLine(one)))}`];
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
function facts(items: readonly (readonly [string, string])[]): string {
  const said = items.filter(([, value]) => value !== "");
  return said.length === 0 ? "" : `${definitionList(said, WIDTH)}\n`;
}

function list(lines: readonly string[]): string {
  return lines
    .flatMap((line) => wrap(line, WIDTH - 4).map((part, at) => `${at === 0 ? "  " : "    "}${part}\n`))
    .join("");
}

/** Shares to two decimals: the exact ones follow from the counts. */
function short(share: number | undefined): number | null {
  return share === undefined ? null : Math.round(share * 100) / 100;
}
