import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FinerRelation } from "../../src/taxa/finer.ts";
import { parentGroups } from "../../src/taxa/parent-groups.ts";
import { taxon, tree } from "../helpers/worm-and-mayfly-tree.ts";

const relation = new FinerRelation(tree);

describe("the ambiguous parents among records", () => {
  it("are listed lowest first with their finer records", () => {
    const names = [
      "Baetidae",
      "Baetis",
      "Baetis sp. A",
      "Limnodrilus",
      "Acentrella",
      "Cricotopus/Orthocladius",
    ];
    const groups = parentGroups(names.map(taxon), tree, relation);
    const named = groups.map(({ parent, finer }) => [names[parent], finer.map((one) => names[one])]);
    expect(named).toEqual([
      ["Baetis", ["Baetis sp. A"]],
      ["Baetidae", ["Baetis", "Baetis sp. A", "Acentrella"]],
    ]);
  });

  it("are listed by rising number where they have as many finer records", () => {
    const names = [
      "Cricotopus bicinctus",
      "Cricotopus",
      "Baetis sp. A",
      "Baetis",
      "Limnodrilus",
      "Tubificidae",
    ];
    const parents = parentGroups(names.map(taxon), tree, relation).map(({ parent }) => names[parent]);
    expect(parents).toEqual(["Tubificidae", "Baetis", "Cricotopus"]);
  });

  it("hold every finer record and no other, and come after the parents among those", () => {
    const anyRecords = fc.uniqueArray(fc.integer({ min: 0, max: tree.size - 1 }), { maxLength: 15 });
    fc.assert(
      fc.property(anyRecords, (taxa) => {
        const groups = parentGroups(taxa, tree, relation);
        const done = new Set<number>();
        for (const { parent, finer } of groups) {
          const expected = [...taxa.keys()].filter((i) =>
            relation.isFiner(taxa[i] ?? -1, taxa[parent] ?? -1),
          );
          expect([...finer].sort((a, b) => a - b)).toEqual(expected);
          const lower = groups.map((group) => group.parent).filter((one) => finer.includes(one));
          for (const one of lower) expect(done.has(one)).toBe(true);
          done.add(parent);
        }
        const parents = [...taxa.keys()].filter((i) =>
          taxa.some((other) => relation.isFiner(other, taxa[i] ?? -1)),
        );
        expect([...done].sort((a, b) => a - b)).toEqual(parents);
      }),
      { numRuns: 300 },
    );
  });
});
