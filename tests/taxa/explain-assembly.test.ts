import { describe, expect, it } from "vitest";
import { CommunityAssembler } from "../../src/taxa/assemble.ts";
import { BatchTaxaCollector } from "../../src/taxa/batch-taxa.ts";
import { explainAssembly } from "../../src/taxa/explain-assembly.ts";
import { tree } from "../helpers/worm-and-mayfly-tree.ts";
import { pile, rules, TO_GENUS } from "./piles.ts";

const piles = [
  pile("Ephemeroptera", 3, { numberOfTaxa: 4 }),
  pile("Baetidae", 4),
  pile("Baetis tricaudatus", 10),
  pile("Acentrella", 1, { distinct: "no" }),
  pile("Cricotopus/Orthocladius", 2),
  pile("Cricotopus bicinctus", 1),
  pile("Limnodrilus", 0, { beforeDraw: 2 }),
  pile("Eukiefferiella", 1, { largeRare: true }),
];

describe("the story of a sample", () => {
  it("follows each pile up to the set's level", () => {
    const story = explainAssembly(piles, rules({ levelOf: TO_GENUS }));
    const fates = story.piles.map(({ pile: one, rolledUpTo, takesPart }) => [
      tree.nameOf(one.taxon),
      tree.nameOf(rolledUpTo),
      takesPart,
    ]);
    expect(fates).toEqual([
      ["Ephemeroptera", "Ephemeroptera", true],
      ["Baetidae", "Baetidae", true],
      ["Baetis tricaudatus", "Baetis", true],
      ["Acentrella", "Acentrella", true],
      ["Cricotopus/Orthocladius", "Cricotopus/Orthocladius", true],
      ["Cricotopus bicinctus", "Cricotopus", true],
      ["Limnodrilus", "Limnodrilus", false],
      ["Eukiefferiella", "Eukiefferiella", true],
    ]);
  });

  it("says of each record what it adds to richness and why", () => {
    const story = explainAssembly(piles, rules({ levelOf: TO_GENUS }));
    const told = story.records.map(({ taxon, richness, reason, because }) => [
      tree.nameOf(taxon),
      richness,
      reason,
      because.map((one) => tree.nameOf(one)).join(", "),
    ]);
    expect(told).toEqual([
      ["Acentrella", 0, "says-no", ""],
      ["Baetidae", 0, "finer-records", "Acentrella, Baetis"],
      ["Baetis", 1, "distinct", ""],
      ["Cricotopus", 1, "distinct", ""],
      ["Cricotopus/Orthocladius", 0, "finer-records", "Cricotopus"],
      // stands for four taxa, one of which is Baetis
      ["Ephemeroptera", 3, "left-over", "Acentrella, Baetidae, Baetis"],
      ["Eukiefferiella", 1, "distinct", ""],
    ]);
  });

  it("keeps records that a method did away with, with their animals before and after", () => {
    const story = explainAssembly(
      [pile("Baetidae", 4), pile("Baetis", 10)],
      rules({ parents: "distribute" }),
    );
    expect(story.records.map(({ taxon, before, after }) => [tree.nameOf(taxon), before, after])).toEqual([
      ["Baetidae", 4, 0],
      ["Baetis", 10, 14],
    ]);
  });

  const told = (story: ReturnType<typeof explainAssembly>) =>
    story.records.map(({ taxon, richness, reason, because }) => [
      tree.nameOf(taxon),
      richness,
      reason,
      because.map((one) => tree.nameOf(one)).join(", "),
    ]);

  it("says so when the sheet or another sample of the batch decided", () => {
    expect(
      told(
        explainAssembly(
          [
            pile("Baetidae", 4, { distinct: "yes" }),
            pile("Baetis", 10),
            pile("Baetis", 1, { distinct: "no" }),
          ],
          rules(),
        ),
      ),
    ).toEqual([
      ["Baetidae", 1, "says-yes", "Baetis"],
      ["Baetis", 1, "distinct", ""],
    ]);
    const batch = new BatchTaxaCollector(tree);
    const finer = new CommunityAssembler(rules()).records([pile("Baetis tricaudatus", 1)]);
    batch.add(finer.taxa, finer.counts);
    const coarse = [pile("Baetis", 8), pile("Limnodrilus", 1)];
    const own = new CommunityAssembler(rules()).records(coarse);
    batch.add(own.taxa, own.counts);
    const batchTaxa = batch.finish();
    expect(told(explainAssembly(coarse, rules({ batchTaxa })))).toEqual([
      ["Baetis", 0, "finer-in-batch", ""],
      ["Limnodrilus", 1, "distinct", ""],
    ]);
    // With a finer record in the sample itself that one is named.
    expect(
      told(explainAssembly([pile("Baetis", 8), pile("Baetis tricaudatus", 1)], rules({ batchTaxa }))),
    ).toEqual([
      ["Baetis", 0, "finer-records", "Baetis tricaudatus"],
      ["Baetis tricaudatus", 1, "distinct", ""],
    ]);
  });

  it("names as finer records those that a method left, not those it did away with", () => {
    const find = pile("Limnodrilus", 1, { largeRare: true });
    const story = explainAssembly(
      [pile("Ephemeroptera", 3), pile("Baetidae", 4), pile("Baetis", 10), find],
      rules({ parents: "remove" }),
    );
    expect(told(story)).toEqual([
      ["Baetidae", 0, "finer-records", "Baetis"],
      ["Baetis", 1, "distinct", ""],
      ["Ephemeroptera", 0, "finer-records", "Baetis"],
      ["Limnodrilus", 1, "distinct", ""],
    ]);
  });

  it("says distinct of a record that was judged again after the draw", () => {
    const drawn = [pile("Baetis", 2, { distinct: "no" }), pile("Baetis sp. A", 0, { beforeDraw: 1 })];
    expect(told(explainAssembly(drawn, rules()))).toEqual([["Baetis", 1, "distinct", ""]]);
  });

  it("has the records that get animals of the batch's shares, with none before", () => {
    const batch = new BatchTaxaCollector(tree);
    const scout = new CommunityAssembler(rules());
    const coarse = [pile("Baetis", 8)];
    for (const sheet of [coarse, [pile("Baetis sp. A", 3), pile("Baetis sp. B", 1)]]) {
      const { taxa, counts } = scout.records(sheet);
      batch.add(taxa, counts);
    }
    const batchTaxa = batch.finish();
    const shared = explainAssembly(coarse, rules({ parents: "distribute", batchTaxa }));
    expect(
      shared.records.map(({ taxon, before, after, reason }) => [tree.nameOf(taxon), before, after, reason]),
    ).toEqual([
      ["Baetis", 8, 0, "finer-records"],
      ["Baetis sp. A", 0, 6, "distinct"],
      ["Baetis sp. B", 0, 2, "distinct"],
    ]);
    // A method that moves animals leaves no parent to the batch: what is gone is gone for finer or coarser records.
    const merged = explainAssembly(
      [pile("Baetidae", 1), pile("Baetis", 2)],
      rules({ parents: "merge", batchTaxa: undefined }),
    );
    expect(told(merged)[1]).toEqual(["Baetis", 0, "finer-records", ""]);
    const removed = explainAssembly(coarse, rules({ parents: "remove", batchTaxa }));
    expect(told(removed)).toEqual([["Baetis", 0, "finer-records", ""]]);
  });

  it("names a find without richness as the finer record of its parent", () => {
    const find = pile("Baetis", 1, { largeRare: true, distinct: "no" });
    const story = explainAssembly([pile("Baetidae", 4), find, pile("Limnodrilus", 2)], rules());
    expect(told(story)).toEqual([
      // Baetis is there and adds nothing, so the family stands for the one taxon.
      ["Baetidae", 1, "left-over", "Baetis"],
      ["Baetis", 0, "says-no", ""],
      ["Limnodrilus", 1, "distinct", ""],
    ]);
  });

  it("leaves finds out where the set does", () => {
    const story = explainAssembly(
      [pile("Baetidae", 4), pile("Baetis", 1, { largeRare: true })],
      rules({ largeRare: "none" }),
    );
    expect(story.piles.map(({ takesPart }) => takesPart)).toEqual([true, false]);
    expect(told(story)).toEqual([["Baetidae", 1, "distinct", ""]]);
  });

  it("takes the sheet's no only when every row of the record says it", () => {
    const rows = (...said: readonly ("no" | "")[]) =>
      told(
        explainAssembly(
          [...said.map((distinct) => pile("Baetidae", 4, { distinct })), pile("Baetis", 10)],
          rules(),
        ),
      )[0];
    expect(rows("no", "no")).toEqual(["Baetidae", 0, "says-no", "Baetis"]);
    expect(rows("no", "")).toEqual(["Baetidae", 0, "finer-records", "Baetis"]);
  });
});
