import type { MetricNeed, PreparedMetric } from "../metrics/define.ts";
import { prepareMetric } from "../metrics/prepare.ts";
import { closestMetrics, findMetric } from "../metrics/registry.ts";
import type { AttributeLookup, CompiledAttribute } from "../model/attribute-lookup.ts";
import type { Attribute } from "../model/attributes.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import type { StageRule } from "../names/count-policy.ts";
import { CountPolicy } from "../names/count-policy.ts";
import type { ReferenceSet } from "../reference/set.ts";
import { compileAttribute, ScoreAsCircleError } from "../taxa/attribute-lookup.ts";
import { compileLevel } from "../taxa/level.ts";

/** One metric of a set, ready to be worked out. */
export interface SetMetric {
  readonly id: string;
  readonly roundTo: number | undefined;
  readonly prepared: PreparedMetric;
  /** What it cannot be worked out without. */
  readonly needs: readonly MetricNeed[];
  /** Smallest and largest value that can occur. */
  readonly range: readonly [number, number];
}

/** A reference set joined with the tree of one batch: everything that does not change from sample to sample. */
export interface CompiledSet {
  readonly set: ReferenceSet;
  readonly tree: TaxonTree;
  readonly attributes: AttributeLookup;
  readonly policy: CountPolicy;
  /** Number of the taxon that each taxon is rolled up to. */
  readonly levelOf: Int32Array;
  /** Families that the set's list treats as another one; none when empty. */
  readonly scoreAs: ReadonlyMap<number, number>;
  readonly metrics: readonly SetMetric[];
  /** Attributes that the metrics read, each once. */
  readonly read: ReadonlySet<Attribute>;
}

/**
 * Joins a set with a tree.
 *
 * @returns the problems in words when a metric or a setting of the set is not known
 */
export function compileSet(
  set: ReferenceSet,
  tree: TaxonTree,
  stageRules: readonly StageRule[],
): { readonly compiled: CompiledSet } | { readonly problems: readonly string[] } {
  const attributes = new Map<Attribute, CompiledAttribute>();
  const problems: string[] = [];
  for (const [attribute, table] of set.attributes) {
    try {
      attributes.set(attribute, compileAttribute(table, tree));
    } catch (error) {
      // A set is refused for this when it is read, but a re-score also joins the values of one set with the tree of another.
      if (!(error instanceof ScoreAsCircleError)) throw error;
      problems.push(`${attribute.replaceAll("_", " ")}: ${error.message}`);
    }
  }
  if (problems.length > 0) return { problems };
  const metrics: SetMetric[] = [];
  for (const use of set.definition.metrics) {
    const name = use.metric ?? use.id;
    const entry = findMetric(name);
    if (entry === undefined) {
      const close = closestMetrics(name);
      problems.push(
        `metric "${name}" is not in the catalogue${close.length === 0 ? "" : `; close names: ${close.join(", ")}`}`,
      );
      continue;
    }
    const prepared = prepareMetric(entry, use.settings, { tree, attributes });
    if ("problems" in prepared)
      problems.push(...prepared.problems.map((problem) => `metric "${use.id}": ${problem}`));
    else {
      const { needs, range } = entry;
      metrics.push({ id: use.id, roundTo: use.round_to, prepared: prepared.metric, needs, range });
    }
  }
  if (problems.length > 0) return { problems };
  const { level, count_policy: overrides } = set.definition;
  return {
    compiled: {
      set,
      tree,
      attributes,
      policy: new CountPolicy(tree, stageRules, overrides),
      levelOf: compileLevel(level, tree),
      scoreAs: scoreAsOf(set, tree),
      metrics,
      read: new Set(metrics.flatMap(({ prepared }) => prepared.attributes)),
    },
  };
}

function scoreAsOf(set: ReferenceSet, tree: TaxonTree): Map<number, number> {
  const merged = new Map<number, number>();
  for (const table of set.attributes.values()) {
    for (const [from, to] of table.scoreAs) {
      const [a, b] = [tree.numberOf(from), tree.numberOf(to)];
      if (a !== undefined && b !== undefined) merged.set(a, b);
    }
  }
  return merged;
}
