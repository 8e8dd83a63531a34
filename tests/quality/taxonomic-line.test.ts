import { describe, expect, it } from "vitest";
import { coarserOf, stepsBetween } from "../../src/quality/taxonomic-line.ts";
import { smallTree, taxon } from "./small-tree.ts";

const TREE = smallTree([
  { name: "Baetis sp. A", parent: "Baetis", members: [] },
  { name: "Acentrella/Baetis", parent: "Baetidae", members: ["Acentrella", "Baetis"] },
  { name: "Baetis/Procloeon", parent: "Baetidae", members: ["Baetis", "Procloeon"] },
  { name: "Acentrella/Baetis/Diphetor", parent: "Baetidae", members: ["Acentrella", "Baetis", "Diphetor"] },
]);

function coarser(a: string, b: string): string | undefined {
  const found = coarserOf(TREE, taxon(TREE, a), taxon(TREE, b));
  return found === undefined ? undefined : TREE.nameOf(found);
}

describe("coarserOf", () => {
  it.each([
    ["Baetis", "Baetidae", "Baetidae"],
    ["Baetis", "Baetis tricaudatus", "Baetis"],
    ["Ephemeroptera", "Baetis tricaudatus", "Ephemeroptera"],
    ["Baetis sp. A", "Baetis", "Baetis"],
    ["Acentrella/Baetis", "Baetis", "Acentrella/Baetis"],
    ["Acentrella/Baetis", "Baetis tricaudatus", "Acentrella/Baetis"],
    ["Acentrella/Baetis", "Baetidae", "Baetidae"],
    // The tree of this test has no Procloeon.
    ["Baetis/Procloeon", "Baetis tricaudatus", "Baetis/Procloeon"],
    ["Acentrella/Baetis", "Acentrella/Baetis/Diphetor", "Acentrella/Baetis/Diphetor"],
  ])("of %s and %s is %s", (a, b, expected) => {
    expect(coarser(a, b)).toBe(expected);
    expect(coarser(b, a)).toBe(expected);
  });

  it.each([
    ["Baetis", "Acentrella"],
    ["Baetis", "Baetis"],
    ["Baetis", "Heptageniidae"],
    ["Acentrella/Baetis", "Diphetor"],
    ["Baetis sp. A", "Baetis tricaudatus"],
  ])("is none for %s and %s", (a, b) => {
    expect(coarser(a, b)).toBeUndefined();
    expect(coarser(b, a)).toBeUndefined();
  });
});

describe("stepsBetween", () => {
  it("counts steps through the lowest taxon that holds both", () => {
    const steps = (a: string, b: string) => stepsBetween(TREE, taxon(TREE, a), taxon(TREE, b));
    expect(steps("Baetis", "Baetis")).toBe(0);
    expect(steps("Baetis", "Baetidae")).toBe(1);
    expect(steps("Baetis", "Acentrella")).toBe(2);
    expect(steps("Baetis", "Epeorus")).toBe(4);
  });
});
