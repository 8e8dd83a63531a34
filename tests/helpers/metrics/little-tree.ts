import type { TaxonRow } from "../../../src/model/taxon-tree.ts";
import { TaxonTree } from "../../../src/model/taxon-tree.ts";

/** A row of a published sheet with the groups that the publication prints beside it. */
export interface PublishedRow {
  readonly name: string;
  readonly order?: string;
  readonly family?: string;
  readonly count: number;
}

const EPT = ["Ephemeroptera", "Plecoptera", "Trichoptera"];

/** A tree of just the taxa of published sheets, as the publication places them; EPT orders are always there. */
export function treeOf(rows: readonly PublishedRow[]): TaxonTree {
  const tree = new Map<string, TaxonRow>([["Animalia", { taxon: "Animalia", rank: "kingdom", parent: "" }]]);
  const add = (taxon: string, rank: TaxonRow["rank"], parent: string) => {
    if (!tree.has(taxon)) tree.set(taxon, { taxon, rank, parent });
  };
  for (const order of EPT) add(order, "order", "Animalia");
  for (const { name, order, family } of rows) {
    if (order !== undefined) add(order, "order", "Animalia");
    if (family !== undefined) add(family, "family", order ?? "Animalia");
    const genus = name.split(" ")[0] ?? name;
    if (name === family) continue;
    if (family === undefined) add(name, "subclass", "Animalia");
    else {
      add(genus, "genus", family);
      if (name !== genus) add(name, "species", genus);
    }
  }
  return TaxonTree.fromRows([...tree.values()]);
}

/** A tree of coarse groups side by side, none above another, as a volunteer's tally has them. */
export function flatTree(groups: readonly string[]): TaxonTree {
  return TaxonTree.fromRows([
    { taxon: "Animalia", rank: "kingdom", parent: "" },
    ...groups.map((taxon) => ({ taxon, rank: "order", parent: "Animalia" }) as const),
  ]);
}
