import { describe, expect, it } from "vitest";
import type { TargetLevel } from "../../src/quality/completeness.ts";
import { completeness, reachesLevel } from "../../src/quality/completeness.ts";
import { sheet, smallTree, taxon } from "./small-tree.ts";

const TREE = smallTree([
  { name: "Acentrella/Baetis", parent: "Baetidae", members: ["Acentrella", "Baetis"] },
  { name: "Baetis bicaudatus/tricaudatus", parent: "Baetis", members: [] },
  { name: "Baetis sp. A", parent: "Baetis", members: [] },
]);
const GENUS: TargetLevel = { rank: "genus", exceptions: [] };

describe("reachesLevel", () => {
  it.each([
    ["Baetis", true],
    ["Baetis tricaudatus", true],
    ["Baetidae", false],
    ["Ephemeroptera", false],
    ["Acentrella/Baetis", false],
    ["Baetis bicaudatus/tricaudatus", true],
    ["Baetis sp. A", true],
    ["Orthocladiinae", false],
  ])("genus: %s %s", (name, expected) => {
    expect(reachesLevel(TREE, taxon(TREE, name), GENUS)).toBe(expected);
  });

  it("does not take a provisional name for a species", () => {
    expect(reachesLevel(TREE, taxon(TREE, "Baetis sp. A"), { rank: "species", exceptions: [] })).toBe(false);
  });

  it("lets the finest group decide", () => {
    const level: TargetLevel = {
      rank: "genus",
      exceptions: [
        { taxon: taxon(TREE, "Chironomidae"), rank: "family" },
        { taxon: taxon(TREE, "Diptera"), rank: "as-named" },
      ],
    };
    const reaches = (name: string) => reachesLevel(TREE, taxon(TREE, name), level);
    expect(["Chironomidae", "Orthocladiinae", "Diptera", "Simuliidae"].map(reaches)).toEqual([
      true,
      true,
      true,
      true,
    ]);
    expect(reaches("Insecta")).toBe(false);
    const stricter: TargetLevel = {
      rank: "family",
      exceptions: [{ taxon: taxon(TREE, "Baetidae"), rank: "species" }],
    };
    expect(reachesLevel(TREE, taxon(TREE, "Baetis"), stricter)).toBe(false);
    expect(reachesLevel(TREE, taxon(TREE, "Heptageniidae"), stricter)).toBe(true);
  });
});

describe("reachesLevel with groups within groups", () => {
  const number = (name: string) => taxon(TREE, name);

  it("takes the finest group in whatever order they are listed", () => {
    const coarse = { taxon: number("Insecta"), rank: "order" as const };
    const fine = { taxon: number("Baetidae"), rank: "species" as const };
    for (const exceptions of [
      [coarse, fine],
      [fine, coarse],
    ]) {
      const level: TargetLevel = { rank: "genus", exceptions };
      expect(reachesLevel(TREE, number("Baetis"), level)).toBe(false);
      expect(reachesLevel(TREE, number("Heptageniidae"), level)).toBe(true);
    }
  });

  it("takes a group at the root of the tree too, and as-named as a level of everything", () => {
    const level: TargetLevel = {
      rank: "species",
      exceptions: [{ taxon: number("Animalia"), rank: "class" }],
    };
    expect(reachesLevel(TREE, number("Ephemeroptera"), level)).toBe(true);
    expect(reachesLevel(TREE, number("Animalia"), { rank: "as-named", exceptions: [] })).toBe(true);
    const named: TargetLevel = {
      rank: "species",
      exceptions: [{ taxon: number("Diptera"), rank: "as-named" }],
    };
    expect(reachesLevel(TREE, number("Diptera"), named)).toBe(true);
    expect(reachesLevel(TREE, number("Insecta"), named)).toBe(false);
  });
});

describe("completeness", () => {
  it("is the share of animals, not of names", () => {
    expect(completeness(TREE, sheet(TREE, { Baetis: 30, Baetidae: 10 }), GENUS)).toEqual({ num: 75, den: 1 });
  });

  it("is not computable for an empty sheet", () => {
    expect(completeness(TREE, new Map(), GENUS)).toBeUndefined();
  });
});
