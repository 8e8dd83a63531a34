import { describe, expect, it } from "vitest";
import { TaxonTree } from "../../src/model/taxon-tree.ts";
import { NameIndex } from "../../src/names/name-index.ts";
import { groupNamedAfter, slashGroup, tableGroup, withoutNested } from "../../src/names/operational.ts";
import type { SynonymRow } from "../../src/names/synonyms.ts";
import { smallTables, synonym } from "./small-tables.ts";

function ready(...rows: readonly SynonymRow[]) {
  const index = new NameIndex(smallTables(...rows));
  return { index, numbers: (...names: string[]) => names.map((name) => index.tree.numberOf(name) ?? -1) };
}

describe("a slash group", () => {
  it.each<[string[], string, string, string]>([
    [["Baetis", "Acentrella"], "Acentrella/Baetis", "Baetidae", "genus"],
    // species of one genus share its name
    [
      ["Baetis tricaudatus", "Baetis intercalaris", "Baetis brunneicolor"],
      "Baetis brunneicolor/intercalaris/tricaudatus",
      "Baetis",
      "species",
    ],
    // anything else is written out
    [
      ["Maccaffertium pudicum", "Baetis tricaudatus"],
      "Baetis tricaudatus/Maccaffertium pudicum",
      "Ephemeroptera",
      "species",
    ],
    [["Baetis tricaudatus", "Acentrella"], "Acentrella/Baetis tricaudatus", "Baetidae", "genus"],
    // as coarse as its coarsest member
    [["Baetis tricaudatus", "Heptageniidae"], "Baetis tricaudatus/Heptageniidae", "Ephemeroptera", "family"],
  ])("of %j is %s under %s, a %s", (members, name, parent, rank) => {
    const { index, numbers } = ready();
    const sorted = [...members].sort();
    expect(slashGroup(numbers(...members), index)).toEqual({ name, parent, members: sorted, rank });
  });

  it("of names of one genus that are not all species is written out", () => {
    const { tree } = smallTables();
    const rows = tree.names.map((taxon, i) => ({
      taxon,
      rank: tree.rankOf(i),
      parent: i === 0 ? "" : tree.nameOf(tree.parentOf(i)),
    }));
    const subspecies = {
      taxon: "Baetis tricaudatus minor",
      rank: "subspecies",
      parent: "Baetis tricaudatus",
    } as const;
    const index = new NameIndex({ tree: TaxonTree.fromRows([...rows, subspecies]), synonyms: [] });
    const members = ["Baetis intercalaris", "Baetis tricaudatus minor"];
    const numbers = members.map((name) => index.tree.numberOf(name) ?? -1);
    expect(slashGroup(numbers, index)).toEqual({
      name: "Baetis intercalaris/Baetis tricaudatus minor",
      parent: "Baetis",
      members,
      rank: "species",
    });
  });

  it("has the name of the table where it has one", () => {
    const { index, numbers } = ready(synonym("Minnows", "Baetidae", "slash", ["Baetis", "Acentrella"]));
    expect(slashGroup(numbers("Baetis", "Acentrella"), index).name).toBe("Minnows");
  });
});

describe("a group named after a taxon", () => {
  it("lies beside that taxon, at its rank", () => {
    const { index, numbers } = ready();
    const [genus = -1, species = -1] = numbers("Acentrella", "Baetis tricaudatus");
    expect(groupNamedAfter(genus, index)).toEqual({
      name: "Acentrella group",
      parent: "Baetidae",
      members: ["Acentrella"],
      rank: "genus",
    });
    expect(groupNamedAfter(species, index)).toMatchObject({ parent: "Baetis", rank: "species" });
  });
});

describe("a group of the table", () => {
  const groupOf = (row: SynonymRow) => tableGroup(row, ready(row).index);

  it("of several taxa is a slash group", () => {
    expect(groupOf(synonym("Minnows", "Baetidae", "group", ["Baetis", "Acentrella"]))).toEqual({
      name: "Minnows",
      parent: "Baetidae",
      members: ["Acentrella", "Baetis"],
      rank: "genus",
    });
  });

  it("of a genus or species is named after it", () => {
    expect(groupOf(synonym("Acentrella complex", "Acentrella", "group"))).toEqual({
      name: "Acentrella complex",
      parent: "Baetidae",
      members: ["Acentrella"],
      rank: "genus",
    });
  });

  it("of a family is a part of it, of no rank of its own", () => {
    expect(groupOf(synonym("Worms with hair", "Tubificidae", "group"))).toEqual({
      name: "Worms with hair",
      parent: "Tubificidae",
      members: ["Tubificidae"],
      rank: undefined,
    });
  });

  it("is none when the tree has none of its taxa", () => {
    expect(groupOf(synonym("Gone group", "Gone", "group"))).toBe(undefined);
  });
});

it("taxa that another one holds are left out, and repeats", () => {
  const { index, numbers } = ready();
  const [family = -1, genus = -1, other = -1] = numbers("Baetidae", "Baetis", "Nais");
  expect(withoutNested([genus, family, other, genus], index.tree)).toEqual([family, other]);
  expect(withoutNested([genus, genus], index.tree)).toEqual([genus]);
});
