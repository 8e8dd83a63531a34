import type { Exact } from "../../model/exact.ts";
import { simplify, subtract, toNumber } from "../../model/exact.ts";
import { numberText } from "../../model/number-text.ts";
import { compareCodePoints } from "../../model/order.ts";
import type { Segment } from "../../model/segment.ts";
import { RUN_FILES } from "../../runs/run-files.ts";
import { explainSample } from "../explain/explain-sample.ts";
import type { MetricStory } from "../explain/metric-story.ts";
import type { AttributeTrail, SampleStory } from "../explain/story.ts";
import { valueText } from "../explain/words.ts";
import type { AttributeSource } from "./attribute-place.ts";
import { attributePlace } from "./attribute-place.ts";
import { HybridMaker } from "./hybrid.ts";
import type { ChangeKind } from "./kinds.ts";
import { CHANGE_KINDS, segmentText } from "./kinds.ts";
import { limitsText } from "./limits-text.ts";
import type { RescoredRun } from "./rescore-runs.ts";
import { ruleDifferences } from "./rule-differences.ts";
import type { Side } from "./side.ts";
import { sideOf } from "./side.ts";
import { withMetricOf, withValueOf } from "./single-change.ts";

/** One row that is another: of a table, of the sheets, of the set. */
export interface WhyRow {
  readonly cause: ChangeKind | "result";
  /** What it is about: a taxon, a metric, a name, a rule. */
  readonly item: string;
  /** What of it: an attribute, a threshold, a value. */
  readonly what: string;
  readonly before: string;
  readonly after: string;
  /** Where it stands; empty when it stands in no row. */
  readonly placeBefore: string;
  readonly placeAfter: string;
  /** What the index would change by if this row alone were changed; undefined where that was not worked out. */
  readonly alone?: Exact | undefined;
}

/**
 * Goes down to the rows behind the change of one sample: corrections, names that became another taxon or do not
 * count any more, values of taxa, thresholds, rules; and at the end what became of each metric and of the index.
 *
 * @returns undefined when the run has no such sample
 */
export function whySample(rescored: RescoredRun, sampleId: string): WhyRow[] | undefined {
  const before = sideOf(rescored.run);
  const { after } = rescored;
  const maker = new HybridMaker(before, after);
  const storyOf = (applied: readonly ChangeKind[], using = maker): SampleStory | undefined => {
    const made = using.make(new Set(applied));
    return "problem" in made ? undefined : explainSample(made.batch, made.choices, sampleId);
  };
  const old = storyOf([]);
  const now = storyOf(CHANGE_KINDS);
  if (old === undefined || now === undefined) return undefined;
  const indexBefore = old.score.index;
  const alone = (changed: Side): Exact | undefined => {
    const index = storyOf([], new HybridMaker(changed, after))?.score.index;
    return index === undefined || indexBefore === undefined
      ? undefined
      : simplify(subtract(index, indexBefore));
  };
  return [
    ...correctionRows(rescored, sampleId),
    ...nameRows(old, now),
    ...attributeRows(old, now, sourcesOf(rescored), (taxon, attribute) =>
      alone(withValueOf(before, after, attribute, taxon)),
    ),
    ...thresholdRows(old, now, (metric) => alone(withMetricOf(before, after, metric))),
    ...ruleDifferences(before, after),
    ...resultRows(old, now),
  ];
}

function correctionRows({ after }: RescoredRun, sampleId: string): WhyRow[] {
  return after.amendments
    .filter((one) => one.sampleId === sampleId)
    .map(({ taxon, oldCount, newCount, reason, by, on, place }) => ({
      cause: "counts",
      item: taxon,
      what: ["count", reason, by, on].filter((text) => text !== "").join("; "),
      before: String(oldCount),
      after: String(newCount),
      placeBefore: "",
      placeAfter: `${place.file}:${place.line}`,
    }));
}

/** Names of the sheets that are another taxon now, or count now or not any more; and what they roll up to. */
function nameRows(old: SampleStory, now: SampleStory): WhyRow[] {
  const fateOf = (row: SampleStory["rows"][number]) =>
    row.fate === "counts" ? row.taxon : `${row.taxon || "no known taxon"}, ${row.fate}`;
  const rows = new Map(
    now.rows.map((row) => [`${row.place.file}:${row.place.line}:${row.place.column}`, row]),
  );
  const found: WhyRow[] = [];
  for (const row of old.rows) {
    const place = `${row.place.file}:${row.place.line}`;
    const other = rows.get(`${place}:${row.place.column}`);
    if (other === undefined || fateOf(row) === fateOf(other)) continue;
    found.push({
      cause: "names",
      item: row.written,
      what: "taken as",
      before: fateOf(row),
      after: fateOf(other),
      placeBefore: place,
      placeAfter: place,
    });
  }
  const rolled = (story: SampleStory) =>
    new Map(
      story.taxa.flatMap(({ taxon, madeOf }) => [taxon, ...madeOf].map((name) => [name, taxon] as const)),
    );
  const levels = rolled(now);
  for (const [name, taxon] of rolled(old)) {
    const other = levels.get(name);
    if (other === undefined || other === taxon) continue;
    found.push({
      cause: "names",
      item: name,
      what: "counted as",
      before: taxon,
      after: other,
      placeBefore: "",
      placeAfter: "",
    });
  }
  return found;
}

