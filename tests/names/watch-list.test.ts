import { describe, expect, it } from "vitest";
import { WatchList } from "../../src/names/watch-list.ts";
import { taxon, tree } from "../helpers/worm-and-mayfly-tree.ts";

const list = new WatchList(tree, [
  { taxon: "Baetidae", why: "counted twice last year" },
  { taxon: "Baetis tricaudatus", why: "call the curator" },
  { taxon: "Cricotopus", why: "invasive" },
  { taxon: "Dreissena", why: "not in this tree" },
]);

describe("a watch list", () => {
  it.each([
    ["Baetidae", "counted twice last year"],
    ["Acentrella", "counted twice last year"],
    ["Baetis sp. A", "counted twice last year"],
    ["Baetis tricaudatus", "call the curator"],
    ["Cricotopus bicinctus", "invasive"],
    ["Cricotopus/Orthocladius", "invasive"],
  ])("finds %s", (name, why) => {
    expect(list.find(taxon(name))?.why).toBe(why);
  });

  it.each(["Ephemeroptera", "Orthocladius", "Imm. Tubificidae with hair chaetae"])(
    "is silent about %s",
    (name) => {
      expect(list.find(taxon(name))).toBe(undefined);
    },
  );

  it("finds a group by any of its members, and everything by the root", () => {
    const late = new WatchList(tree, [{ taxon: "Orthocladius", why: "second of the slash" }]);
    expect(late.find(taxon("Cricotopus/Orthocladius"))?.why).toBe("second of the slash");
    const all = new WatchList(tree, [{ taxon: "Animalia", why: "all" }]);
    expect(all.find(taxon("Baetis sp. A"))?.why).toBe("all");
    expect(all.unknown).toEqual([]);
    const gone = new WatchList(tree, [{ taxon: "Dreissena", why: "invasive" }]);
    expect([gone.unknown, gone.find(taxon("Baetis"))]).toEqual([["Dreissena"], undefined]);
  });

  it("passes over members of a group that are not in the tree", () => {
    const grown = tree.extend([
      { name: "Gone/Orthocladius", parent: "Orthocladiinae", members: ["Gone", "Orthocladius"] },
    ]);
    const late = new WatchList(grown, [{ taxon: "Orthocladius", why: "invasive" }]);
    expect(late.find(grown.numberOf("Gone/Orthocladius") ?? -1)?.why).toBe("invasive");
  });

  it("tells which of its names are no taxa", () => {
    expect(list.unknown).toEqual(["Dreissena"]);
  });
});
