import { FileError } from "../files/file-error.ts";
import { at } from "../model/at.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import type { TaxonRow } from "../model/taxon-tree.ts";
import { RANKS, TaxonTree } from "../model/taxon-tree.ts";
import type { StageRule } from "../names/count-policy.ts";
import type { SynonymRow } from "../names/synonyms.ts";
import { SYNONYM_KINDS } from "../names/synonyms.ts";
import type { SharedFiles } from "./shared-files.ts";
import { oneOf } from "./table-cells.ts";

export const TAXA_FILE = "taxa/taxa.csv";
export const SYNONYMS_FILE = "taxa/synonyms.csv";
export const LIFE_STAGES_FILE = "taxa/life-stages.csv";

const TREE_COLUMNS = ["taxon", "rank", "parent", "status", "count_policy", "count_reason", "common_group"];
const POLICIES = ["count", "exclude", "release"] as const;

/** The tree of taxa. @throws FileError when the table cannot be read or is no tree */
export function readTree(files: SharedFiles): TaxonTree {
  const file = files.pathOf(TAXA_FILE);
  const { rows, fields } = files.table(TAXA_FILE, TREE_COLUMNS);
  const [taxon = 0, rank = 0, parent = 0, status = 0, policy = 0, reason = 0, group = 0] = fields;
  const taxa = rows.map(({ line, cells }): TaxonRow => {
    const decided = at(cells, policy);
    return {
      taxon: at(cells, taxon),
      rank: oneOf(at(cells, rank), RANKS, file, line),
      parent: at(cells, parent),
      status: at(cells, status),
      policy: decided === "" ? undefined : oneOf(decided, POLICIES, file, line),
      policyReason: at(cells, reason),
      commonGroup: at(cells, group),
    };
  });
  try {
    return TaxonTree.fromRows(taxa);
  } catch (error) {
    if (error instanceof RangeError) throw new FileError(file, error.message);
    throw error;
  }
}

/** Other names of taxa. */
export function readSynonyms(files: SharedFiles): SynonymRow[] {
  const file = files.pathOf(SYNONYMS_FILE);
  const columns = ["name", "accepted_name", "kind", "candidates", "reason"];
  const { rows, cell } = files.table(SYNONYMS_FILE, columns);
  return rows.map((row) => {
    const candidates = cell(row, "candidates");
    return {
      name: cell(row, "name"),
      accepted: cell(row, "accepted_name"),
      kind: oneOf(cell(row, "kind"), SYNONYM_KINDS, file, row.line),
      candidates: candidates === "" ? [] : candidates.split("|"),
      reason: cell(row, "reason"),
    };
  });
}

/** Which life stages of which taxa count. */
export function readStageRules(files: SharedFiles): StageRule[] {
  const file = files.pathOf(LIFE_STAGES_FILE);
  const columns = ["taxon", "life_stage", "count_policy", "count_reason"];
  const { rows, cell } = files.table(LIFE_STAGES_FILE, columns);
  return rows.map((row) => ({
    taxon: cell(row, "taxon"),
    stage: oneOf(cell(row, "life_stage"), LIFE_STAGES, file, row.line),
    policy: oneOf(cell(row, "count_policy"), POLICIES, file, row.line),
    reason: cell(row, "count_reason"),
  }));
}
