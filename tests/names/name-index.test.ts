import { describe, expect, it } from "vitest";
import { groupMembers, NameIndex } from "../../src/names/name-index.ts";
import type { SynonymRow } from "../../src/names/synonyms.ts";
import { smallTables, synonym } from "./small-tables.ts";

const indexOf = (...rows: readonly SynonymRow[]) => new NameIndex(smallTables(...rows));

/** The name of the row for exactly these taxa. */
function groupOf(index: NameIndex, ...names: readonly string[]): string | undefined {
  return index.groupOf(names.map((name) => index.tree.numberOf(name) ?? -1))?.name;
}

describe("names made ready for looking up", () => {
  it("find a taxon in any spelling, unless two share it", () => {
    const index = indexOf();
    expect(index.taxonByKey("baetis tricaudatus")).toBe(index.tree.numberOf("Baetis tricaudatus"));
    expect(index.taxonByKey("animalia")).toBe(0);
    expect(index.taxonByKey("annelida")).toBe(1);
    expect(index.taxonByKey("nais")).toBe(undefined);
    expect(index.taxonByKey("nobody")).toBe(undefined);
  });

  it("find the first row of a synonym, and no marker", () => {
    const index = indexOf(
      synonym("Small minnow", "Baetis", "vernacular"),
      synonym("small-minnow", "Baetidae", "vernacular"),
      synonym("mangled", "", "suffix"),
    );
    expect(index.synonymByKey("small minnow")?.accepted).toBe("Baetis");
    expect(index.synonymByKey("mangled")).toBe(undefined);
  });
});

describe("the row that names a group of taxa", () => {
  it("is found by its taxa in any order", () => {
    const index = indexOf(
      synonym("Minnows", "Baetidae", "slash", ["Baetis", "Acentrella"]),
      synonym("Worms", "Annelida", "group", ["Nais", "Tubificidae"]),
      synonym("Both", "Animalia", "ambiguous", ["Nais", "Baetis"]),
    );
    expect(groupOf(index, "Acentrella", "Baetis")).toBe("Minnows");
    expect(groupOf(index, "Baetis", "Acentrella")).toBe("Minnows");
    expect(groupOf(index, "Tubificidae", "Nais")).toBe("Worms");
    // Neither a part of it, nor a row that is no group.
    expect(groupOf(index, "Baetis")).toBe(undefined);
    expect(groupOf(index, "Nais", "Baetis")).toBe(undefined);
  });

  it.each<[string, SynonymRow, SynonymRow]>([
    [
      "a slash before a group",
      synonym("Z slash", "Baetidae", "slash", ["Baetis", "Acentrella"]),
      synonym("A group", "Baetidae", "group", ["Baetis", "Acentrella"]),
    ],
    [
      "the word spelt out before its abbreviation",
      synonym("Z group", "Baetis", "group", ["Baetis tricaudatus"]),
      synonym("A gr.", "Baetis", "group", ["Baetis tricaudatus"]),
    ],
    [
      "the word spelt out before its abbreviation without a stop",
      synonym("Z grandis", "Baetis", "group", ["Baetis tricaudatus"]),
      synonym("A GR", "Baetis", "group", ["Baetis tricaudatus"]),
    ],
    [
      "a word in the middle is no abbreviation at the end",
      synonym("A gr. x", "Baetis", "group", ["Baetis tricaudatus"]),
      synonym("B group", "Baetis", "group", ["Baetis tricaudatus"]),
    ],
    [
      "else the first in code point order",
      synonym("A group", "Baetis", "group", ["Baetis tricaudatus"]),
      synonym("B group", "Baetis", "group", ["Baetis tricaudatus"]),
    ],
  ])("of two for the same taxa, is %s, whichever stands first", (_, better, other) => {
    const members = [...better.candidates];
    expect(groupOf(indexOf(better, other), ...members)).toBe(better.name);
    expect(groupOf(indexOf(other, better), ...members)).toBe(better.name);
  });

  it("without candidates stands for the genus or species it is filed under, not for a family", () => {
    const index = indexOf(
      synonym("Acentrella group", "Acentrella", "group"),
      synonym("Baetis brunneicolor complex", "Baetis brunneicolor", "group"),
      synonym("Worms with hair", "Tubificidae", "group"),
      synonym("Worms without hair", "Tubificidae", "group"),
      synonym("Family alone", "Heptageniidae", "group", ["Heptageniidae"]),
    );
    expect(groupOf(index, "Acentrella")).toBe("Acentrella group");
    expect(groupOf(index, "Baetis brunneicolor")).toBe("Baetis brunneicolor complex");
    expect(groupOf(index, "Tubificidae")).toBe(undefined);
    expect(groupOf(index, "Heptageniidae")).toBe("Family alone");
  });

  it("leaves out taxa that the tree does not have, and is none when it has none of them", () => {
    const partly = synonym("Partly", "Baetidae", "slash", ["Baetis", "Gone"]);
    const gone = synonym("Gone group", "Gone", "group");
    const index = indexOf(gone, partly);
    expect(groupMembers(partly, index.tree)).toEqual([index.tree.numberOf("Baetis")]);
    expect(groupMembers(gone, index.tree)).toEqual([]);
    expect(groupOf(index, "Baetis")).toBe("Partly");
    expect(groupOf(index)).toBe(undefined);
  });
});
