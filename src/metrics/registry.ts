import { entryOf } from "../model/entry-of.ts";
import { ABUNDANCE } from "./catalogue/abundance.ts";
import { CLASS_SCORES } from "./catalogue/class-scores.ts";
import { COMPOSITION } from "./catalogue/composition.ts";
import { COMPOSITION_BY_TRAIT } from "./catalogue/composition-traits.ts";
import { DIVERSITY } from "./catalogue/diversity.ts";
import { DOMINANCE } from "./catalogue/dominance.ts";
import { ESTIMATORS } from "./catalogue/estimators.ts";
import { PERCENT_OF_TAXA } from "./catalogue/percent-taxa.ts";
import { POINTS } from "./catalogue/points.ts";
import { RATIOS } from "./catalogue/ratios.ts";
import { RICHNESS } from "./catalogue/richness.ts";
import { RICHNESS_OF_GROUPS } from "./catalogue/richness-groups.ts";
import { RICHNESS_BY_TRAIT } from "./catalogue/richness-traits.ts";
import { SCORES } from "./catalogue/scores.ts";
import { SIMILARITY } from "./catalogue/similarity.ts";
import { SIMPSON_AND_HILL } from "./catalogue/simpson-and-hill.ts";
import { TOLERANCE } from "./catalogue/tolerance.ts";
import { closestTexts } from "./closest.ts";
import type { MetricEntry } from "./define.ts";

/** A chapter of the catalogue, for lists and for the reference page. */
export interface MetricTheme {
  readonly title: string;
  readonly entries: readonly MetricEntry[];
}

/** The catalogue by theme, in the order in which it is listed. A new metric is one entry in the file of its theme. */
export const METRIC_THEMES: readonly MetricTheme[] = [
  { title: "Richness", entries: RICHNESS },
  { title: "Richness of groups", entries: RICHNESS_OF_GROUPS },
  { title: "Richness by trait", entries: RICHNESS_BY_TRAIT },
  { title: "Percent of individuals", entries: COMPOSITION },
  { title: "Percent of individuals by trait and tolerance", entries: COMPOSITION_BY_TRAIT },
  { title: "Percent of taxa", entries: PERCENT_OF_TAXA },
  { title: "Ratios", entries: RATIOS },
  { title: "Dominance", entries: DOMINANCE },
  { title: "Tolerance over animals", entries: TOLERANCE },
  { title: "Scores of taxa", entries: SCORES },
  { title: "Scores by abundance class", entries: CLASS_SCORES },
  { title: "Points of taxa", entries: POINTS },
  { title: "Diversity and evenness", entries: DIVERSITY },
  { title: "Simpson's values and Hill's numbers", entries: SIMPSON_AND_HILL },
  { title: "Expected and estimated richness", entries: ESTIMATORS },
  { title: "Likeness to a model or a reference sample", entries: SIMILARITY },
  { title: "Abundance", entries: ABUNDANCE },
];

/** Every metric that a set may ask for. */
export const METRICS: readonly MetricEntry[] = METRIC_THEMES.flatMap(({ entries }) => entries);

const BY_ID: ReadonlyMap<string, MetricEntry> = new Map(METRICS.map((entry) => [entry.id, entry]));

/** The entry of an id, undefined when the catalogue has none. */
export function findMetric(id: string): MetricEntry | undefined {
  return BY_ID.get(id);
}

/**
 * The entry of an id that is known to be one of the catalogue, such as that of a metric of a set that was read.
 *
 * @throws RangeError when the catalogue has none
 */
export function metricOf(id: string): MetricEntry {
  return entryOf(BY_ID, id);
}

/**
 * Ids that a text which is no id may have meant, three at most: entries of which it is another name, then ids
 * that differ in a few letters, then entries that hold all its words, then those with a word close to it.
 */
export function closestMetrics(id: string): string[] {
  const wanted = key(id);
  const named = METRICS.filter((entry) => namesOf(entry).some((name) => key(name) === wanted));
  const words = wanted.split("_").filter((word) => word !== "");
  const holding = METRICS.filter((entry) => {
    const held = new Set([entry.id, ...namesOf(entry)].flatMap((name) => key(name).split("_")));
    return words.length > 0 && words.every((word) => held.has(word));
  });
  const alike = METRICS.filter(
    (entry) => words.length === 1 && closestTexts(wanted, entry.id.split("_").filter(isTelling)).length > 0,
  );
  const ids = [
    ...named.map((entry) => entry.id),
    ...closestTexts(wanted, BY_ID.keys()),
    ...holding.map((entry) => entry.id),
    ...alike.map((entry) => entry.id),
  ];
  return [...new Set(ids)].slice(0, 3);
}

/** Short words, such as "of" or "ept", are close to too many others. */
function isTelling(word: string): boolean {
  return word.length > 4;
}

function namesOf(entry: MetricEntry): string[] {
  return [entry.name, ...(entry.alsoCalled ?? [])];
}

function key(text: string): string {
  return text
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "_")
    .replaceAll(/^_|_$/g, "");
}
