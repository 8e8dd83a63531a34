import { describe, expect, it } from "vitest";
import type { AssemblyRules } from "../../src/taxa/assemble.ts";
import { assembleCommunity, CommunityAssembler } from "../../src/taxa/assemble.ts";
import type { CountedPile } from "../../src/taxa/counted-pile.ts";
import { taxon, tree } from "../helpers/worm-and-mayfly-tree.ts";
import { AS_NAMED, pile, rules, TO_FAMILY, TO_GENUS } from "./piles.ts";

/** A community as "name: animals, taxa". */
function shown(piles: readonly CountedPile[], given: Partial<AssemblyRules> = {}): string[] {
  const { community } = assembleCommunity(piles, rules(given));
  return [...community.taxa].map(
    (one, i) => `${tree.nameOf(one)}: ${community.counts[i]}, ${community.richness[i]}`,
  );
}

// Which records are distinct is common practice of index programmes, no source; the four methods that move
// animals are checked against published examples in tests/published/taxa.
describe("assembling a community", () => {
  it("sums stages and rows of a taxon, sorted by name", () => {
    const piles = [pile("Baetis", 3), pile("Acentrella", 2), pile("Baetis", 4)];
    expect(shown(piles)).toEqual(["Acentrella: 2, 1", "Baetis: 7, 1"]);
    expect(assembleCommunity(piles, rules()).community.total).toBe(9);
  });

  it("rolls up first", () => {
    const piles = [pile("Baetis tricaudatus", 3), pile("Baetis intercalaris", 2), pile("Baetis sp. A", 1)];
    expect(shown(piles, { levelOf: TO_GENUS })).toEqual(["Baetis: 6, 1"]);
  });

  it("counts a parent's animals and not its taxon when finer records of its line are there", () => {
    const piles = [pile("Ephemeroptera", 1), pile("Baetidae", 4), pile("Baetis", 10), pile("Limnodrilus", 5)];
    expect(shown(piles)).toEqual([
      "Baetidae: 4, 0",
      "Baetis: 10, 1",
      "Ephemeroptera: 1, 0",
      "Limnodrilus: 5, 1",
    ]);
    const { ambiguous } = assembleCommunity(piles, rules());
    expect(ambiguous.map((one) => tree.nameOf(one))).toEqual(["Baetidae", "Ephemeroptera"]);
  });

  it("counts a slash group only when none of its members is there", () => {
    expect(shown([pile("Cricotopus/Orthocladius", 4), pile("Eukiefferiella", 1)])).toEqual([
      "Cricotopus/Orthocladius: 4, 1",
      "Eukiefferiella: 1, 1",
    ]);
    expect(shown([pile("Cricotopus/Orthocladius", 4), pile("Orthocladius", 1)])).toEqual([
      "Cricotopus/Orthocladius: 4, 0",
      "Orthocladius: 1, 1",
    ]);
    expect(shown([pile("Cricotopus/Orthocladius", 4), pile("Cricotopus bicinctus", 1)])).toEqual([
      "Cricotopus bicinctus: 1, 1",
      "Cricotopus/Orthocladius: 4, 0",
    ]);
  });

  it("takes a slash group for a finer record of the taxon that holds it", () => {
    expect(shown([pile("Orthocladiinae", 2), pile("Cricotopus/Orthocladius", 4)])).toEqual([
      "Cricotopus/Orthocladius: 4, 1",
      "Orthocladiinae: 2, 0",
    ]);
  });

  it("counts one of two groups when one holds the other", () => {
    const piles = [
      pile("Cricotopus/Eukiefferiella/Orthocladius", 2),
      pile("Cricotopus/Orthocladius", 4),
      pile("Orthocladiinae", 1),
    ];
    expect(shown(piles)).toEqual([
      "Cricotopus/Eukiefferiella/Orthocladius: 2, 0",
      "Cricotopus/Orthocladius: 4, 1",
      "Orthocladiinae: 1, 0",
    ]);
  });

  it("counts immature worms of a family unless grown ones are there", () => {
    const immature = [
      pile("Imm. Tubificidae with hair chaetae", 3),
      pile("Imm. Tubificidae without hair chaetae", 5),
    ];
    expect(shown([...immature, pile("Tubificidae", 1)])).toEqual([
      "Imm. Tubificidae with hair chaetae: 3, 1",
      "Imm. Tubificidae without hair chaetae: 5, 1",
      "Tubificidae: 1, 0",
    ]);
    expect(shown([...immature, pile("Limnodrilus", 1)])).toEqual([
      "Imm. Tubificidae with hair chaetae: 3, 0",
      "Imm. Tubificidae without hair chaetae: 5, 0",
      "Limnodrilus: 1, 1",
    ]);
  });

  it("always counts provisional names", () => {
    expect(shown([pile("Baetis sp. A", 1), pile("Baetis sp. B", 1), pile("Baetis tricaudatus", 1)])).toEqual([
      "Baetis sp. A: 1, 1",
      "Baetis sp. B: 1, 1",
      "Baetis tricaudatus: 1, 1",
    ]);
  });
});

