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

  it("tells which of its names are no taxa", () => {
    expect(list.unknown).toEqual(["Dreissena"]);
  });
});
