import type { OperationalTaxon, Rank, TaxonRow } from "../../src/model/taxon-tree.ts";
import { TaxonTree } from "../../src/model/taxon-tree.ts";

const ROWS: readonly (readonly [string, Rank, string])[] = [
  ["Animalia", "kingdom", ""],
  ["Insecta", "class", "Animalia"],
  ["Clitellata", "class", "Animalia"],
  ["Ephemeroptera", "order", "Insecta"],
  ["Baetidae", "family", "Ephemeroptera"],
  ["Baetis", "genus", "Baetidae"],
  ["Baetis tricaudatus", "species", "Baetis"],
  ["Acentrella", "genus", "Baetidae"],
  ["Diphetor", "genus", "Baetidae"],
  ["Heptageniidae", "family", "Ephemeroptera"],
  ["Epeorus", "genus", "Heptageniidae"],
  ["Rhithrogena", "genus", "Heptageniidae"],
  ["Cinygmula", "genus", "Heptageniidae"],
  ["Diptera", "order", "Insecta"],
  ["Simuliidae", "family", "Diptera"],
  ["Simulium", "genus", "Simuliidae"],
  ["Chironomidae", "family", "Diptera"],
  ["Orthocladiinae", "subfamily", "Chironomidae"],
];

/** A small part of the tree of taxa, with the names of the bench that a test adds. */
export function smallTree(operational: readonly OperationalTaxon[] = []): TaxonTree {
  const rows: TaxonRow[] = ROWS.map(([taxon, rank, parent]) => ({ taxon, rank, parent }));
  return TaxonTree.fromRows(rows).extend(operational);
}

/** Counts by name, as a sheet of the tree. */
export function sheet(tree: TaxonTree, counts: Readonly<Record<string, number>>): Map<number, number> {
  return new Map(Object.entries(counts).map(([name, count]) => [taxon(tree, name), count]));
}

export function taxon(tree: TaxonTree, name: string): number {
  const number = tree.numberOf(name);
  if (number === undefined) throw new Error(`no taxon ${name}`);
  return number;
}
