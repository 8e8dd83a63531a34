import type { Exact } from "../model/exact.ts";
import { exactOf, ONE } from "../model/exact.ts";
import type { SetDefinition } from "../model/reference-set.ts";
import type { RatingClass, Segment } from "../model/segment.ts";
import type { ReferenceSet } from "../reference/set.ts";
import { segmentsOf } from "../reference/set.ts";
import type { Aggregation } from "../scoring/aggregate.ts";
import { classesFor } from "../scoring/rate.ts";

export type MetricUse = SetDefinition["metrics"][number];

/** What a set says of one metric in a stratum. */
export interface MetricRule {
  readonly use: MetricUse;
  /** From low to high; empty when the metric has none in the stratum. */
  readonly segments: readonly Segment[];
  /** Whether it is scored in any stratum; a metric that is not counts as it is. */
  readonly isScored: boolean;
  readonly weight: Exact;
}

/** Everything that a set says of a stratum, as scoring wants it. */
export interface StratumRules {
  /** In the order of the set. */
  readonly metrics: readonly MetricRule[];
  readonly classes: readonly RatingClass[];
  /** Undefined where the index is a metric itself. */
  readonly aggregation: Aggregation | undefined;
}

/** The rules of a set for a stratum; worked out once, since every sample asks. */
export function rulesFor(set: ReferenceSet, stratum: string): StratumRules {
  let known = RULES.get(set);
  if (known === undefined) {
    known = new Map();
    RULES.set(set, known);
  }
  let rules = known.get(stratum);
  if (rules === undefined) {
    rules = makeRules(set, stratum);
    known.set(stratum, rules);
  }
  return rules;
}

const RULES = new WeakMap<ReferenceSet, Map<string, StratumRules>>();

function makeRules(set: ReferenceSet, stratum: string): StratumRules {
  return {
    metrics: set.definition.metrics.map((use) => ({
      use,
      segments: segmentsOf(set, use.id, stratum) ?? [],
      isScored: set.segments.has(use.id),
      weight: use.weight === undefined ? ONE : exactOf(use.weight),
    })),
    classes: classesFor(set.classes, stratum),
    aggregation: aggregationOf(set),
  };
}

function aggregationOf(set: ReferenceSet): Aggregation | undefined {
  const { index } = set.definition;
  if (index.method === "metric") return undefined;
  return {
    method: index.method,
    missing: index.missing_metric,
    ...(index.scale_to === undefined ? {} : { scaleTo: exactOf(index.scale_to) }),
    ...(index.best_sum === undefined ? {} : { bestSum: exactOf(index.best_sum) }),
  };
}

/**
 * The set by which a reference sample is compared with itself: its index is neither a percentage of another nor
 * rounded.
 */
export function asItsOwnReference(set: ReferenceSet): ReferenceSet {
  let plain = PLAIN.get(set);
  if (plain === undefined) {
    const { definition } = set;
    const index = { ...definition.index, percent_of_reference: false, round_to: undefined };
    plain = { ...set, definition: { ...definition, index } };
    PLAIN.set(set, plain);
  }
  return plain;
}

const PLAIN = new WeakMap<ReferenceSet, ReferenceSet>();
