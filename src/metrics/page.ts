import { numberText } from "../model/number-text.ts";
import type { MetricEntry, MetricExample, MetricReference } from "./define.ts";
import type { MetricTheme } from "./registry.ts";
import type { SettingText } from "./setting-list.ts";
import { listFilterSettings, listSettings, takesFilters } from "./setting-list.ts";
import { DITCH, RIFFLE } from "./worked-sheets.ts";

/**
 * The reference page of the catalogue in Markdown, the same bytes for the same catalogue.
 *
 * @param themes the chapters, in the order in which they are printed
 */
export function metricsPage(themes: readonly MetricTheme[]): string {
  const entries = themes.flatMap((theme) => theme.entries);
  return [
    "# Metrics",
    "Written from the catalogue by its test (`UPDATE_DOCS=1`); changes made here are lost.",
    `${entries.length} metrics that a reference set may ask for. A set names a metric and its settings in \`set.json\`:`,
    '```json\n{ "id": "percent_tolerant", "metric": "percent_tolerant", "settings": { "limit": 7 }, "round_to": 1 }\n```',
    INTRODUCTION,
    "## Contents",
    themes
      .map(({ title, entries: chapter }) => `- ${title}: ${chapter.map(({ id }) => `\`${id}\``).join(", ")}`)
      .join("\n"),
    "## Settings that choose taxa",
    "Most metrics take these. All that are given must hold, and what the metric looks at by itself holds as well: `ept_richness` with `within: Baetidae` counts Baetidae only. A filter that no taxon of the whole tree passes is refused when the set is loaded.",
    settingsTable(listFilterSettings()),
    "## The sheets of the worked values",
    "Counts and attribute values are made up for easy arithmetic.",
    sheetsTable(),
    ...themes.flatMap(({ title, entries: chapter }) => [`## ${title}`, ...chapter.map(entryText)]),
  ]
    .join("\n\n")
    .concat("\n");
}

const INTRODUCTION = `How the catalogue answers what methods leave open:

- Percentages run from 0 to 100, shares from 0 to 1. Animals without an attribute value stay in the whole of a percentage and are in neither sum of a mean.
- A parent beside its finer taxa adds animals and no taxon, unless the set deals with parents in another way. It is a name of its own in dominance and diversity.
- Taxa found only in the search for large and rare animals are taxa of richness where the set says so, and nothing of percentages, means, dominance and evenness.
- A row that stands for several taxa (a volunteer's tally) counts as many in richness and once in scores.
- Among equally numerous taxa the one whose name comes first goes first.
- Counts, percentages, ratios, means and Simpson's values are exact fractions, and limits are decided on them. Where parents were distributed among their children counts are fractional, and such values are rounded to nine decimals.
- A value that cannot be worked out is missing, with the reason; it is never 0 instead.

A metric says nothing by itself about the state of a stream: its value has a meaning only by the method, region, season, gear and level for which a set was made.`;

function entryText(entry: MetricEntry): string {
  const own = listSettings(entry.settings, false);
  return [
    `### \`${entry.id}\``,
    `**${entry.name}**${alsoCalled(entry)}. ${entry.summary}`,
    [
      `- Formula: ${entry.formula}`,
      `- Unit: ${entry.unit}; ${rangeText(entry.range)}; without animals ${entry.whenEmpty === "zero" ? "0" : "missing"}`,
      `- Needs: ${entry.needs.length === 0 ? "names only" : entry.needs.join(", ")}`,
      `- Under stress it ${entry.stress}; when all counts are multiplied it ${MULTIPLIED[entry.whenMultiplied]}`,
      `- Settings: ${settingsText(entry, own)}`,
    ].join("\n"),
    ...(own.length === 0 ? [] : [settingsTable(own)]),
    `Worked values:\n\n${entry.examples.map(exampleText).join("\n")}`,
    `Sources:\n\n${entry.references.map(referenceText).join("\n")}`,
  ].join("\n\n");
}

const MULTIPLIED = {
  same: "stays the same",
  proportional: "is multiplied as well",
  changes: "changes",
} as const;