describe("the taxonomist's word", () => {
  it("forces a parent in and keeps a record out", () => {
    const piles = [
      pile("Baetidae", 4, { distinct: "yes" }),
      pile("Baetis", 10),
      pile("Baetis sp. A", 1, { distinct: "no" }),
      pile("Acentrella", 1, { distinct: "no" }),
    ];
    expect(shown(piles)).toEqual([
      "Acentrella: 1, 0",
      "Baetidae: 4, 1",
      "Baetis: 10, 1",
      "Baetis sp. A: 1, 0",
    ]);
  });

  it("keeps out a record only when all its piles say no", () => {
    expect(shown([pile("Baetis", 4, { distinct: "no" }), pile("Baetis", 1)])).toEqual(["Baetis: 5, 1"]);
    expect(shown([pile("Baetis", 4, { distinct: "no" }), pile("Baetis", 1, { distinct: "yes" })])).toEqual([
      "Baetis: 5, 1",
    ]);
  });

  it("counts a parent whose finer records were all kept out", () => {
    expect(shown([pile("Baetidae", 4), pile("Baetis", 1, { distinct: "no" })])).toEqual([
      "Baetidae: 4, 1",
      "Baetis: 1, 0",
    ]);
  });

  it("is asked again after a draw that took the records it spoke of", () => {
    const drawn = [
      pile("Baetidae", 2, { distinct: "no", beforeDraw: 4 }),
      pile("Baetis", 0, { beforeDraw: 1 }),
      pile("Limnodrilus", 5, { beforeDraw: 9 }),
    ];
    expect(shown(drawn)).toEqual(["Baetidae: 2, 1", "Limnodrilus: 5, 1"]);
    // another finer record is left: the word stands
    expect(shown([...drawn, pile("Acentrella", 1, { beforeDraw: 1 })])).toEqual([
      "Acentrella: 1, 1",
      "Baetidae: 2, 0",
      "Limnodrilus: 5, 1",
    ]);
  });

  it("is asked again when the finer records are lost, whatever neighbours are left", () => {
    const drawn = [
      pile("Baetis", 2, { distinct: "no" }),
      pile("Baetis sp. A", 0, { beforeDraw: 1 }),
      pile("Acentrella", 3),
    ];
    expect(shown(drawn)).toEqual(["Acentrella: 3, 1", "Baetis: 2, 1"]);
  });

  it("stands after a draw when it cannot have spoken of a lost record", () => {
    const drawn = [pile("Baetis", 2, { distinct: "no" }), pile("Limnodrilus", 0, { beforeDraw: 9 })];
    expect(shown(drawn)).toEqual(["Baetis: 2, 0"]);
    // a pile that was never there was not lost
    const never = [pile("Baetis", 2, { distinct: "no" }), pile("Baetis sp. A", 0), pile("Acentrella", 1)];
    expect(shown(never)).toEqual(["Acentrella: 1, 1", "Baetis: 2, 0"]);
    const none = pile("Baetis sp. A", 0, { beforeDraw: 0 });
    expect(shown([pile("Baetis", 2, { distinct: "no" }), none])).toEqual(["Baetis: 2, 0"]);
    // neighbours under the same parent: lost, then left
    const neighbour = pile("Acentrella", 0, { beforeDraw: 2 });
    expect(shown([...drawn, neighbour])).toEqual(["Baetis: 2, 1"]);
    expect(shown([...drawn, neighbour, pile("Baetidae", 1)])).toEqual(["Baetidae: 1, 0", "Baetis: 2, 1"]);
  });
});

