import { describe, expect, it } from "vitest";
import type { TaxonRow } from "../../src/model/taxon-tree.ts";
import { TaxonTree } from "../../src/model/taxon-tree.ts";

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
    ["no taxon", [], /no taxon/],
  ])("refuses %s", (_, rows, message) => {
    expect(() => TaxonTree.fromRows(rows)).toThrow(message);
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
