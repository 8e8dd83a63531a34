import { describe, expect, it } from "vitest";
import { FinerRelation } from "../../src/taxa/finer.ts";
import { taxon, tree } from "../helpers/worm-and-mayfly-tree.ts";

const relation = new FinerRelation(tree);

describe("a record is finer than another", () => {
  it.each([
    ["Baetis", "Baetidae"],
    ["Baetis tricaudatus", "Baetidae"],
    ["Baetis sp. A", "Baetis"],
    ["Cricotopus/Orthocladius", "Orthocladiinae"],
    ["Cricotopus/Orthocladius", "Diptera"],
    // members of groups, and what lies below them
    ["Cricotopus", "Cricotopus/Orthocladius"],
    ["Cricotopus bicinctus", "Cricotopus/Orthocladius"],
    ["Baetis tricaudatus", "Baetis tricaudatus group"],
    // the narrower of two groups
    ["Cricotopus/Orthocladius", "Cricotopus/Eukiefferiella/Orthocladius"],
    // immature worms may be any worm of the family
    ["Limnodrilus", "Imm. Tubificidae with hair chaetae"],
    ["Imm. Tubificidae with hair chaetae", "Tubificidae"],
  ])("%s than %s", (finer, coarser) => {
    expect(relation.isFiner(taxon(finer), taxon(coarser))).toBe(true);
    expect(relation.isFiner(taxon(coarser), taxon(finer))).toBe(false);
  });

  it.each([
    ["Baetis", "Baetis"],
    ["Baetis", "Acentrella"],
    ["Baetis sp. A", "Baetis sp. B"],
    ["Baetis sp. A", "Baetis tricaudatus group"],
    ["Eukiefferiella", "Cricotopus/Orthocladius"],
    ["Imm. Tubificidae with hair chaetae", "Imm. Tubificidae without hair chaetae"],
  ])("not: %s and %s", (a, b) => {
    expect(relation.isFiner(taxon(a), taxon(b))).toBe(false);
    expect(relation.isFiner(taxon(b), taxon(a))).toBe(false);
  });

  it("is one of a group's members in the tree, whatever else the group names", () => {
    const grown = tree.extend([
      { name: "Cricotopus/Gone", parent: "Orthocladiinae", members: ["Cricotopus", "Gone"] },
      { name: "Gone group", parent: "Orthocladiinae", members: ["Gone"] },
    ]);
    const [half = -1, gone = -1] = ["Cricotopus/Gone", "Gone group"].map((name) => grown.numberOf(name));
    const finer = new FinerRelation(grown);
    expect([finer.isGroup(half), finer.isGroup(gone)]).toEqual([true, false]);
    expect(finer.isFiner(taxon("Cricotopus bicinctus"), half)).toBe(true);
    expect(finer.isFiner(taxon("Cricotopus bicinctus"), gone)).toBe(false);
  });

  it("is an order: nothing is finer than itself, and what is finer than finer is finer", () => {
    const all = [...tree.names.keys()];
    for (const a of all) {
      expect(relation.isFiner(a, a)).toBe(false);
      for (const b of all.filter((one) => relation.isFiner(one, a))) {
        expect(relation.isFiner(a, b)).toBe(false);
        for (const c of all.filter((one) => relation.isFiner(one, b)))
          expect([tree.nameOf(c), tree.nameOf(a), relation.isFiner(c, a)]).toEqual([
            tree.nameOf(c),
            tree.nameOf(a),
            true,
          ]);
      }
    }
  });
});
