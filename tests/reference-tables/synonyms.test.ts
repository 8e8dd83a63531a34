import { describe, expect, it } from "vitest";
import { lineage, repeated, sources, synonyms, taxa, taxonByName } from "./tables.ts";

const candidatesOf = (row: (typeof synonyms)[number]): string[] =>
  row.candidates === "" ? [] : row.candidates.split("|");

/** The lowest taxon that holds all of these. */
function lowestCommon(names: readonly string[]): string | undefined {
  const lines = names.map(lineage);
  return lines[0]?.find((taxon) => lines.every((line) => line.includes(taxon)));
}

describe("synonyms", () => {
  it("have the number of rows of each kind they should", () => {
    const tally = new Map<string, number>();
    for (const row of synonyms) tally.set(row.kind, (tally.get(row.kind) ?? 0) + 1);
    expect(synonyms).toHaveLength(471);
    expect(Object.fromEntries([...tally].sort())).toEqual({
      abbreviation: 29,
      ambiguous: 34,
      group: 7,
      "in-part": 20,
      misspelling: 194,
      slash: 21,
      suffix: 35,
      synonym: 74,
      vernacular: 57,
    });
  });

  it("name everything once, also when capitals are ignored, with a reason and a known source", () => {
    const known = new Set(sources.map((source) => source.source_id));
    expect(repeated(synonyms.map((row) => row.name.toLowerCase()))).toEqual([]);
    expect(synonyms.filter((row) => row.reason === "" || !known.has(row.source_id))).toEqual([]);
  });

  it("lead to taxa of the tree, suffixes to nothing", () => {
    const lost = synonyms.filter((row) =>
      row.kind === "suffix" ? row.accepted_name !== "" : !taxonByName.has(row.accepted_name),
    );
    expect(lost).toEqual([]);
    expect(synonyms.flatMap(candidatesOf).filter((name) => !taxonByName.has(name))).toEqual([]);
  });

  it("never stand in front of a taxon, unless they only warn of older usage", () => {
    const names = new Set(taxa.map((row) => row.taxon.toLowerCase()));
    const shadowing = synonyms.filter(
      (row) => names.has(row.name.toLowerCase()) && row.kind !== "in-part" && row.kind !== "ambiguous",
    );
    expect(shadowing).toEqual([]);
  });

  it("lead to the end at once: no target is itself a synonym to be replaced", () => {
    const replaced = new Set(
      synonyms.filter((row) => row.kind !== "ambiguous" && row.kind !== "in-part").map((row) => row.name),
    );
    expect(synonyms.filter((row) => replaced.has(row.accepted_name))).toEqual([]);
  });

  it("with several candidates are read as the lowest taxon that holds them all", () => {
    const several = synonyms.filter((row) => row.kind !== "in-part" && candidatesOf(row).length > 0);
    const astray = several.filter((row) => lowestCommon(candidatesOf(row)) !== row.accepted_name);
    expect(astray).toEqual([]);
    // 34 ambiguous, 21 slash and 3 of the 7 groups.
    expect(several).toHaveLength(58);
  });

  it("with candidates are of a kind that may have them, and those that must have them do", () => {
    const may = ["slash", "group", "ambiguous", "in-part"];
    expect(synonyms.filter((row) => row.candidates !== "" && !may.includes(row.kind))).toEqual([]);
    const must = ["slash", "ambiguous"];
    expect(synonyms.filter((row) => row.candidates === "" && must.includes(row.kind))).toEqual([]);
  });

  // Common usage of the bench, no source, unless one is named.
  it.each([
    ["Goniobasis", "Elimia"],
    ["Corbiculidae", "Cyrenidae"],
    ["Helodidae", "Scirtidae"],
    // Printed so in the seen copy of the BMWP table.
    ["Agriidae", "Calopterygidae"],
    // Pericoma and Telmatoscopus are moth flies; the table of replaced names of 2021 prints a stonefly family.
    ["Pericoma/Telmatoscopus", "Psychodidae"],
    ["Bloodworm", "Chironomidae"],
    ["Scud", "Amphipoda"],
    ["Water penny", "Psephenidae"],
    ["Trico", "Insecta"],
    ["Calopsectra", "Tanytarsini"],
  ])("%s is read as %s", (name, accepted) => {
    expect(synonyms.find((row) => row.name === name)?.accepted_name).toBe(accepted);
  });
});
