import { FindingCollector } from "../findings/collector.ts";
import type { Finding } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import { prepareMetric } from "../metrics/prepare.ts";
import { closestMetrics, findMetric } from "../metrics/registry.ts";
import { CountPolicy } from "../names/count-policy.ts";
import { compileAttribute } from "../taxa/attribute-lookup.ts";
import { coarserThanLevel, compileLevel } from "../taxa/level.ts";
import { reachFaults } from "./check-reach.ts";
import type { TablesToCheck } from "./check-tables.ts";
import { checkAttributeTable } from "./check-tables.ts";
import type { SetFolder } from "./folder.ts";
import { nameSpaceOf } from "./name-space.ts";
import type { ReadSet } from "./read-set.ts";
import { readSet } from "./read-set.ts";
import { sourceOf } from "./set.ts";

/** One thing that is checked of a set. */
interface SetCheck {
  readonly id: string;
  /** What holds when nothing is found. */
  readonly holds: string;
  readonly find: (read: ReadSet, tables: TablesToCheck) => Finding[];
}

/** What one check found. */
export interface CheckResult {
  readonly check: string;
  readonly holds: string;
  readonly findings: readonly Finding[];
}

const CHECKS: readonly SetCheck[] = [
  {
    id: "stated-gaps",
    holds: "no gap is left as the publication left it",
    find: (read) => [...read.stated],
  },
  {
    id: "thresholds",
    holds: "every metric that is scored has thresholds in every stratum",
    find: missingThresholds,
  },
  { id: "reach", holds: "every index that can come about has a class", find: (read) => reachFaults(read) },
  { id: "metrics", holds: "every metric and setting is known", find: unknownMetrics },
  {
    id: "attributes",
    holds: "every shared attribute table it uses is in order",
    find: (read, tables) =>
      Object.values(read.set.definition.attributes).flatMap((choice) =>
        "scheme" in choice ? checkAttributeTable(choice.scheme, tables) : [],
      ),
  },
  {
    id: "values",
    holds: "every taxon of its level has a value of each attribute it uses",
    find: missingValues,
  },
  { id: "sources", holds: "every source is cited", find: missingCitations },
];

/**
 * Checks a set: everything that reading finds (`form`, `spans`), then one check after the other. A set that
 * cannot be used is not checked further.
 *
 * @throws FileError when set.json or thresholds.csv cannot be read
 */
export async function checkSet(folder: SetFolder, tables: TablesToCheck): Promise<CheckResult[]> {
  const found = new FindingCollector();
  const read = await readSet(folder, tables.shared, found);
  const spans = found.all.filter((one) => one.code === "set-gap" || one.code === "set-overlap");
  const form = found.all.filter((one) => !spans.includes(one));
  const results: CheckResult[] = [
    {
      check: "form",
      holds: "set.json and its tables can be read, and their names are known",
      findings: form,
    },
  ];
  if (read === undefined) return results;
  results.push({
    check: "spans",
    holds: "no gap and no overlap between segments or classes",
    findings: spans,
  });
  for (const { id, holds, find } of CHECKS) results.push({ check: id, holds, findings: find(read, tables) });
  return results;
}

function missingThresholds({ set, definition: { placeOf } }: ReadSet): Finding[] {
  const { definition } = set;
  return definition.metrics.flatMap((use, at) => {
    const byStratum = set.segments.get(use.id);
    const place = placeOf("metrics", at, "id");
    if (byStratum === undefined) {
      // A set without thresholds, or an index that is one metric's value, needs none.
      if (set.segments.size === 0 || definition.index.method === "metric") return [];
      const message = `${use.id} has no thresholds and enters the index as it is, beside metrics that are scored`;
      return [finding("no-thresholds", place, { message })];
    }
    const without = definition.strata.filter((stratum) => !byStratum.has(stratum.id));
    if (without.length === 0) return [];
    const message = `${use.id} has no thresholds in ${without.map((stratum) => stratum.id).join(", ")}`;
    return [finding("no-thresholds", place, { message })];
  });
}

function unknownMetrics({ set, definition: { placeOf } }: ReadSet, { shared }: TablesToCheck): Finding[] {
  const { tree } = nameSpaceOf(set, shared);
  const attributes = new Map(
    [...set.attributes].map(([kind, table]) => [kind, compileAttribute(table, tree)]),
  );
  return set.definition.metrics.flatMap((use, at): Finding[] => {
    const name = use.metric ?? use.id;
    const entry = findMetric(name);
    const place = placeOf("metrics", at);
    if (entry === undefined) {
      const close = closestMetrics(name);
      const near = close.length === 0 ? "" : `; close names: ${close.join(", ")}`;
      return [finding("bad-set", place, { message: `metric "${name}" is not in the catalogue${near}` })];
    }
    // What a list that is not held would say is not known here; the settings are checked when one is named.
    if (entry.needs.some((need) => [...set.attributesNotHeld.keys()].some((kind) => kind === need)))
      return [];
    const prepared = prepareMetric(entry, use.settings, { tree, attributes });
    if (!("problems" in prepared)) return [];
    return prepared.problems.map((problem) =>
      finding("bad-set", place, { message: `metric "${use.id}": ${problem}` }),
    );
  });
}

function missingValues({ set, definition: { placeOf } }: ReadSet, { shared }: TablesToCheck): Finding[] {
  const { definition, attributes } = set;
  const { tree, stageRules } = nameSpaceOf(set, shared);
  const policy = new CountPolicy(tree, stageRules, definition.count_policy);
  const levelOf = compileLevel(definition.level, tree);
  const isCoarse = coarserThanLevel(definition.level, tree);
  const findings: Finding[] = [];
  for (const [attribute, table] of attributes) {
    const { has } = compileAttribute(table, tree);
    const place = placeOf("attributes", attribute);
    for (let taxon = 1; taxon < tree.size; taxon++) {
      if (levelOf[taxon] !== taxon || isCoarse[taxon] === 1 || has[taxon] === 1) continue;
      if (policy.decide(taxon, "unknown", false).policy !== "count") continue;
      const message = `${attribute.replaceAll("_", " ")} of ${tree.nameOf(taxon)}`;
      findings.push(finding("no-value-at-level", place, { message }));
    }
  }
  return findings;
}

function missingCitations(
  { set, definition: { placeOf }, taxa, taxaFile }: ReadSet,
  { shared }: TablesToCheck,
): Finding[] {
  const isCited = (id: string) => id === "" || (sourceOf(set, shared.sources, id)?.citation ?? "") !== "";
  const message = (id: string) => `"${id}" is not in sources.csv`;
  const findings = set.definition.sources.flatMap((id, at) =>
    isCited(id) ? [] : [finding("no-citation", placeOf("sources", at), { message: message(id) })],
  );
  for (const [attribute, choice] of Object.entries(set.definition.attributes)) {
    if (!("own" in choice) || choice.source === undefined || isCited(choice.source)) continue;
    findings.push(
      finding("no-citation", placeOf("attributes", attribute, "source"), { message: message(choice.source) }),
    );
  }
  const unknown = new Set<string>();
  for (const values of taxa.values.values()) {
    for (const [taxon, { sourceId }] of values) {
      if (isCited(sourceId) || unknown.has(sourceId)) continue;
      unknown.add(sourceId);
      const place = { file: taxaFile, ...(taxa.taxa.get(taxon) ?? { line: 0, column: 0 }) };
      findings.push(finding("no-citation", place, { message: message(sourceId) }));
    }
  }
  return findings;
}