function attributeRows(
  old: SampleStory,
  now: SampleStory,
  sources: { readonly before: AttributeSource; readonly after: AttributeSource },
  alone: (taxon: string, attribute: AttributeTrail["attribute"]) => Exact | undefined,
): WhyRow[] {
  const trails = (story: SampleStory) =>
    new Map(
      story.taxa.flatMap(({ taxon, attributes }) =>
        attributes.map((trail) => [`${trail.attribute}\n${taxon}`, { taxon, trail }] as const),
      ),
    );
  const later = trails(now);
  return [...trails(old)].flatMap(([key, { taxon, trail }]): WhyRow[] => {
    const other = later.get(key)?.trail;
    if (other === undefined || other.value === trail.value) return [];
    // The row that gives the value may be that of a taxon above.
    return [
      {
        cause: "attributes",
        item: taxon,
        what: trail.attribute,
        before: trail.value || "no value",
        after: other.value || "no value",
        placeBefore: attributePlace(sources.before, trail.attribute, trail.scheme, trail.from),
        placeAfter: attributePlace(sources.after, other.attribute, other.scheme, other.from),
        alone: alone(other.from || trail.from, trail.attribute),
      },
    ];
  });
}

/** Where the values of both sides stand. */
function sourcesOf({ run, after }: RescoredRun) {
  const shownAs = (tables: string) => (tables === run.tables ? RUN_FILES.reference : "reference-tables");
  const before = { ...run, tablesShownAs: shownAs(run.tables) };
  return { before, after: { ...after, tablesShownAs: shownAs(after.tables) } };
}

/** Thresholds and settings of metrics; of each metric the rows that changed, whether or not they decided. */
function thresholdRows(
  old: SampleStory,
  now: SampleStory,
  alone: (metric: string) => Exact | undefined,
): WhyRow[] {
  const later = new Map(now.metrics.map((metric) => [metric.id, metric]));
  const earlier = new Map(old.metrics.map((metric) => [metric.id, metric]));
  const ids = [...new Set([...earlier.keys(), ...later.keys()])];
  return ids.flatMap((id): WhyRow[] => {
    const [was, is] = [earlier.get(id), later.get(id)];
    if (was === undefined || is === undefined) {
      const word = (story: MetricStory | undefined) =>
        story === undefined ? "not in the set" : "in the set";
      return [
        {
          cause: "metrics",
          item: id,
          what: "metric",
          before: word(was),
          after: word(is),
          placeBefore: "",
          placeAfter: "",
        },
      ];
    }
    const rows: WhyRow[] = [];
    const settings = (story: MetricStory) =>
      `${story.name}${story.settings === "" ? "" : `, ${story.settings}`}`;
    if (settings(was) !== settings(is))
      rows.push({
        cause: "metrics",
        item: id,
        what: "settings",
        before: settings(was),
        after: settings(is),
        placeBefore: "",
        placeAfter: "",
      });
    const gone = was.segments.filter(
      (one) => !is.segments.some((other) => segmentText(other) === segmentText(one)),
    );
    const come = is.segments.filter(
      (one) => !was.segments.some((other) => segmentText(other) === segmentText(one)),
    );
    for (let at = 0; at < Math.max(gone.length, come.length); at++) {
      const [from, to] = [gone[at], come[at]];
      rows.push({
        cause: "metrics",
        item: id,
        what: "threshold",
        before: from === undefined ? "" : limitsText(from),
        after: to === undefined ? "" : limitsText(to),
        placeBefore: thresholdPlace(old, from),
        placeAfter: thresholdPlace(now, to),
      });
    }
    // The effect is that of the whole metric: its rows hold together.
    const [first, ...rest] = rows;
    return first === undefined ? [] : [{ ...first, alone: alone(id) }, ...rest];
  });
}

function thresholdPlace({ set }: SampleStory, segment: Segment | undefined): string {
  return segment === undefined ? "" : `${set.folder}/thresholds.csv:${segment.line}`;
}

/** What became of each metric and of the index. */
function resultRows(old: SampleStory, now: SampleStory): WhyRow[] {
  const scored = ({ value, score }: MetricStory) =>
    score === undefined ? valueText(value) : `${valueText(value)}, score ${numberText(toNumber(score))}`;
  const rowOf = (
    item: string,
    what: string,
    before: string,
    after: string,
    places: readonly [string, string] = ["", ""],
  ): WhyRow => ({
    cause: "result",
    item,
    what,
    before,
    after,
    placeBefore: places[0],
    placeAfter: places[1],
  });
  const later = new Map(now.metrics.map((metric) => [metric.id, metric]));
  const earlier = new Map(old.metrics.map((metric) => [metric.id, metric]));
  const ids = [...new Set([...earlier.keys(), ...later.keys()])].sort(compareCodePoints);
  const metrics = ids.map((id) => {
    const [was, is] = [earlier.get(id), later.get(id)];
    return rowOf(
      id,
      "value and score",
      was === undefined ? "" : scored(was),
      is === undefined ? "" : scored(is),
      [thresholdPlace(old, was?.segment), thresholdPlace(now, is?.segment)],
    );
  });
  const index = ({ score }: SampleStory) =>
    score.index === undefined
      ? score.status
      : `${numberText(toNumber(score.index))}${score.rating === "" ? "" : `, ${score.rating}`}`;
  const animals = ({ score }: SampleStory) => String(score.individualsScored ?? "");
  return [
    rowOf("animals", "scored", animals(old), animals(now)),
    ...metrics,
    rowOf("index", "value and rating", index(old), index(now)),
  ];
}