describe("the taxonomist's word about the coarsest records", () => {
  it("is asked again after a draw for a record just below the root, and stands for the root", () => {
    const lost = pile("Insecta", 0, { beforeDraw: 3 });
    expect(shown([pile("Oligochaeta", 2, { distinct: "no" }), lost])).toEqual(["Oligochaeta: 2, 1"]);
    expect(shown([pile("Animalia", 2, { distinct: "no" }), pile("Baetis", 1)])).toEqual([
      "Animalia: 2, 0",
      "Baetis: 1, 1",
    ]);
  });
});

describe("a parent whose finer records add nothing", () => {
  it("is ambiguous all the same", () => {
    const piles = [pile("Baetidae", 4), pile("Baetis", 1, { distinct: "no" })];
    expect(assembleCommunity(piles, rules()).ambiguous).toEqual([taxon("Baetidae")]);
  });
});

describe("large/rare finds", () => {
  it("add taxa and no animals where the set says so", () => {
    const piles = [
      pile("Baetis", 10),
      pile("Acentrella", 1, { largeRare: true }),
      pile("Baetis", 1, { largeRare: true }),
    ];
    expect(shown(piles)).toEqual(["Acentrella: 0, 1", "Baetis: 10, 1"]);
    expect(assembleCommunity(piles, rules()).community.total).toBe(10);
    expect(shown(piles, { largeRare: "none" })).toEqual(["Baetis: 10, 1"]);
  });

  it("are records: a finer find makes a parent ambiguous, a coarser find adds nothing", () => {
    expect(shown([pile("Baetidae", 10), pile("Baetis", 1, { largeRare: true })])).toEqual([
      "Baetidae: 10, 0",
      "Baetis: 0, 1",
    ]);
    expect(shown([pile("Baetis", 10), pile("Baetidae", 1, { largeRare: true })])).toEqual(["Baetis: 10, 1"]);
  });

  it.each(["remove", "merge", "larger", "distribute"] as const)(
    "neither give nor take animals: %s",
    (parents) => {
      expect(shown([pile("Baetidae", 10), pile("Baetis", 1, { largeRare: true })], { parents })).toEqual([
        "Baetidae: 10, 0",
        "Baetis: 0, 1",
      ]);
    },
  );
});

describe("coarse tally rows", () => {
  it("stand for as many taxa as they say", () => {
    expect(shown([pile("Ephemeroptera", 40, { numberOfTaxa: 3 }), pile("Diptera", 9)])).toEqual([
      "Diptera: 9, 1",
      "Ephemeroptera: 40, 3",
    ]);
  });

  it("less those that finer records add already", () => {
    expect(shown([pile("Ephemeroptera", 40, { numberOfTaxa: 3 }), pile("Baetis", 5)])).toEqual([
      "Baetis: 5, 1",
      "Ephemeroptera: 40, 2",
    ]);
  });

  it("keep the largest number of their rows, and are one taxon when rolled up", () => {
    const rows = [pile("Baetidae", 4, { numberOfTaxa: 2 }), pile("Baetidae", 1, { numberOfTaxa: 3 })];
    expect(shown(rows)).toEqual(["Baetidae: 5, 3"]);
    expect(shown([pile("Baetis", 4, { numberOfTaxa: 2 })], { levelOf: TO_FAMILY })).toEqual([
      "Baetidae: 4, 1",
    ]);
  });
});

describe("taxa scored as another one", () => {
  const scoreAs = new Map([
    [taxon("Tubificidae"), taxon("Oligochaeta")],
    [taxon("Baetidae"), taxon("Ephemeroptera")],
    [taxon("Ephemeroptera"), taxon("Insecta")],
  ]);

  it("are merged before anything is counted, through any number of steps", () => {
    const piles = [pile("Limnodrilus", 3), pile("Oligochaeta", 2), pile("Baetis", 4)];
    expect(shown(piles, { levelOf: TO_FAMILY, scoreAs })).toEqual(["Insecta: 4, 1", "Oligochaeta: 5, 1"]);
    const assembler = new CommunityAssembler(rules({ levelOf: TO_FAMILY, scoreAs }));
    expect(tree.nameOf(assembler.countedAs(taxon("Baetis tricaudatus")))).toBe("Insecta");
  });

  it("may not go in a circle", () => {
    const circle = new Map([
      [taxon("Baetidae"), taxon("Tubificidae")],
      [taxon("Tubificidae"), taxon("Baetidae")],
    ]);
    expect(() => new CommunityAssembler(rules({ scoreAs: circle }))).toThrow("in a circle");
  });
});

