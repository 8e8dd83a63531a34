import { describe, expect, it } from "vitest";
import type { TaxonRow } from "../../src/model/taxon-tree.ts";
import { TaxonTree } from "../../src/model/taxon-tree.ts";
import { CommunityAssembler } from "../../src/taxa/assemble.ts";
import type { CountedPile } from "../../src/taxa/counted-pile.ts";
import { compileLevel } from "../../src/taxa/level.ts";

// Invented: a family of many genera, each of two species, for samples with more records above others than are
// sorted one by one.
const GENERA = 60;
const genera = Array.from({ length: GENERA }, (_, at) => `Genus${String(at).padStart(2, "0")}`);
const rows: readonly TaxonRow[] = [
  { taxon: "Family", rank: "family", parent: "" },
  ...genera.flatMap((genus): TaxonRow[] => [
    { taxon: genus, rank: "genus", parent: "Family" },
    { taxon: `${genus} alba`, rank: "species", parent: genus },
    { taxon: `${genus} nigra`, rank: "species", parent: genus },
  ]),
];
const tree = TaxonTree.fromRows(rows);
const pile = (name: string, numberOfTaxa = 1): CountedPile => ({
  taxon: tree.numberOf(name) as number,
  count: 1,
  largeRare: false,
  distinct: "",
  numberOfTaxa,
});

function richness(piles: readonly CountedPile[]): ReadonlyMap<string, number> {
  const levelOf = compileLevel({ rank: "as-named", exceptions: [] }, tree);
  const assembler = new CommunityAssembler({ tree, levelOf, parents: "distinct", largeRare: "richness" });
  // What was met in one sample may not change the next: the second time every line is known.
  assembler.assemble(piles);
  const { community } = assembler.assemble(piles);
  return new Map(
    [...community.taxa].map((taxon, at) => [tree.nameOf(taxon), community.richness[at] as number]),
  );
}

describe("the taxa that records add", () => {
  it.each([1, 20, 39, 40, 41, GENERA])("is right with %i records that have finer ones below them", (size) => {
    const used = genera.slice(0, size);
    // A genus that stands for three taxa of which two have records of their own adds the third.
    const found = richness([
      pile("Family", 200),
      ...used.map((genus) => pile(genus, 3)),
      ...used.flatMap((genus) => [pile(`${genus} nigra`), pile(`${genus} alba`)]),
    ]);
    for (const genus of used) {
      expect(found.get(genus)).toBe(1);
      expect(found.get(`${genus} alba`)).toBe(1);
      expect(found.get(`${genus} nigra`)).toBe(1);
    }
    expect(found.get("Family")).toBe(200 - 3 * size);
  });
});
