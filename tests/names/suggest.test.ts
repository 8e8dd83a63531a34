import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { TaxonTree } from "../../src/model/taxon-tree.ts";
import { lookupKey } from "../../src/names/lookup-key.ts";
import { NameIndex } from "../../src/names/name-index.ts";
import { NameSuggester } from "../../src/names/suggest.ts";
import type { SynonymRow } from "../../src/names/synonyms.ts";
import { shared } from "../helpers/shared-tables.ts";
import { smallTables, synonym } from "./small-tables.ts";

const { tree, synonyms } = shared;
const suggester = new NameSuggester(new NameIndex(shared));

/** Edit distance by the recurrence of Wagner & Fischer 1974 (J. ACM 21:168-173), nothing clever. */
function edits(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const swap = (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(swap, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1));
    }
    row = next;
  }
  return row[b.length] ?? 0;
}

/** The rule of the suggester, done over every name without its short cuts. */
function closestByHand(key: string): string[] {
  const limit = key.length <= 3 ? 1 : key.length <= 6 ? 2 : 3;
  const best = new Map<string, number>();
  const offer = (spelling: string, name: string) => {
    const away = edits(lookupKey(spelling), key);
    if (away <= limit) best.set(name, Math.min(away, best.get(name) ?? 99));
  };
  for (const name of tree.names) offer(name, name);
  for (const row of synonyms) {
    if (row.kind === "suffix" || tree.numberOf(row.name) !== undefined) continue;
    offer(row.name, row.kind === "slash" || row.kind === "group" ? row.name : row.accepted);
  }
  return [...best]
    .sort(([a, x], [b, y]) => x - y || (a < b ? -1 : 1))
    .slice(0, 3)
    .map(([name]) => name);
}

describe("close names", () => {
  it("are those of an exhaustive search by the same rule", () => {
    const letters = fc.constantFrom(..."aeiorstlnb /");
    const slip = fc
      .tuple(fc.constantFrom(...tree.names), fc.array(fc.tuple(fc.nat(), letters), { maxLength: 4 }))
      .map(([name, changes]) => {
        const word = [...name.toLowerCase()];
        for (const [at, letter] of changes) word.splice(at % word.length, at % 2, letter);
        return lookupKey(word.join(""));
      });
    fc.assert(
      fc.property(slip, (key) => {
        expect(suggester.closest(key)).toEqual(closestByHand(key));
      }),
      { numRuns: 25 },
    );
  });

  it("suggest the taxon a close synonym stands for, and the group a close group name is", () => {
    expect(suggester.closest(lookupKey("Acarinna"))).toContain("Acari");
    expect(suggester.closest(lookupKey("Physa/Physela"))).toEqual(["Physa/Physella"]);
  });

  const suggesterOf = (...rows: readonly SynonymRow[]) =>
    new NameSuggester(new NameIndex(smallTables(...rows)));

  it("may differ in as many letters as the limit allows, none of them in common", () => {
    // Two letters of six: "boxtis" has two that "baetis" does not have, and the other way round.
    expect(suggesterOf().closest("boxtis")).toEqual(["Baetis"]);
    expect(suggesterOf().closest("boxtus")).toEqual([]);
  });

  it("stand at the distance of the nearest spelling of each", () => {
    // "baetisq" is one letter from Baetis, two from its synonym and from Aetis.
    const tree = TaxonTree.fromRows([
      { taxon: "Animalia", rank: "kingdom", parent: "" },
      { taxon: "Aetis", rank: "genus", parent: "Animalia" },
      { taxon: "Baetis", rank: "genus", parent: "Animalia" },
    ]);
    for (const synonyms of [[], [synonym("Baetixx", "Baetis", "misspelling")]])
      expect(new NameSuggester(new NameIndex({ tree, synonyms })).closest("baetisq")).toEqual([
        "Baetis",
        "Aetis",
      ]);
  });

  it("are those of taxa and groups, not of markers", () => {
    const suggester = suggesterOf(
      synonym("mangledd", "", "suffix"),
      synonym("Tiny minnows", "Baetidae", "slash", ["Baetis", "Acentrella"]),
      synonym("Hairy worms", "Tubificidae", "group"),
      synonym("Stone clinger", "Heptageniidae", "vernacular"),
    );
    expect(suggester.closest("mangled")).toEqual([]);
    expect(suggester.closest("tiny minnow")).toEqual(["Tiny minnows"]);
    expect(suggester.closest("hairy worm")).toEqual(["Hairy worms"]);
    expect(suggester.closest("stone klinger")).toEqual(["Heptageniidae"]);
  });

  it("of a row about a taxon's own name are that taxon, not what the name may mean", () => {
    expect(suggesterOf(synonym("Baetis", "Ephemeroptera", "ambiguous")).closest("baetys")).toEqual([
      "Baetis",
    ]);
  });

  it("count the epithets of a genus up to the limit, and of no other genus", () => {
    const suggester = suggesterOf();
    const genus = smallTables().tree.numberOf("Baetis") ?? -1;
    // Three letters may differ, not four.
    expect(suggester.hasCloseSpecies(genus, "tricaudxxxs")).toBe(true);
    expect(suggester.hasCloseSpecies(genus, "tricauxxxxs")).toBe(false);
    expect(suggester.hasCloseSpecies(genus, "pudicum")).toBe(false);
  });

  it("spell out an abbreviation by up to three species in code point order, and nothing longer", () => {
    const tree = TaxonTree.fromRows([
      { taxon: "Animalia", rank: "kingdom", parent: "" },
      ...["Bd", "Bb", "Ba", "Bc", "Ca"].flatMap((genus) => [
        { taxon: genus, rank: "genus", parent: "Animalia" } as const,
        { taxon: `${genus} alba`, rank: "species", parent: genus } as const,
      ]),
    ]);
    const suggester = new NameSuggester(new NameIndex({ tree, synonyms: [] }));
    expect(suggester.expandAbbreviation("b alba")).toEqual(["Ba alba", "Bb alba", "Bc alba"]);
    expect(suggester.expandAbbreviation("c alba")).toEqual(["Ca alba"]);
    for (const key of ["xb alba", "b alba 7", "b al", "b", "alba"])
      expect(suggester.expandAbbreviation(key)).toEqual([]);
  });

  it("spell out an abbreviated genus by its species' epithet", () => {
    expect(suggester.expandAbbreviation("b tricaudatus")).toEqual(["Baetis tricaudatus"]);
    expect(suggester.expandAbbreviation("x tricaudatus")).toEqual([]);
    expect(suggester.expandAbbreviation("baetis tricaudatus")).toEqual([]);
  });
});
