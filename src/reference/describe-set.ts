import type { Exact } from "../model/exact.ts";
import { equalExact, toNumber } from "../model/exact.ts";
import { numberText } from "../model/number-text.ts";
import type { SetDefinition } from "../model/reference-set.ts";
import type { Limit, RatingClass, Segment } from "../model/segment.ts";
import { ratingClassesOf } from "./rating-classes.ts";
import type { ReferenceSet } from "./set.ts";
import { sourceOf } from "./set.ts";
import type { Source } from "./shared-sources.ts";

/** One fact of a set, for the page and for rows. */
export interface SetFact {
  readonly part:
    | "about"
    | "check"
    | "method"
    | "metric"
    | "threshold"
    | "index"
    | "rating"
    | "source"
    | "caution";
  readonly name: string;
  /** Empty where it holds for all. */
  readonly stratum: string;
  readonly value: string;
}

const HOW = {
  reproduced: "published answers reproduce",
  seen: "read in a document named under sources",
  memory: "recalled from memory; check before use",
  own: "our own decision where the publication is silent",
  invented: "made up",
} as const;

/** Everything that is to be said of a set, in the order of its page. */
export function describeSet(set: ReferenceSet, sources: ReadonlyMap<string, Source>): SetFact[] {
  const { definition } = set;
  const facts: SetFact[] = [];
  const say = (part: SetFact["part"], name: string, value: string | undefined, stratum = ""): void => {
    if (value !== undefined && value !== "") facts.push({ part, name, stratum, value });
  };
  say("about", "calibrated for", definition.calibrated_for);
  say("about", "region", definition.region);
  say(
    "about",
    "season",
    definition.season && `${definition.season.from} to ${definition.season.to} (month-day)`,
  );
  say("about", "gear", definition.gear);
  for (const { id, title, note } of definition.strata) {
    say("about", "stratum", [title, note].filter((part) => part !== undefined).join("; "), id);
  }
  const { based_on: origin } = definition;
  if (origin !== undefined)
    say(
      "about",
      "based on",
      `${origin.id} ${origin.version}; how that was checked says nothing of what was changed since`,
    );
  say("about", "folder", set.folder);
  say("about", "hash", set.hash);
  say("check", "verification", `${definition.verification}: ${definition.verification_note}`);
  for (const { part, how, note } of definition.checks) {
    say("check", part, note === undefined ? HOW[how] : `${HOW[how]}: ${note}`);
  }
  say(
    "method",
    "names",
    definition.naming === "groups" ? "the set's own groups, as they are called" : undefined,
  );
  say("method", "level", levelText(definition));
  say("method", "count rule", countRuleText(definition));
  say("method", "large and rare", definition.large_rare === "richness" ? "count as taxa only" : "left out");
  say("method", "ambiguous parents", definition.parents);
  for (const { taxon, life_stage: stage, policy, reason } of definition.count_policy) {
    say("method", policy, `${taxon}${stage === undefined ? "" : ` (${stage})`}: ${reason}`);
  }
  for (const [attribute, table] of set.attributes) {
    say("method", attribute.replaceAll("_", " "), `${table.scheme.scheme} (${table.values.size} values)`);
  }
  for (const [attribute, list] of set.attributesNotHeld) {
    say("method", attribute.replaceAll("_", " "), `not held: ${list}`);
  }
  for (const use of definition.metrics) say("metric", use.id, metricText(use));
  for (const [metric, byStratum] of set.segments) {
    const texts = [...byStratum].map(
      ([stratum, segments]) => [stratum, segments.map(segmentText).join("; ")] as const,
    );
    const isAlike =
      texts.length === definition.strata.length && new Set(texts.map(([, value]) => value)).size === 1;
    for (const [stratum, value] of isAlike ? texts.slice(0, 1) : texts)
      say("threshold", metric, value, isAlike ? "" : stratum);
  }
  say("index", "method", indexText(definition));
  say("index", "unit", `${definition.index.unit}; higher is ${definition.index.higher_is}`);
  const tables = [
    { ...definition.ratings, title: definition.ratings.title ?? "" },
    ...definition.other_ratings,
  ];
  tables.forEach((table, at) => {
    if (tables.length > 1) say("rating", at === 0 ? "table" : "another table", `${table.id}: ${table.title}`);
    else say("rating", "note", table.title);
    for (const one of ratingClassesOf(table.classes)) say("rating", one.rating, classText(one), one.stratum);
    if (table.classes.length === 0) say("rating", "classes", "none are held: an index without a rating");
  });
  for (const id of definition.sources) {
    const source = sourceOf(set, sources, id);
    say("source", id, source === undefined ? "not in sources.csv" : `${source.citation} [${source.howSeen}]`);
  }
  for (const caution of definition.cautions) say("caution", "caution", caution);
  return facts;
}

