import { describe, expect, it } from "vitest";
import type { TaxonRow } from "../../src/model/taxon-tree.ts";
import { RANKS, TaxonTree } from "../../src/model/taxon-tree.ts";

const ROWS: TaxonRow[] = [
  { taxon: "Animalia", rank: "kingdom", parent: "" },
  { taxon: "Insecta", rank: "class", parent: "Animalia" },
  { taxon: "Ephemeroptera", rank: "order", parent: "Insecta" },
  { taxon: "Baetidae", rank: "family", parent: "Ephemeroptera" },
  { taxon: "Baetis", rank: "genus", parent: "Baetidae" },
  { taxon: "Baetis tricaudatus", rank: "species", parent: "Baetis" },
  { taxon: "Chordata", rank: "phylum", parent: "Animalia", policy: "exclude", policyReason: "vertebrate" },
  { taxon: "Cottus", rank: "genus", parent: "Chordata" },
];
const tree = TaxonTree.fromRows(ROWS);
const n = (name: string) => tree.numberOf(name) ?? -1;

describe("the tree of taxa", () => {
  it("knows lines, ranks and common ancestors", () => {
    expect(tree.lineage(n("Baetis")).map((taxon) => tree.nameOf(taxon))).toEqual([
      "Baetis",
      "Baetidae",
      "Ephemeroptera",
      "Insecta",
      "Animalia",
    ]);
    expect(tree.isWithin(n("Baetis tricaudatus"), n("Baetidae"))).toBe(true);
    expect(tree.isWithin(n("Baetidae"), n("Baetis"))).toBe(false);
    expect(tree.isWithin(n("Cottus"), n("Insecta"))).toBe(false);
    expect(tree.ancestorAt(n("Baetis tricaudatus"), "family")).toBe(n("Baetidae"));
    expect(tree.ancestorAt(n("Ephemeroptera"), "family")).toBeUndefined();
    expect(tree.commonAncestor(n("Baetis"), n("Cottus"))).toBe(n("Animalia"));
    expect(tree.depthOf(n("Baetis"))).toBe(4);
  });

  it("counts steps and ranks from its root", () => {
    const fresh = TaxonTree.fromRows(ROWS);
    const about = ROWS.map(({ taxon }) => {
      const at = fresh.numberOf(taxon) ?? -1;
      return [fresh.nameOf(at), fresh.rankOf(at), fresh.parentOf(at), fresh.depthOf(at)];
    });
    expect(about).toEqual([
      ["Animalia", "kingdom", -1, 0],
      ["Insecta", "class", 0, 1],
      ["Ephemeroptera", "order", 1, 2],
      ["Baetidae", "family", 2, 3],
      ["Baetis", "genus", 3, 4],
      ["Baetis tricaudatus", "species", 4, 5],
      ["Chordata", "phylum", 0, 1],
      ["Cottus", "genus", 6, 2],
    ]);
    expect(fresh.ancestorAt(5, "kingdom")).toBe(0);
    expect(fresh.ancestorAt(0, "kingdom")).toBe(0);
    expect([fresh.isWithin(5, 0), fresh.isWithin(0, 0), fresh.isWithin(0, 5), fresh.isWithin(7, 1)]).toEqual([
      true,
      true,
      false,
      false,
    ]);
    expect([fresh.commonAncestor(5, 3), fresh.commonAncestor(7, 0), fresh.commonAncestor(4, 4)]).toEqual([
      3, 0, 4,
    ]);
  });

  it("hands count policy and its reason down the tree", () => {
    expect(tree.policies[n("Cottus")]).toBe("exclude");
    expect(tree.policyReasons[n("Cottus")]).toBe("vertebrate");
    expect(tree.policies[n("Baetis")]).toBe("count");
  });

  it("takes operational taxa in one order, whatever order they come in", () => {
    const slash = { name: "Baetis/Acentrella", parent: "Baetidae", members: ["Baetis"] };
    const provisional = { name: "Baetis sp. A", parent: "Baetis", members: [] };
    const a = tree.extend([slash, provisional]);
    const b = tree.extend([provisional, slash, slash]);
    expect(a.names).toEqual(b.names);
    expect(a.size).toBe(tree.size + 2);
    const number = a.numberOf("Baetis/Acentrella") ?? -1;
    expect(a.operational.get(number)).toEqual(slash);
    expect(a.ancestorAt(number, "genus")).toBeUndefined();
    expect(a.ancestorAt(number, "family")).toBe(n("Baetidae"));
    expect(tree.numberOf("Baetis/Acentrella")).toBeUndefined();
    expect(tree.extend([])).toBe(tree);
    // What is there already makes no other tree.
    expect(a.extend([slash, provisional, { name: "Baetis", parent: "Insecta", members: [] }])).toBe(a);
  });

  it.each<[string, TaxonRow[], RegExp]>([
    ["a name twice", [...ROWS, { taxon: "Baetis", rank: "genus", parent: "Baetidae" }], /twice/],
    ["a missing parent", [...ROWS, { taxon: "X", rank: "genus", parent: "Nobody" }], /"Nobody"/],
    ["a second root", [...ROWS, { taxon: "X", rank: "kingdom", parent: "" }], /not the root/],
    [
      "a rank not below its parent's",
      [...ROWS, { taxon: "X", rank: "order", parent: "Baetidae" }],
      /rank order/,
    ],
    [
      "the rank of its parent",
      [...ROWS, { taxon: "X", rank: "family", parent: "Baetidae" }],
      /rank family of "X" is not below the rank of its parent "Baetidae"/,
    ],
    [
      "the rank of the root below the root",
      [...ROWS, { taxon: "X", rank: "kingdom", parent: "Animalia" }],
      /rank kingdom of "X"/,
    ],
    ["no taxon", [], /no taxon/],
  ])("refuses %s", (_, rows, message) => {
    expect(() => TaxonTree.fromRows(rows)).toThrow(message);
  });

  it("gives operational taxa their parent's policy and the rank below it, or a finer one of their own", () => {
    const base = TaxonTree.fromRows([
      ...ROWS,
      {
        taxon: "Isonychia",
        rank: "genus",
        parent: "Ephemeroptera",
        commonGroup: "mayfly",
        status: "doubtful",
      },
      { taxon: "Isonychia bicolor", rank: "species", parent: "Isonychia" },
      { taxon: "Isonychia bicolor minor", rank: "subspecies", parent: "Isonychia bicolor" },
    ]);
    const grown = base.extend([
      { name: "Cottus sp. A", parent: "Cottus", members: [] },
      { name: "Isonychia sp. A", parent: "Isonychia", members: [], rank: "species" },
      { name: "Baetidae group", parent: "Baetidae", members: [] },
      { name: "Genera of Baetidae", parent: "Baetidae", members: [], rank: "genus" },
      { name: "Coarse", parent: "Baetis", members: [], rank: "order" },
      { name: "Beyond species", parent: "Isonychia bicolor", members: [] },
      { name: "Beyond subspecies", parent: "Isonychia bicolor minor", members: [] },
    ]);
    const about = (name: string) => {
      const at = grown.numberOf(name) ?? -1;
      return [
        grown.rankOf(at),
        grown.policies[at],
        grown.policyReasons[at],
        grown.commonGroups[at],
        grown.statuses[at],
      ];
    };
    const below = (name: string) => RANKS[RANKS.indexOf(grown.rankOf(grown.numberOf(name) ?? -1)) + 1];
    expect(about("Cottus sp. A")).toEqual([below("Cottus"), "exclude", "vertebrate", "", "operational"]);
    expect(about("Isonychia sp. A")).toEqual(["species", "count", "", "mayfly", "operational"]);
    expect(about("Baetidae group")).toEqual([below("Baetidae"), "count", "", "", "operational"]);
    expect(about("Genera of Baetidae")).toEqual(["genus", "count", "", "", "operational"]);
    expect(about("Coarse")).toEqual([below("Baetis"), "count", "", "", "operational"]);
    // Nothing is finer than the finest rank.
    expect(about("Beyond species")[0]).toBe("subspecies");
    expect(about("Beyond subspecies")[0]).toBe("subspecies");
    // What was there stays as it was.
    expect(about("Isonychia")).toEqual(["genus", "count", "", "mayfly", "doubtful"]);
    expect(about("Baetis")).toEqual(["genus", "count", "", "", "accepted"]);
    expect(about("Cottus").slice(1, 3)).toEqual(["exclude", "vertebrate"]);
    expect(() => base.extend([{ name: "x", parent: "Nobody", members: [] }])).toThrow(
      'parent "Nobody" of "x"',
    );
  });

  it("has no parent above the root, no name for a number that is not there", () => {
    expect(tree.parentOf(0)).toBe(-1);
    expect(tree.rankOf(0)).toBe("kingdom");
    expect(tree.depthOf(0)).toBe(0);
    expect(() => tree.nameOf(tree.size)).toThrow(new RangeError(`no taxon has the number ${tree.size}`));
  });

  it("takes a policy of its own without a reason", () => {
    const own = TaxonTree.fromRows([
      ...ROWS,
      { taxon: "Isonychia", rank: "genus", parent: "Chordata", policy: "count" },
    ]);
    const at = own.numberOf("Isonychia") ?? -1;
    expect([own.policies[at], own.policyReasons[at]]).toEqual(["count", ""]);
  });

  it("keeps taxa with the names of object properties", () => {
    const odd = TaxonTree.fromRows([
      { taxon: "Animalia", rank: "kingdom", parent: "" },
      { taxon: "__proto__", rank: "genus", parent: "Animalia" },
      { taxon: "constructor", rank: "genus", parent: "Animalia" },
    ]);
    expect(odd.numberOf("__proto__")).toBe(1);
    expect(odd.numberOf("constructor")).toBe(2);
    expect(odd.numberOf("toString")).toBeUndefined();
  });
});