function alsoCalled({ alsoCalled: names = [] }: MetricEntry): string {
  return names.length === 0 ? "" : ` (also ${names.join(", ")})`;
}

function rangeText([least, most]: readonly [number, number]): string {
  if (most === Number.POSITIVE_INFINITY)
    return least === Number.NEGATIVE_INFINITY ? "any number" : `${numberText(least)} and above`;
  return `${numberText(least)} to ${numberText(most)}`;
}

function settingsText(entry: MetricEntry, own: readonly SettingText[]): string {
  const filters = takesFilters(entry.settings) ? "those that choose taxa" : "";
  if (own.length === 0) return filters === "" ? "none" : filters;
  return filters === "" ? "these" : `${filters}, and these`;
}

function settingsTable(settings: readonly SettingText[]): string {
  return table(
    ["setting", "takes", "by default", "meaning"],
    settings.map(({ name, takes, byDefault, description }) => [
      `\`${name}\``,
      takes,
      byDefault === undefined ? "" : `\`${byDefault}\``,
      description,
    ]),
  );
}

function exampleText(example: MetricExample): string {
  const sheet =
    example.sheetName === ""
      ? example.sheet
          .map(({ taxon, count, richness }) => `${taxon} ${count}${richnessText(richness)}`)
          .join(", ")
      : `the ${example.sheetName}`;
  const facts = [
    ...(Object.keys(example.settings).length === 0 ? [] : [`\`${JSON.stringify(example.settings)}\``]),
    ...CONTEXT_WORDS.map(([fact, words]) => [words, example.context[fact]] as const)
      .filter(([, value]) => value !== undefined)
      .map(([words, value]) => `${words} ${value}`),
    ...(example.reference === undefined
      ? []
      : [`reference ${example.reference.map(({ taxon, count }) => `${taxon} ${count}`).join(", ")}`]),
    ...(example.sheetName === "" ? attributeFacts(example) : []),
  ];
  const withFacts = facts.length === 0 ? "" : ` with ${facts.join("; ")}`;
  return `- ${capital(sheet)}${withFacts}: ${example.working}`;
}

const CONTEXT_WORDS = [
  ["estimatedTotal", "estimated total"],
  ["fractionSorted", "fraction sorted"],
  ["areaSampledM2", "area sampled"],
] as const;

function richnessText(richness: number | undefined): string {
  if (richness === undefined || richness === 1) return "";
  return richness === 0 ? " (a parent)" : ` (${richness} taxa)`;
}

function attributeFacts({ attributes }: MetricExample): string[] {
  return Object.entries(attributes).map(
    ([attribute, values]) =>
      `${attribute.replaceAll("_", " ")} ${Object.entries(values)
        .map(([taxon, value]) => `${taxon} ${value}`)
        .join(", ")}`,
  );
}

function referenceText({ citation, verified }: MetricReference): string {
  return `- ${citation}${verified === "memory" ? " [from memory]" : ""}`;
}

function sheetsTable(): string {
  const taxa = [...new Set([...RIFFLE, ...DITCH].map(({ taxon }) => taxon))];
  return table(
    ["taxon", "riffle", "ditch", "tolerance", "feeding group", "habit", "life cycle", "origin"],
    taxa.map((taxon) => {
      const [riffle, ditch] = [RIFFLE, DITCH].map((sheet) => sheet.find((entry) => entry.taxon === taxon));
      const entry = riffle ?? ditch;
      const texts = [entry?.tolerance, entry?.feedingGroup, entry?.habit, entry?.lifeCycle, entry?.origin];
      return [
        taxon,
        String(riffle?.count ?? ""),
        String(ditch?.count ?? ""),
        ...texts.map((text) => text ?? ""),
      ];
    }),
  );
}

function table(header: readonly string[], rows: readonly (readonly string[])[]): string {
  return [header, header.map(() => "---"), ...rows].map((cells) => `| ${cells.join(" | ")} |`).join("\n");
}

function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}
