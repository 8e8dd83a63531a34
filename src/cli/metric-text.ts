import type { MetricEntry, MetricExample, MetricReference } from "../metrics/define.ts";
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
    ["needs", entry.needs.length === 0 ? "counts" : entry.needs.join(", ")],
    ["no animals", entry.whenEmpty === "zero" ? "gives 0" : "gives no value"],
    ["stress", STRESS[entry.stress]],
    ...(also.length === 0 ? [] : [["also called", also.join(", ")] as const]),
  ];
  return [
    `${entry.id}: ${entry.name}`,
    wrap(entry.summary, WIDTH).join("\n"),
    definitionList(facts, WIDTH),
    `Worked values\n${entry.examples.map(exampleText).join("\n")}`,
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

function exampleText(example: MetricExample): string {
  const sheet = example.sheet.map((row) => `${row.taxon} ${row.count}`).join(", ");
  const head = example.sheetName === "" ? sheet : `${example.sheetName}: ${sheet}`;
  return [...wrap(head, WIDTH - 2), ...wrap(example.working, WIDTH - 4).map((line) => `  ${line}`)]
    .map((line) => `  ${line}`)
    .join("\n");
}
