import { TaxonTree } from "../model/taxon-tree.ts";
import type { StageRule } from "../names/count-policy.ts";
import type { SynonymRow } from "../names/synonyms.ts";
import type { ReferenceSet } from "./set.ts";
import type { SharedTables } from "./shared-tables.ts";

/** The names that a batch may use and what they mean. */
export interface NameSpace {
  readonly tree: TaxonTree;
  readonly synonyms: readonly SynonymRow[];
  readonly stageRules: readonly StageRule[];
  /** Names are groups of a set: nothing is made of two of them, nothing rolls up. */
  readonly isGroups: boolean;
}

/** Root of a tree of groups; no sheet can mean it. */
const ALL_GROUPS = "(all groups)";

/**
 * The names of a set: the shared tree of taxa, or for a set of coarse groups (volunteer tallies) a flat tree of
 * the groups of its own taxa.csv. Such groups are matched as they are called: an aquatic beetle and a riffle
 * beetle are two, though one contains the other.
 */
export function nameSpaceOf(set: ReferenceSet | undefined, shared: SharedTables): NameSpace {
  if (set?.definition.naming !== "groups") {
    const { tree, synonyms, stageRules } = shared;
    return { tree, synonyms, stageRules, isGroups: false };
  }
  return {
    tree: groupTree(set.groups.names),
    synonyms: [
      // Markers such as "(L)" or "sp." mean the same behind a group's name.
      ...shared.synonyms.filter((row) => row.kind === "suffix"),
      ...[...set.groups.alsoCalled].map(
        ([name, accepted]): SynonymRow => ({
          name,
          accepted,
          kind: "vernacular",
          candidates: [],
          reason: "another name of the group",
        }),
      ),
    ],
    stageRules: [],
    isGroups: true,
  };
}

/** A tree of groups: each right below the root. */
export function groupTree(names: readonly string[]): TaxonTree {
  return TaxonTree.fromRows([
    { taxon: ALL_GROUPS, rank: "kingdom", parent: "" },
    ...names.map((taxon) => ({ taxon, rank: "family", parent: ALL_GROUPS }) as const),
  ]);
}
