import type { MetricEntry, MetricExample, MetricReference } from "../metrics/define.ts";
import type { SettingText } from "../metrics/setting-list.ts";
import { listFilterSettings, listSettings, takesFilters } from "../metrics/setting-list.ts";
import { ATTRIBUTES } from "../model/attributes.ts";
import { numberText } from "../model/number-text.ts";
import { definitionList, wrap } from "./wrap.ts";

const WIDTH = 80;
const STRESS = {
  falls: "falls when a stream gets worse",
  rises: "rises when a stream gets worse",
  varies: "may rise or fall when a stream gets worse",
} as const;

/** Everything about one metric, as a page for a person. */
export function describeMetric(entry: MetricEntry): string {
  const also = entry.alsoCalled ?? [];
  const facts: (readonly [string, string])[] = [
    ["formula", entry.formula],
    ["unit", entry.unit],
    ["range", rangeText(entry)],
    ["needs", entry.needs.length === 0 ? "names only" : entry.needs.join(", ")],
    ["no animals", entry.whenEmpty === "zero" ? "gives 0" : "gives no value"],
    ["stress", STRESS[entry.stress]],
    ...(also.length === 0 ? [] : [["also called", also.join(", ")] as const]),
  ];
  return [
    `${entry.id}: ${entry.name}`,
    wrap(entry.summary, WIDTH).join("\n"),
    definitionList(facts, WIDTH),
    ...settingsText(settingsOf(entry)),
    `Worked values\n${entry.examples.map((example) => exampleText(entry, example)).join("\n")}`,
    `Sources\n${entry.references.flatMap((one) => wrap(referenceText(one), WIDTH - 2).map((line) => `  ${line}`)).join("\n")}`,
  ].join("\n\n");
}

export function rangeText(entry: MetricEntry): string {
  const [low, high] = entry.range;
  if (high === Number.POSITIVE_INFINITY) {
    return low === Number.NEGATIVE_INFINITY ? "any number" : `${numberText(low)} and above`;
  }
  return `${low === Number.NEGATIVE_INFINITY ? "any" : numberText(low)} to ${numberText(high)}`;
}

export function referenceText(reference: MetricReference): string {
  return `${reference.citation}${reference.verified === "seen" ? "" : " (definition recalled from memory)"}`;
}

/** Its own settings first, then those that choose taxa, which most metrics share. */
function settingsOf(entry: MetricEntry): SettingText[] {
  const own = listSettings(entry.settings, false);
  return takesFilters(entry.settings) ? [...own, ...listFilterSettings()] : own;
}

function settingsText(settings: readonly SettingText[]): string[] {
  if (settings.length === 0) return [];
  const lines = settings.map(({ name, takes, byDefault, description }): readonly [string, string] => [
    name,
    `${description} (${takes}${byDefault === undefined ? "" : `, otherwise ${byDefault}`})`,
  ]);
  return [`Settings\n${definitionList(lines, WIDTH)}`];
}

function exampleText(entry: MetricEntry, example: MetricExample): string {
  // The values that the arithmetic needs stand behind the counts: "Baetis 18 (5)".
  const tables = ATTRIBUTES.filter((attribute) => entry.needs.includes(attribute)).map(
    (attribute) => example.attributes[attribute] ?? {},
  );
  const sheet = example.sheet
    .map(({ taxon, count }) => {
      const values = tables.flatMap((table) => table[taxon] ?? []);
      return `${taxon} ${count}${values.length === 0 ? "" : ` (${values.join(", ")})`}`;
    })
    .join(", ");
  const head = example.sheetName === "" ? sheet : `${example.sheetName}: ${sheet}`;
  const settings = Object.keys(example.settings).length === 0 ? [] : [JSON.stringify(example.settings)];
  return [head, ...settings]
    .flatMap((text) => wrap(text, WIDTH - 2))
    .concat(wrap(example.working, WIDTH - 4).map((line) => `  ${line}`))
    .map((line) => `  ${line}`)
    .join("\n");
}
