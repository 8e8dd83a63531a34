import { readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";
import type { CountPolicy, Rank, TaxonRow } from "../../../src/model/taxon-tree.ts";
import { RANKS, TaxonTree } from "../../../src/model/taxon-tree.ts";

/** The tree of the shared tables, read anew by a few lines of its own. */
export const REAL_TREE: TaxonTree = TaxonTree.fromRows(readRows());

function readRows(): TaxonRow[] {
  const file = new URL("../../../reference-tables/taxa/taxa.csv", import.meta.url);
  const rows: Record<string, string>[] = parse(readFileSync(file), { columns: true });
  return rows.map((row) => ({
    taxon: row.taxon ?? "",
    rank: rankOf(row.rank ?? ""),
    parent: row.parent ?? "",
    policy: policyOf(row.count_policy ?? ""),
    policyReason: row.count_reason,
  }));
}

function rankOf(text: string): Rank {
  const rank = RANKS.find((known) => known === text);
  if (rank === undefined) throw new Error(`unknown rank ${text}`);
  return rank;
}

function policyOf(text: string): CountPolicy | undefined {
  return text === "count" || text === "exclude" || text === "release" ? text : undefined;
}
