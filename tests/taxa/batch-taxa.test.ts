import { describe, expect, it } from "vitest";
import { CommunityAssembler } from "../../src/taxa/assemble.ts";
import { BatchTaxaCollector } from "../../src/taxa/batch-taxa.ts";
import type { CountedPile } from "../../src/taxa/counted-pile.ts";
import type { ParentMethod } from "../../src/taxa/parents.ts";
import { taxon, tree } from "../helpers/worm-and-mayfly-tree.ts";
import { pile, rules } from "./piles.ts";

/** Assembles samples with parents dealt with over all of them; each as "name: animals, taxa". */
function overBatch(samples: readonly (readonly CountedPile[])[], parents: ParentMethod): string[][] {
  const collector = new BatchTaxaCollector(tree);
  const scout = new CommunityAssembler(rules({ parents }));
  for (const piles of samples) {
    const { taxa, counts } = scout.records(piles);
    collector.add(taxa, counts);
  }
  const assembler = new CommunityAssembler(rules({ parents, batchTaxa: collector.finish() }));
  return samples.map((piles) => {
    const { community } = assembler.assemble(piles);
    return [...community.taxa].map(
      (one, i) => `${tree.nameOf(one)}: ${community.counts[i]}, ${community.richness[i]}`,
    );
  });
}

describe("parents over the whole batch", () => {
  const samples = [
    [pile("Baetis", 8), pile("Limnodrilus", 1)],
    [pile("Baetis sp. A", 3), pile("Baetis sp. B", 1)],
    [pile("Baetis", 2), pile("Baetis sp. B", 4)],
  ];

  it("are ambiguous in a sample of their own when a finer record is in another", () => {
    expect(overBatch(samples, "distinct")).toEqual([
      ["Baetis: 8, 0", "Limnodrilus: 1, 1"],
      ["Baetis sp. A: 3, 1", "Baetis sp. B: 1, 1"],
      ["Baetis: 2, 0", "Baetis sp. B: 4, 1"],
    ]);
  });

  it("are removed everywhere", () => {
    expect(overBatch(samples, "remove")).toEqual([
      ["Limnodrilus: 1, 1"],
      ["Baetis sp. A: 3, 1", "Baetis sp. B: 1, 1"],
      ["Baetis sp. B: 4, 1"],
    ]);
  });

  it("take their finer records everywhere", () => {
    expect(overBatch(samples, "merge")).toEqual([
      ["Baetis: 8, 1", "Limnodrilus: 1, 1"],
      ["Baetis: 4, 1"],
      ["Baetis: 6, 1"],
    ]);
  });

  it("or the larger side of the batch decides: 8 + 2 against 3 + 1 + 4", () => {
    expect(overBatch(samples, "larger")).toEqual(overBatch(samples, "merge"));
    const more = [...samples, [pile("Baetis sp. A", 3)]];
    expect(overBatch(more, "larger").slice(0, 3)).toEqual(overBatch(samples, "remove"));
  });

  it("are shared by the sample's own finer records, else by the batch's: 3 to 5 of 8", () => {
    expect(overBatch(samples, "distribute")).toEqual([
      ["Baetis sp. A: 3, 1", "Baetis sp. B: 5, 1", "Limnodrilus: 1, 1"],
      ["Baetis sp. A: 3, 1", "Baetis sp. B: 1, 1"],
      ["Baetis sp. B: 6, 1"],
    ]);
  });

  it("are no parents through a large/rare find when animals are moved, but for richness", () => {
    const find = [[pile("Baetidae", 5)], [pile("Baetis", 1, { largeRare: true })]];
    expect(overBatch(find, "remove")[0]).toEqual(["Baetidae: 5, 1"]);
    expect(overBatch(find, "distinct")).toEqual([["Baetidae: 5, 0"], ["Baetis: 0, 1"]]);
  });

  it("are named among the ambiguous records of their own samples only, unless the taxonomist keeps them", () => {
    const groups = [
      [pile("Baetis", 8, { distinct: "yes" }), pile("Baetis sp. A", 1), pile("Orthocladiinae", 2)],
      [pile("Cricotopus", 5), pile("Baetis sp. A", 20)],
      [pile("Baetis", 1, { distinct: "yes" })],
    ];
    const collector = new BatchTaxaCollector(tree);
    const scout = new CommunityAssembler(rules());
    for (const piles of groups) {
      const { taxa, counts } = scout.records(piles);
      collector.add(taxa, counts);
    }
    const batchTaxa = collector.finish();
    // Over the batch 21 of the species outweigh 9 of Baetis, and 5 of the genus outweigh 2 of its subfamily.
    expect(batchTaxa.larger).toEqual(["finer", "finer"]);
    const assembler = new CommunityAssembler(rules({ parents: "larger", batchTaxa }));
    const [first, second, third] = groups.map((piles) => {
      const { community, ambiguous } = assembler.assemble(piles);
      return [[...community.taxa].map((one) => tree.nameOf(one)), ambiguous.map((one) => tree.nameOf(one))];
    });
    // Kept, Baetis is no parent that animals are moved for; it still has a finer record beside it.
    expect(first).toEqual([
      ["Baetis", "Baetis sp. A"],
      ["Baetis", "Orthocladiinae"],
    ]);
    expect(second).toEqual([["Baetis sp. A", "Cricotopus"], []]);
    expect(third).toEqual([["Baetis"], []]);
  });

  it("follow each its own decision of the batch beside one that the taxonomist keeps", () => {
    // Over the batch Baetis is larger than its species, and the midges' genus than its subfamily.
    const batch = [
      [pile("Baetis", 8, { distinct: "yes" }), pile("Baetis sp. A", 1)],
      [pile("Orthocladiinae", 2), pile("Cricotopus", 5), pile("Baetis", 1, { distinct: "yes" })],
    ];
    expect(overBatch(batch, "larger")).toEqual([
      ["Baetis: 8, 1", "Baetis sp. A: 1, 1"],
      ["Baetis: 1, 1", "Cricotopus: 5, 1"],
    ]);
  });

  it("must know the batch that the sample is of", () => {
    const batchTaxa = new BatchTaxaCollector(tree).finish();
    const assembler = new CommunityAssembler(rules({ parents: "merge", batchTaxa }));
    expect(() => assembler.assemble([pile("Baetis", 1)])).toThrow('the batch has no record of "Baetis"');
    expect(batchTaxa.hasFiner[taxon("Baetis")]).toBe(0);
  });
});
