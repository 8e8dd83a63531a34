import { describe, expect, it } from "vitest";
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
});
