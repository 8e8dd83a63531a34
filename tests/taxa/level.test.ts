import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RANKS, TaxonTree } from "../../src/model/taxon-tree.ts";
import { NameResolver, operationalTaxa } from "../../src/names/resolve.ts";
import type { LevelRule } from "../../src/taxa/level.ts";
import { coarserThanLevel, compileLevel } from "../../src/taxa/level.ts";
import { shared } from "../helpers/shared-tables.ts";
import { taxon, tree } from "../helpers/worm-and-mayfly-tree.ts";

function rolled(level: LevelRule, name: string): string {
  return tree.nameOf(compileLevel(level, tree)[taxon(name)] ?? -1);
}

const GENUS: LevelRule = {
  rank: "genus",
  exceptions: [
    { taxon: "Chironomidae", rank: "family" },
    { taxon: "Oligochaeta", rank: "subclass" },
  ],
};

describe("rolling up", () => {
  it.each([
    ["Baetis tricaudatus", "Baetis"],
    ["Baetis sp. A", "Baetis"],
    ["Baetis tricaudatus group", "Baetis"],
    ["Baetis", "Baetis"],
    ["Baetidae", "Baetidae"],
    ["Ephemeroptera", "Ephemeroptera"],
    // the groups kept at another level
    ["Cricotopus bicinctus", "Chironomidae"],
    ["Cricotopus/Orthocladius", "Chironomidae"],
    ["Limnodrilus", "Oligochaeta"],
    ["Imm. Tubificidae with hair chaetae", "Oligochaeta"],
    // above such a group nothing changes
    ["Diptera", "Diptera"],
  ])("to genus, midges to family, worms to subclass: %s is %s", (name, expected) => {
    expect(rolled(GENUS, name)).toBe(expected);
  });

  it.each([
    ["Cricotopus bicinctus", "Cricotopus"],
    ["Cricotopus/Orthocladius", "Cricotopus/Orthocladius"],
    ["Orthocladiinae", "Orthocladiinae"],
    ["Imm. Tubificidae with hair chaetae", "Imm. Tubificidae with hair chaetae"],
  ])("to genus throughout: %s is %s", (name, expected) => {
    expect(rolled({ rank: "genus", exceptions: [] }, name)).toBe(expected);
  });

  it.each([
    ["Cricotopus/Orthocladius", "Orthocladiinae"],
    ["Cricotopus", "Orthocladiinae"],
    ["Baetis", "Baetidae"],
    // no subfamily in this line: the next coarser taxon
    ["Acentrella", "Baetidae"],
  ])("to subfamily: %s is %s", (name, expected) => {
    expect(rolled({ rank: "subfamily", exceptions: [] }, name)).toBe(expected);
  });

  it("lets the finest exception group decide, and leaves groups as named", () => {
    const level: LevelRule = {
      rank: "family",
      exceptions: [
        { taxon: "Diptera", rank: "order" },
        { taxon: "Chironomidae", rank: "genus" },
        { taxon: "Baetis", rank: "as-named" },
      ],
    };
    expect(rolled(level, "Cricotopus bicinctus")).toBe("Cricotopus");
    expect(rolled(level, "Orthocladiinae")).toBe("Orthocladiinae");
    expect(rolled(level, "Baetis tricaudatus")).toBe("Baetis tricaudatus");
    expect(rolled(level, "Baetis sp. A")).toBe("Baetis sp. A");
    expect(rolled(level, "Acentrella")).toBe("Baetidae");
  });

  it("changes nothing as named", () => {
    const level: LevelRule = { rank: "as-named", exceptions: [] };
    expect([...compileLevel(level, tree)]).toEqual([...tree.names.keys()]);
    expect(Math.max(...coarserThanLevel(level, tree))).toBe(0);
  });

  it("lets the root's exception hold for all below it", () => {
    const level: LevelRule = { rank: "class", exceptions: [{ taxon: "Animalia", rank: "as-named" }] };
    expect(rolled(level, "Baetis tricaudatus")).toBe("Baetis tricaudatus");
    expect(rolled(level, "Limnodrilus")).toBe("Limnodrilus");
  });

  it("goes no further than the root, whatever its rank", () => {
    const mayflies = TaxonTree.fromRows([
      { taxon: "Ephemeroptera", rank: "order", parent: "" },
      { taxon: "Baetidae", rank: "family", parent: "Ephemeroptera" },
      { taxon: "Baetis", rank: "genus", parent: "Baetidae" },
    ]);
    expect([...compileLevel({ rank: "class", exceptions: [] }, mayflies)]).toEqual([0, 0, 0]);
    expect([...compileLevel({ rank: "family", exceptions: [] }, mayflies)]).toEqual([0, 1, 1]);
  });

  it("refuses exceptions that are no taxon or come twice", () => {
    expect(() =>
      compileLevel({ rank: "genus", exceptions: [{ taxon: "Betis", rank: "family" }] }, tree),
    ).toThrow('the level\'s exception "Betis" is not in the taxon tree');
    const twice: LevelRule = {
      rank: "genus",
      exceptions: [
        { taxon: "Baetis", rank: "genus" },
        { taxon: "Baetis", rank: "family" },
      ],
    };
    expect(() => compileLevel(twice, tree)).toThrow('the level names the exception "Baetis" twice');
  });
});

describe("records coarser than the level", () => {
  it.each([
    ["Baetidae", 1],
    ["Orthocladiinae", 0],
    ["Tubificidae", 0],
    ["Diptera", 1],
    ["Baetis", 0],
    ["Baetis tricaudatus", 0],
  ])("at genus, midges at family: %s %i", (name, coarser) => {
    expect(coarserThanLevel(GENUS, tree)[taxon(name)]).toBe(coarser);
  });

  it.each([
    ["Cricotopus/Orthocladius", 1],
    ["Baetis sp. A", 0],
    ["Imm. Tubificidae with hair chaetae", 1],
  ])("at species: %s %i", (name, coarser) => {
    expect(coarserThanLevel({ rank: "species", exceptions: [] }, tree)[taxon(name)]).toBe(coarser);
  });
});

describe("any level of the shipped tree", () => {
  const resolver = new NameResolver(shared);
  const names = ["Cricotopus/Orthocladius", "Acentrella sp. A", "Perlidae/Perlodidae", "Thienemannimyia gr."];
  const grown = shared.tree.extend(operationalTaxa(names.map((name) => resolver.resolve(name))));
  const rank = fc.constantFrom(...RANKS, "as-named" as const);
  const levels = fc.record({
    rank,
    exceptions: fc.uniqueArray(fc.record({ taxon: fc.constantFrom(...grown.names), rank }), {
      maxLength: 3,
      selector: (exception) => exception.taxon,
    }),
  });

  it("goes up and never down, is the same when done twice, and leaves nothing finer than it", () => {
    fc.assert(
      fc.property(levels, (level) => {
        const target = compileLevel(level, grown);
        for (let one = 0; one < grown.size; one++) {
          const to = target[one] ?? -1;
          expect(grown.isWithin(one, to)).toBe(true);
        }
        if (level.exceptions.length > 0) return;
        for (const to of target) expect(target[to]).toBe(to);
        if (level.rank === "as-named") return;
        const limit = RANKS.indexOf(level.rank);
        for (const to of target) expect(grown.ranks[to]).toBeLessThanOrEqual(limit);
      }),
      { numRuns: 30 },
    );
  });
});
