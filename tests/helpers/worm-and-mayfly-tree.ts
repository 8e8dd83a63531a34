import type { OperationalTaxon, TaxonRow } from "../../src/model/taxon-tree.ts";
import { TaxonTree } from "../../src/model/taxon-tree.ts";

/** A few real lines of the tree: enough parents, children and groups for tests, small enough to see at once. */
const ROWS: readonly TaxonRow[] = [
  { taxon: "Animalia", rank: "kingdom", parent: "" },
  { taxon: "Oligochaeta", rank: "subclass", parent: "Animalia" },
  { taxon: "Tubificidae", rank: "family", parent: "Oligochaeta" },
  { taxon: "Limnodrilus", rank: "genus", parent: "Tubificidae" },
  { taxon: "Insecta", rank: "class", parent: "Animalia" },
  { taxon: "Ephemeroptera", rank: "order", parent: "Insecta" },
  { taxon: "Baetidae", rank: "family", parent: "Ephemeroptera" },
  { taxon: "Acentrella", rank: "genus", parent: "Baetidae" },
  { taxon: "Baetis", rank: "genus", parent: "Baetidae" },
  { taxon: "Baetis tricaudatus", rank: "species", parent: "Baetis" },
  { taxon: "Baetis intercalaris", rank: "species", parent: "Baetis" },
  { taxon: "Diptera", rank: "order", parent: "Insecta" },
  { taxon: "Chironomidae", rank: "family", parent: "Diptera" },
  { taxon: "Orthocladiinae", rank: "subfamily", parent: "Chironomidae" },
  { taxon: "Cricotopus", rank: "genus", parent: "Orthocladiinae" },
  { taxon: "Cricotopus bicinctus", rank: "species", parent: "Cricotopus" },
  { taxon: "Eukiefferiella", rank: "genus", parent: "Orthocladiinae" },
  { taxon: "Orthocladius", rank: "genus", parent: "Orthocladiinae" },
];

const OPERATIONAL: readonly OperationalTaxon[] = [
  { name: "Baetis sp. A", parent: "Baetis", members: [], rank: "species" },
  { name: "Baetis sp. B", parent: "Baetis", members: [], rank: "species" },
  {
    name: "Cricotopus/Orthocladius",
    parent: "Orthocladiinae",
    members: ["Cricotopus", "Orthocladius"],
    rank: "genus",
  },
  {
    name: "Cricotopus/Eukiefferiella/Orthocladius",
    parent: "Orthocladiinae",
    members: ["Cricotopus", "Eukiefferiella", "Orthocladius"],
    rank: "genus",
  },
  {
    name: "Baetis tricaudatus group",
    parent: "Baetis",
    members: ["Baetis tricaudatus"],
    rank: "species",
  },
  { name: "Imm. Tubificidae with hair chaetae", parent: "Tubificidae", members: ["Tubificidae"] },
  { name: "Imm. Tubificidae without hair chaetae", parent: "Tubificidae", members: ["Tubificidae"] },
];

export const tree = TaxonTree.fromRows(ROWS).extend(OPERATIONAL);

/** The number of a taxon of the tree. */
export function taxon(name: string): number {
  const number = tree.numberOf(name);
  if (number === undefined) throw new RangeError(`the test tree has no ${name}`);
  return number;
}
