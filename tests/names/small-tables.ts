import type { TaxonRow } from "../../src/model/taxon-tree.ts";
import { TaxonTree } from "../../src/model/taxon-tree.ts";
import type { NameTables } from "../../src/names/name-index.ts";
import type { Resolution } from "../../src/names/resolution.ts";
import type { SynonymRow } from "../../src/names/synonyms.ts";

/** Real names; "Nais" and "Naïs", and which of them are listed, are invented for edge cases. */
const ROWS: readonly TaxonRow[] = [
  { taxon: "Animalia", rank: "kingdom", parent: "" },
  { taxon: "Annelida", rank: "phylum", parent: "Animalia" },
  { taxon: "Tubificidae", rank: "family", parent: "Annelida" },
  { taxon: "Nais", rank: "genus", parent: "Annelida" },
  { taxon: "Naïs", rank: "genus", parent: "Annelida" },
  { taxon: "Ephemeroptera", rank: "order", parent: "Animalia" },
  { taxon: "Baetidae", rank: "family", parent: "Ephemeroptera" },
  { taxon: "Acentrella", rank: "genus", parent: "Baetidae" },
  { taxon: "Baetis", rank: "genus", parent: "Baetidae" },
  { taxon: "Baetis tricaudatus", rank: "species", parent: "Baetis" },
  { taxon: "Baetis intercalaris", rank: "species", parent: "Baetis" },
  { taxon: "Baetis brunneicolor", rank: "species", parent: "Baetis" },
  { taxon: "Heptageniidae", rank: "family", parent: "Ephemeroptera" },
  { taxon: "Stenonema", rank: "genus", parent: "Heptageniidae" },
  { taxon: "Maccaffertium", rank: "genus", parent: "Heptageniidae" },
  { taxon: "Maccaffertium pudicum", rank: "species", parent: "Maccaffertium" },
];

/** A row of the synonym table; reason and candidates where they matter. */
export function synonym(
  name: string,
  accepted: string,
  kind: SynonymRow["kind"],
  candidates: readonly string[] = [],
  reason = `${kind}: for the test`,
): SynonymRow {
  return { name, accepted, kind, candidates, reason };
}

/** A small tree with the synonyms given, made ready afresh, so that a test also sees how tables are made ready. */
export function smallTables(...synonyms: readonly SynonymRow[]): NameTables {
  return { tree: TaxonTree.fromRows(ROWS), synonyms };
}

/** A resolution in one line: name (in brackets for an operational taxon), way, stage, kind of warning. */
export function brief(resolution: Resolution): string {
  if (resolution.kind === "unknown") return `unknown: ${resolution.suggestions.join(", ")}`;
  const name = resolution.kind === "taxon" ? resolution.taxon : `[${resolution.operational.name}]`;
  return [name, resolution.via, resolution.stage, resolution.warning?.kind].filter(Boolean).join(" | ");
}