describe("the methods that move animals", () => {
  const piles = [
    pile("Baetidae", 12),
    pile("Baetis", 8),
    pile("Baetis tricaudatus", 6),
    pile("Baetis sp. A", 2),
  ];

  it.each([
    ["remove", ["Baetis sp. A: 2, 1", "Baetis tricaudatus: 6, 1"], 8],
    ["merge", ["Baetidae: 28, 1"], 28],
    ["larger", ["Baetis: 16, 1"], 16],
    ["distribute", ["Baetis sp. A: 7, 1", "Baetis tricaudatus: 21, 1"], 28],
  ] as const)("%s", (parents, expected, total) => {
    expect(shown(piles, { parents })).toEqual(expected);
    const { community, ambiguous } = assembleCommunity(piles, rules({ parents }));
    expect(community.total).toBe(total);
    expect(ambiguous.map((one) => tree.nameOf(one))).toEqual(["Baetidae", "Baetis"]);
  });

  it("go from below: 8 species animals outweigh 3 of the genus, but not 10 of the family", () => {
    const sheet = [pile("Baetidae", 10), pile("Baetis", 3), pile("Baetis tricaudatus", 8)];
    expect(shown(sheet, { parents: "larger" })).toEqual(["Baetidae: 18, 1"]);
  });

  it("leave a record the taxa it stands for when it is given animals", () => {
    const rows = [pile("Baetidae", 4), pile("Baetis", 10, { numberOfTaxa: 2 })];
    expect(shown(rows, { parents: "distribute" })).toEqual(["Baetis: 14, 2"]);
  });

  it("say whom they moved", () => {
    const named = (parents: AssemblyRules["parents"]) =>
      assembleCommunity([pile("Baetidae", 10), pile("Baetis", 3)], rules({ parents })).moves.map(
        ({ from, to, animals }) => [tree.nameOf(from), to === undefined ? "" : tree.nameOf(to), animals],
      );
    expect(named("remove")).toEqual([["Baetidae", "", 10]]);
    expect(named("merge")).toEqual([["Baetis", "Baetidae", 3]]);
    expect(named("distribute")).toEqual([["Baetidae", "Baetis", 10]]);
  });

  it("leave a parent alone that the taxonomist called another taxon", () => {
    const said = [pile("Baetidae", 12, { distinct: "yes" }), pile("Baetis", 8), pile("Baetis sp. A", 2)];
    expect(shown(said, { parents: "remove" })).toEqual(["Baetidae: 12, 1", "Baetis sp. A: 2, 1"]);
    expect(shown(said, { parents: "merge" })).toEqual(["Baetidae: 12, 1", "Baetis: 10, 1"]);
    expect(shown(said, { parents: "distribute" })).toEqual(["Baetidae: 12, 1", "Baetis sp. A: 10, 1"]);
  });

  it("treat a slash group with a member beside it as a parent", () => {
    const slash = [pile("Cricotopus/Orthocladius", 4), pile("Cricotopus", 3), pile("Orthocladius", 1)];
    expect(shown(slash, { parents: "distribute" })).toEqual(["Cricotopus: 6, 1", "Orthocladius: 2, 1"]);
    expect(shown(slash, { parents: "merge" })).toEqual(["Cricotopus/Orthocladius: 8, 1"]);
  });
});

it("gives a sample without animals an empty community", () => {
  for (const piles of [[], [pile("Baetis", 0)], [pile("Baetis", 0, { beforeDraw: 3 })]]) {
    const { community } = assembleCommunity(piles, rules());
    expect([community.taxa.length, community.total]).toEqual([0, 0]);
  }
});

it("keeps nothing of one sample for the next, up to the root", () => {
  const assembler = new CommunityAssembler(rules());
  assembler.assemble([pile("Animalia", 1), pile("Baetis", 1)]);
  const { community, ambiguous } = assembler.assemble([pile("Animalia", 3)]);
  expect([...community.counts, ...community.richness]).toEqual([3, 1]);
  expect(ambiguous).toEqual([]);
});

it("keeps nothing of one sample for the next", () => {
  const assembler = new CommunityAssembler(rules({ levelOf: AS_NAMED }));
  const first = [
    pile("Baetidae", 2, { distinct: "no", numberOfTaxa: 4 }),
    pile("Baetis", 0, { beforeDraw: 1 }),
  ];
  assembler.assemble(first);
  const { community } = assembler.assemble([pile("Baetidae", 3)]);
  expect([...community.counts, ...community.richness]).toEqual([3, 1]);
});
