import { numberText } from "../model/number-text.ts";
import { compareCodePoints } from "../model/order.ts";
import type { SetDefinition } from "../model/reference-set.ts";
import { segmentText, spanText } from "./describe-set.ts";
import { ratingClassesOf } from "./rating-classes.ts";
import type { ReferenceSet } from "./set.ts";

/** One thing in which two sets differ. */
export interface SetDifference {
  readonly part:
    | "about"
    | "method"
    | "metric"
    | "threshold"
    | "index"
    | "rating"
    | "attribute"
    | "value"
    | "group";
  /** Empty where it holds for all. */
  readonly stratum: string;
  readonly name: string;
  readonly change: "changed" | "only-first" | "only-second";
  /** Empty where one of the sets has nothing. */
  readonly first: string;
  readonly second: string;
}

type Part = SetDifference["part"];

/** Keys of set.json that say what a set is, not how it scores. */
const ABOUT: ReadonlySet<string> = new Set([
  "id",
  "title",
  "version",
  "summary",
  "sources",
  "verification",
  "verification_note",
  "checks",
  "calibrated_for",
  "region",
  "cautions",
  "season",
  "gear",
  "based_on",
]);

/**
 * Everything in which two sets differ, row by row: descriptions, rules, metrics and settings, every segment, every
 * class, every attribute value. In the order of the first set, then what only the second has.
 */
export function compareSets(first: ReferenceSet, second: ReferenceSet): SetDifference[] {
  const [a, b] = [entriesOf(first), entriesOf(second)];
  const differences: SetDifference[] = [];
  for (const [key, entry] of a) {
    const other = b.get(key);
    if (other?.value === entry.value) continue;
    const change = other === undefined ? "only-first" : "changed";
    const { part, stratum, name, value } = entry;
    differences.push({ part, stratum, name, change, first: value, second: other?.value ?? "" });
  }
  for (const [key, { part, stratum, name, value }] of b) {
    if (!a.has(key))
      differences.push({ part, stratum, name, change: "only-second", first: "", second: value });
  }
  const order = PARTS.indexOf.bind(PARTS);
  // Array.prototype.sort is stable: within a part the order of the sets is kept.
  return differences.sort((x, y) => order(x.part) - order(y.part));
}

const PARTS: readonly Part[] = [
  "about",
  "method",
  "metric",
  "threshold",
  "index",
  "rating",
  "attribute",
  "value",
  "group",
];

interface Entry {
  readonly part: Part;
  readonly stratum: string;
  readonly name: string;
  readonly value: string;
}

function entriesOf(set: ReferenceSet): Map<string, Entry> {
  const entries = new Map<string, Entry>();
  const say = (part: Part, name: string, value: string, stratum = ""): void => {
    entries.set(JSON.stringify([part, stratum, name]), { part, stratum, name, value });
  };
  const { definition } = set;
  const {
    metrics,
    index,
    ratings,
    other_ratings: others,
    attributes,
    strata,
    count_policy: policy,
    ...rest
  } = definition;
  for (const [key, value] of Object.entries(rest)) {
    if (key === "$schema") continue;
    flatten(key, value, (name, text) => say(ABOUT.has(key) ? "about" : "method", name, text));
  }
  for (const { id, title } of strata) say("method", "stratum", title, id);
  for (const one of policy)
    say(
      "method",
      `count policy of ${one.taxon}${one.life_stage === undefined ? "" : ` (${one.life_stage})`}`,
      one.policy,
    );
  for (const { id, ...use } of metrics)
    flatten(id, { metric: id, ...use }, (name, text) => say("metric", name, text));
  for (const [metric, byStratum] of set.segments) {
    for (const [stratum, segments] of byStratum) {
      for (const [at, segment] of segments.entries())
        say("threshold", `${metric} ${at + 1}`, segmentText(segment), stratum);
    }
  }
  flatten("index", index, (name, text) => say("index", name, text));
  for (const table of [ratings, ...others]) sayRatings(table, say);
  for (const [attribute, choice] of Object.entries(attributes)) {
    if ("held" in choice) flatten(attribute, choice, (name, text) => say("attribute", name, text));
  }
  for (const [attribute, table] of set.attributes) {
    // Whether a list stands in the set or among the shared tables is no difference: it holds the same.
    const { scheme: list, level, min, max, direction, region, sourceId: source } = table.scheme;
    flatten(attribute, { list, level, min, max, direction, region, source }, (name, text) =>
      say("attribute", name, text),
    );
    for (const taxon of [...table.values.keys()].sort(compareCodePoints)) {
      say("value", `${attribute} of ${taxon}`, plain(table.values.get(taxon)?.text ?? ""));
    }
    for (const [taxon, target] of table.scoreAs) say("value", `${taxon} scored as`, target);
  }
  for (const name of set.groups.names) say("group", name, "group");
  for (const [name, group] of set.groups.alsoCalled) say("group", name, `another name of ${group}`);
  return entries;
}

function sayRatings(
  table: SetDefinition["ratings"],
  say: (part: Part, name: string, value: string, stratum?: string) => void,
): void {
  say("rating", `${table.id} on`, table.on);
  say("rating", `${table.id} gaps`, table.gaps);
  for (const one of ratingClassesOf(table.classes)) {
    say("rating", `${table.id} ${one.rating}`, spanText(one.lower, one.upper), one.stratum);
  }
}

/** Every leaf of a value with its path; lists of plain values are one leaf. */
function flatten(path: string, value: unknown, leaf: (path: string, text: string) => void): void {
  if (value === undefined) return;
  if (typeof value !== "object" || value === null)
    leaf(path, typeof value === "string" ? value : JSON.stringify(value));
  else if (Array.isArray(value) && value.every((one) => typeof one !== "object"))
    leaf(path, value.join(", "));
  else for (const [key, inner] of Object.entries(value)) flatten(`${path}.${key}`, inner, leaf);
}

/** 4.0 and 4 are the same value. */
function plain(text: string): string {
  return /^-?\d+(\.\d+)?$/.test(text) ? numberText(Number(text)) : text;
}
