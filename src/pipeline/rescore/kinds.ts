import type { Attribute, AttributeTable } from "../../model/attributes.ts";
import { simplify } from "../../model/exact.ts";
import type { SetDefinition } from "../../model/reference-set.ts";
import type { Segment } from "../../model/segment.ts";
import { LIFE_STAGES_FILE, SYNONYMS_FILE, TAXA_FILE } from "../../reference/shared-tables.ts";
import type { Side } from "./side.ts";
import { targetOf } from "./side.ts";

/**
 * Kinds of difference between two sides. Everything that a score follows from belongs to exactly one:
 * - `counts`: corrections of the rows;
 * - `names`: the lab's list, the tree, other names, which animals count, level, parents, large and rare finds;
 * - `attributes`: values of taxa in the lists that both sides use, and taxa scored as another;
 * - `metrics`: which metrics with which settings, and their thresholds by stratum;
 * - `rules`: the count rule, weights and aggregation, rounding of the index, classes.
 */
export const CHANGE_KINDS = ["counts", "names", "attributes", "metrics", "rules"] as const;
export type ChangeKind = (typeof CHANGE_KINDS)[number];

/** The kinds in which two sides differ, in the order of `CHANGE_KINDS`. */
export function differingKinds(before: Side, after: Side): ChangeKind[] {
  const differs: Readonly<Record<ChangeKind, () => boolean>> = {
    counts: () => after.amendments.length > 0,
    names: () => namesOf(before) !== namesOf(after),
    attributes: () => attributesDiffer(before, after),
    metrics: () => metricsOf(before) !== metricsOf(after),
    rules: () => rulesOf(before) !== rulesOf(after),
  };
  return CHANGE_KINDS.filter((kind) => differs[kind]());
}

function namesOf({ rows, set, shared }: Side): string {
  const { scope, naming, level, parents, large_rare, count_policy } = set.definition;
  const lab = [...(rows.lab?.entries ?? [])].map(([name, { accepted }]) => [name, accepted]);
  const tables =
    naming === "groups"
      ? [set.groups.names, [...set.groups.alsoCalled]]
      : [TAXA_FILE, SYNONYMS_FILE, LIFE_STAGES_FILE].map((file) => shared.digests.get(file));
  return JSON.stringify([scope, naming, level, parents, large_rare, count_policy, lab, tables]);
}

/** Whether a list that both sides use has other values; a list that only one side uses came with its metrics. */
function attributesDiffer(before: Side, after: Side): boolean {
  return [...before.set.attributes].some(([attribute, table]) => {
    const other = after.set.attributes.get(attribute);
    return other !== undefined && !hasSameValues(table, other);
  });
}

/** Whether two tables say the same of every taxon, in whatever order they do. */
function hasSameValues(one: AttributeTable, other: AttributeTable): boolean {
  return (
    one.scheme.direction === other.scheme.direction &&
    one.values.size === other.values.size &&
    [...one.values].every(([taxon, { text }]) => other.values.get(taxon)?.text === text) &&
    one.scoreAs.size === other.scoreAs.size &&
    [...one.scoreAs].every(([taxon, as]) => other.scoreAs.get(taxon) === as)
  );
}

function metricsOf({ set, choices }: Side): string {
  const { metrics, strata } = set.definition;
  const uses = metrics.map(({ weight: _, note: __, ...use }) => use);
  const segments = [...set.segments].map(([metric, byStratum]) => [
    metric,
    [...byStratum].map(([stratum, list]) => [stratum, list.map(segmentText)]),
  ]);
  return exactJson([uses, strata.map((one) => one.id), segments, choices.stratum ?? null]);
}

function rulesOf(side: Side): string {
  const { count_rule, index, ratings, metrics } = side.set.definition;
  const weights = metrics.map(({ id, weight }) => [id, weight ?? 1]);
  const { gaps, on } = ratings;
  const classes = ratings.classes.map(({ meaning: _, ...one }) => one);
  const { algorithm } = side.choices;
  const { target: _, ...rest } = count_rule;
  return JSON.stringify([rest, targetOf(side) ?? null, algorithm, index, gaps, on, classes, weights]);
}

/** A threshold without its place and its note: what it does. */
export function segmentText({ note: _, line: __, ...segment }: Segment): string {
  return exactJson(segment);
}

/** JSON of a value that may hold exact numbers, each in its lowest terms. */
function exactJson(value: unknown): string {
  return JSON.stringify(value, (_, part: unknown) => {
    if (typeof part === "bigint") return String(part);
    if (typeof part !== "object" || part === null || !("num" in part) || !("den" in part)) return part;
    const { num, den } = part;
    const isWhole = (one: unknown) => typeof one === "number" || typeof one === "bigint";
    if (!isWhole(num) || !isWhole(den)) return part;
    const lowest = simplify({ num, den });
    return `${lowest.num}/${lowest.den}`;
  });
}

/** Whether two indices can be compared at all; otherwise why not, in words. */
export function otherIndexKind(before: SetDefinition, after: SetDefinition): string | undefined {
  const kind = ({ index }: SetDefinition) =>
    `${index.method === "metric" ? "the value of a metric" : "made of scores"} in ${index.unit}, higher is ${index.higher_is}`;
  return kind(before) === kind(after)
    ? undefined
    : `the index is of another kind: ${kind(before)}; now ${kind(after)}`;
}

/** Attribute tables of a side, and of the other one those that the first does not have. */
export function joinedAttributes(
  own: ReadonlyMap<Attribute, AttributeTable>,
  other: ReadonlyMap<Attribute, AttributeTable>,
): Map<Attribute, AttributeTable> {
  return new Map([...other, ...own]);
}
