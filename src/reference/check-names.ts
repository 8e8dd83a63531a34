import type { Finding, Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import { didYouMean } from "../metrics/closest.ts";
import { checkOverrides } from "../names/count-policy.ts";
import { groupTree } from "./name-space.ts";
import type { ReadDefinition } from "./read-definition.ts";
import type { SetTaxa } from "./read-set-taxa.ts";
import type { SharedTables } from "./shared-tables.ts";

/**
 * Checks the names in a set against the tree of taxa, or for a set of groups against its own groups: exceptions
 * of the level, overrides of the count policy, taxa.csv.
 */
export function checkSetNames(
  { definition, placeOf }: ReadDefinition,
  taxa: SetTaxa,
  shared: SharedTables,
  taxaFile: string,
): Finding[] {
  const isGroups = definition.naming === "groups";
  const findings: Finding[] = [];
  const fault = (place: Place, message: string): void => {
    findings.push(finding("bad-set", place, { message }));
  };
  if (isGroups) {
    const groups = [...taxa.taxa.keys()];
    if (groups.length === 0) fault(placeOf("naming"), "naming groups needs a taxa.csv that names the groups");
    if (definition.level.rank !== "as-named" || definition.level.exceptions.length > 0)
      fault(placeOf("level"), 'level: groups have no ranks; write {"rank": "as-named"}');
    if (taxa.scoreAs.size > 0)
      fault(placeOf("naming"), "naming: score_as in taxa.csv is for taxa, not for groups");
  } else if (taxa.alsoCalled.size > 0) {
    fault(placeOf("naming"), 'naming: also_called in taxa.csv is for groups (naming "groups")');
  }
  const tree = isGroups ? groupTree([...taxa.taxa.keys()]) : shared.tree;
  const where = isGroups ? "among the groups of taxa.csv" : "in the tree of taxa";
  definition.level.exceptions.forEach(({ taxon }, at) => {
    const path = ["level", "exceptions", at, "taxon"] as const;
    if (tree.numberOf(taxon) === undefined)
      fault(
        placeOf(...path),
        `${path.join(".")}: "${taxon}" is not ${where}${didYouMean(taxon, tree.names)}`,
      );
    else if (definition.level.exceptions.findIndex((one) => one.taxon === taxon) < at)
      fault(placeOf(...path), `${path.join(".")}: "${taxon}" is there twice`);
  });
  for (const problem of checkOverrides(definition.count_policy, tree))
    fault(placeOf("count_policy"), `count_policy: ${problem}`);
  for (const pairs of taxa.scoreAs.values()) {
    for (const [from, to] of pairs) {
      const place = { file: taxaFile, ...(taxa.taxa.get(from) ?? { line: 0, column: 0 }) };
      if (tree.numberOf(to) === undefined)
        fault(place, `${from} is scored as "${to}", which is not ${where}`);
      if (pairs.has(to)) fault(place, `${from} is scored as ${to}, which is scored as another taxon itself`);
    }
  }
  if (isGroups) return findings;
  for (const [taxon, place] of taxa.taxa) {
    if (tree.numberOf(taxon) !== undefined) continue;
    const message = `"${taxon}" is not in the tree of taxa, so its value reaches no animal${didYouMean(taxon, tree.names)}`;
    findings.push(finding("unknown-set-taxon", { file: taxaFile, ...place }, { message }));
  }
  return findings;
}