/** The level of identification in words. */
export function levelText({ level }: SetDefinition): string {
  const rank = level.rank === "as-named" ? "as named" : level.rank;
  const exceptions = level.exceptions.map((one) => `${one.taxon} to ${one.rank}`);
  return exceptions.length === 0 ? rank : `${rank} (${exceptions.join(", ")})`;
}

/** The count rule in words. */
export function countRuleText({ count_rule: rule }: SetDefinition): string {
  const target = rule.target === null ? "no fixed count" : `${rule.target} animals${withinText(rule)}`;
  if (rule.least === null) return target;
  return `${target}; at least ${rule.least}, below that ${rule.below_least === "flag" ? "the index is doubtful" : "no index"}`;
}

function withinText({ within_percent: within, draw_above }: SetDefinition["count_rule"]): string {
  if (within === undefined) return "";
  return ` within ${within} percent${draw_above === "range" ? ", drawn only above that" : ""}`;
}

function metricText(use: SetDefinition["metrics"][number]): string {
  const settings = Object.entries(use.settings).map(([key, value]) => `${key} ${JSON.stringify(value)}`);
  return [
    use.metric ?? use.id,
    ...(settings.length === 0 ? [] : [`with ${settings.join(", ")}`]),
    ...(use.round_to === undefined ? [] : [`rounded to ${use.round_to} decimals`]),
    ...(use.weight === undefined ? [] : [`weight ${numberText(use.weight)}`]),
    ...(use.adjust === undefined
      ? []
      : [`less ${numberText(use.adjust.slope)} x (${use.adjust.covariate} - ${numberText(use.adjust.at)})`]),
    ...(use.tie_rule === undefined
      ? []
      : [`published with a gap; a value in it takes the score ${tieText(use.tie_rule)}`]),
    ...(use.note === undefined ? [] : [use.note]),
  ].join("; ");
}

/** The tie rule of a gap in words. */
export function tieText(rule: "below" | "above" | "middle"): string {
  return rule === "middle" ? "nearest to the middle of the scores" : `of the segment ${rule} it`;
}

/** A segment in a few characters: "14 to 28: 3", "above 28: 5", "6 to 30: 0 to 100". */
export function segmentText(segment: Segment): string {
  const score = equalExact(segment.scoreAtLower, segment.scoreAtUpper)
    ? decimal(segment.scoreAtLower)
    : `${decimal(segment.scoreAtLower)} to ${decimal(segment.scoreAtUpper)}`;
  const moved = segment.covariate === undefined ? "" : ` (moved by ${segment.covariate})`;
  const basis = segment.basis === "value" ? "" : " percent of reference";
  return `${spanText(segment.lower, segment.upper)}${basis}${moved}: ${score}`;
}

function classText(one: RatingClass): string {
  return one.meaning === ""
    ? spanText(one.lower, one.upper)
    : `${spanText(one.lower, one.upper)}; ${one.meaning}`;
}

/** Limits in words; a limit left out is said to be above or below. */
export function spanText(lower: Limit | undefined, upper: Limit | undefined): string {
  const from =
    lower === undefined ? "" : lower.included ? `from ${limitText(lower)}` : `above ${limitText(lower)}`;
  const to =
    upper === undefined ? "" : upper.included ? `up to ${limitText(upper)}` : `below ${limitText(upper)}`;
  return (
    [from, to === "" || from === "" || upper?.included === true ? to : `to ${to}`]
      .filter((part) => part !== "")
      .join(" ") || "every value"
  );
}

function limitText(limit: Limit): string {
  if (limit.slope === undefined) return decimal(limit.at);
  return `${decimal(limit.at)} + ${decimal(limit.slope)} x covariate`;
}

function decimal(value: Exact): string {
  return numberText(toNumber(value));
}

function indexText({ index }: SetDefinition): string {
  const parts = {
    sum: "sum of the scores",
    mean: "mean of the scores",
    "weighted-mean": "weighted mean of the scores",
    "scaled-sum": `sum of the scores, scaled so that ${index.best_sum ?? ""} becomes ${index.scale_to ?? ""}`,
    metric: `the value of ${index.metric ?? ""}`,
  }[index.method];
  const missing =
    index.missing_metric === "blank" ? "a missing metric leaves no index" : "missing metrics are left out";
  return [
    parts,
    ...(index.percent_of_reference ? ["as a percentage of the reference sample's"] : []),
    ...(index.method === "metric"
      ? []
      : [missing, index.clip_scores ? "scores are clipped to their ends" : "scores are not clipped"]),
    ...(index.round_to === undefined ? [] : [`rounded to ${index.round_to} decimals`]),
  ].join("; ");
}
