import { describe, expect, it } from "vitest";
import { NameIndex } from "../../src/names/name-index.ts";
import { NameParser } from "../../src/names/name-parser.ts";
import { NameResolver } from "../../src/names/resolve.ts";
import { NameSuggester } from "../../src/names/suggest.ts";
import type { SynonymRow } from "../../src/names/synonyms.ts";
import { brief, smallTables, synonym } from "./small-tables.ts";

// How such names are read is common practice of bench sheets, no source.

/** What a name is by the small tables with rows of the synonym table added. */
function read(name: string, ...rows: readonly SynonymRow[]): string {
  return brief(new NameResolver(smallTables(...rows)).resolve(name));
}

/** The same without suggestions: only whether it is known. */
function known(name: string, ...rows: readonly SynonymRow[]): string | undefined {
  const what = read(name, ...rows);
  return what.startsWith("unknown") ? undefined : what;
}

function parserOf(...rows: readonly SynonymRow[]): NameParser {
  const index = new NameIndex(smallTables(...rows));
  return new NameParser(index, new NameSuggester(index), () => undefined);
}

const MINNOWS = synonym("Minnow mayflies", "Baetidae", "slash", ["Baetis", "Acentrella"]);

describe("two taxa that only an accent tells apart", () => {
  it("are known by their exact names only", () => {
    expect(read("Nais")).toBe("Nais | exact");
    expect(read("Naïs")).toBe("Naïs | exact");
    expect(read("NAIS")).toBe("unknown: Nais, Naïs");
  });
});

describe("an author and a year behind a name", () => {
  it.each([
    ["Baetis Leach, 1815", "Baetis | spelling"],
    ["Baetis tricaudatus Dodds & Smith, 1923", "Baetis tricaudatus | spelling"],
    ["Baetis tricaudatus (Dodds, 1923)", "Baetis tricaudatus | spelling"],
    ["Baetis tricaudatus Dodds, 2003", "Baetis tricaudatus | spelling"],
    ["Baetis tricaudatus (Dodds, 2003)", "Baetis tricaudatus | spelling"],
    // a year alone says nothing, and other numbers are no years
    ["Baetis 1923", undefined],
    ["Baetis Dodds, 19234", undefined],
    ["Baetis Dodds, x1923", undefined],
    ["Baetis Dodds, 1623", undefined],
    ["Baetis Dodds, 20034", undefined],
    ["Baetis Dodds, x2003", undefined],
    ["Nobody Dodds, 1923", undefined],
  ])("%s: %s", (name, expected) => {
    expect(known(name)).toBe(expected);
  });
});

describe("a subgenus in brackets", () => {
  it.each([
    ["Stenonema (Maccaffertium)", "Maccaffertium | spelling"],
    ["Stenonema (Maccaffertium) pudicum", "Maccaffertium pudicum | spelling"],
    ["Baetis (Rhodobaetis) tricaudatus", "Baetis tricaudatus | spelling"],
    // a bracket may hold anything: both names must be known and belong together
    ["Baetis (Zzz)", undefined],
    ["Zzz (Baetis)", undefined],
    ["Baetis (Stenonema)", undefined],
    ["Baetis (Zzz) zzz", undefined],
    ["7 Baetis (Rhodobaetis) tricaudatus", undefined],
    ["Baetis (Rhodobaetis) tricaudatus 7", undefined],
  ])("%s: %s", (name, expected) => {
    expect(known(name)).toBe(expected);
  });
});

describe("a slash of names", () => {
  it.each([
    ["Baetis/Stenonema", "[Baetis/Stenonema] | exact"],
    ["Baetis sp./Stenonema spp.", "[Baetis/Stenonema] | spelling"],
    ["Baetis spp./Stenonema", "[Baetis/Stenonema] | spelling"],
    ["Acentrella/Baetis", "[Minnow mayflies] | spelling"],
    ["Baetis tricaudatus/Acentrella", "[Acentrella/Baetis tricaudatus] | spelling"],
    ["Baetis tricaudatus/B. intercalaris", "[Baetis intercalaris/tricaudatus] | spelling"],
    ["Stenonema/Minnow", "[Baetis/Stenonema] | synonym"],
    ["Minnow/Stenonema", "[Baetis/Stenonema] | synonym"],
    ["Minnow mayflies/Stenonema", "[Acentrella/Baetis/Stenonema] | spelling"],
    // one taxon twice is that taxon; one that holds the other is taken, and said
    ["Baetis/baetis", "Baetis | spelling"],
    ["Baetis/Baetidae", "Baetidae | spelling | uncertain"],
    ["Baetis tricaudatus/intercalaris/Baetis", "Baetis | spelling | uncertain"],
    // an epithet needs its genus, an initial must be that of the genus
    ["Baetis sp./tricaudatus", undefined],
    ["Baetis sp. tricaudatus/Acentrella", undefined],
    ["Baetis intercalaris/A. tricaudatus", undefined],
    ["Baetis intercalaris/xb tricaudatus", undefined],
    ["Baetis/Nobody", undefined],
    ["Baetis/", undefined],
  ])("%s: %s", (name, expected) => {
    expect(known(name, MINNOWS, synonym("Minnow", "Baetis", "vernacular"))).toBe(expected);
  });

  it("says that the coarser taxon holds all of it", () => {
    expect(new NameResolver(smallTables()).resolve("Baetis/Baetidae")).toMatchObject({
      warning: { text: '"baetis/baetidae" is taken as Baetidae, which holds all of it' },
    });
  });

  it("is read by its parts where the table's row for it has none of its taxa in the tree", () => {
    const row = synonym("Baetis/Acentrella", "Baetidae", "slash", ["Gone", "Gone too"]);
    expect(known("Baetis/Acentrella", row)).toBe("[Acentrella/Baetis] | spelling");
    expect(known("Gone group", synonym("Gone group", "Gone", "group"))).toBe(undefined);
  });

  it("of the lab's own taxa is made of the taxa that hold them", () => {
    const lab = new Map([
      ["Mayfly one", { accepted: "Acentrella sp. A" }],
      ["Mayfly two", { accepted: "Acentrella dorothea" }],
    ]);
    const resolver = new NameResolver(smallTables(), lab);
    expect(brief(resolver.resolve("Mayfly one/Baetis"))).toBe("[Acentrella/Baetis] | lab-list");
    expect(brief(resolver.resolve("Mayfly one/Mayfly two"))).toBe("Acentrella | lab-list | uncertain");
  });
});

describe("a species group", () => {
  it.each([
    ["Acentrella group", "[Acentrella group] | exact"],
    ["Baetis tricaudatus cplx", "[Baetis tricaudatus group] | spelling"],
    ["Baetis tricaudatus species group", "[Baetis tricaudatus group] | spelling"],
    // a slash or a group is one already
    ["Baetis/Stenonema group", "[Baetis/Stenonema] | spelling"],
    ["Minnow mayflies group", "[Minnow mayflies] | spelling"],
    // species that the tree does not list, in a genus that it does
    ["Baetis zzzeta group", "[Baetis zzzeta group] | exact | uncertain"],
    ["Baetis zzzeta/qqqua group", "[Baetis zzzeta/qqqua group] | exact | uncertain"],
    ["Baetis tricaudatus/zzzeta group", "[Baetis tricaudatus/zzzeta group] | exact | uncertain"],
    // close to a listed species it is a slip
    ["Baetis tricaudatos group", undefined],
    ["Baetis zzzeta/tricaudatos group", undefined],
    // nothing above a genus, nothing unknown
    ["Baetidae group", undefined],
    ["Baetidae zzzeta group", undefined],
    ["Minnow mayflies zzzeta group", undefined],
    ["Minnows zzzeta group", undefined],
    ["Redminnows zzzeta group", undefined],
    ["Nobody zzzeta group", undefined],
    ["7 Baetis zzzeta group", undefined],
    ["Baetis zzzeta 7 group", undefined],
    ["Baetis zzzeta/q group", undefined],
    ["group", undefined],
    ["species group", undefined],
  ])("%s: %s", (name, expected) => {
    const minnows = synonym("Minnows", "Baetidae", "slash", ["Baetis", "Acentrella"]);
    const species = ["Baetis tricaudatus", "Baetis intercalaris"];
    expect(known(name, MINNOWS, minnows, synonym("Redminnows", "Baetis", "group", species))).toBe(expected);
  });

  it("has the table's name by any of the words for it", () => {
    const members = ["Acentrella", "Baetis"];
    for (const word of ["group", "complex", "gr."]) {
      const row = synonym(`Acentrella ${word}`, "Baetidae", "group", members);
      for (const asked of ["group", "complex", "gr.", "aggregate"]) {
        const resolution = new NameResolver(smallTables(row)).resolve(`Acentrella ${asked}`);
        expect(resolution).toMatchObject({ operational: { name: row.name, members } });
      }
    }
    // A row of another kind that ends in the word is no group.
    const other = synonym("Acentrella group", "Baetis", "vernacular");
    expect(read("Acentrella complex", other)).toBe("[Acentrella group] | spelling");
  });

  it("of unlisted species holds those that the tree does list, and says what it is", () => {
    expect(new NameResolver(smallTables()).resolve("Baetis tricaudatus/zzzeta group")).toMatchObject({
      operational: { parent: "Baetis", members: ["Baetis tricaudatus"], rank: "species" },
      warning: {
        kind: "uncertain",
        text: 'the tree does not list the species of "Baetis tricaudatus/zzzeta group": kept as a taxon of its own under Baetis',
      },
    });
  });
});

describe("a provisional name", () => {
  it.each([
    ["Baetis sp. A", "[Baetis sp. A] | exact"],
    ["Baetidae genus 1", "[Baetidae genus 1] | exact"],
    ["Baetidae sp. 1", "[Baetidae sp. 1] | exact"],
    ["Minnow mayflies sp. A", "[Minnow mayflies sp. A] | exact"],
    ["Acentrella group sp. A", "[Acentrella group sp. A] | exact"],
    // no room for a species below a species, or a genus below a genus
    ["Baetis tricaudatus sp. A", undefined],
    ["Baetis genus 1", undefined],
    ["Nobody sp. A", undefined],
  ])("%s: %s", (name, expected) => {
    expect(known(name, MINNOWS)).toBe(expected);
  });
});

describe("the name that a lab accepts", () => {
  it.each([
    ["Baetis", "Baetis"],
    ["Minnow mayflies", "[Minnow mayflies]"],
    ["Baetis/Acentrella", "[Minnow mayflies]"],
    ["Baetis sp. A", "[Baetis sp. A]"],
    ["Baetis zetae", "[Baetis zetae]"],
    ["Baetis zetae-minor", "[Baetis zetae-minor]"],
    // synonyms and other spellings do not say exactly what they mean
    ["Minnow", undefined],
    ["baetis", undefined],
    ["Baetis z", undefined],
    ["Baetis zetae 2", undefined],
    ["A Baetis zetae", undefined],
    ["Baetis zetae-7", undefined],
    ["Baetidae zetae", undefined],
    ["Nobody zetae", undefined],
  ])("%s: %s", (accepted, expected) => {
    const hit = parserOf(MINNOWS, synonym("Minnow", "Baetis", "vernacular")).readAccepted(accepted);
    const { tree } = smallTables();
    const name = hit?.operational === undefined ? hit && tree.nameOf(hit.taxon) : `[${hit.operational.name}]`;
    expect(name).toBe(expected);
    if (hit !== undefined) expect([hit.via, hit.warning]).toEqual(["lab-list", undefined]);
  });

  it("may be a species that the tree does not list, below its genus", () => {
    const parser = parserOf();
    const genus = smallTables().tree.numberOf("Baetis");
    expect(parser.readAccepted("Baetis zetae")).toEqual({
      taxon: genus,
      operational: { name: "Baetis zetae", parent: "Baetis", members: [], rank: "species" },
      via: "lab-list",
    });
    expect(parser.unlistedSpecies("Baetis zetae")).toBe(genus);
    expect(parser.unlistedSpecies("Baetis tricaudatus")).toBe(undefined);
  });

  it("silences the doubt about a group of unlisted species", () => {
    expect(parserOf().readAccepted("Baetis zzzeta group")).toMatchObject({
      operational: { name: "Baetis zzzeta group" },
      warning: undefined,
    });
  });
});

describe("a synonym whose taxon the tree does not have", () => {
  it("is unknown", () => {
    expect(known("Minnow", synonym("Minnow", "Gone", "vernacular"))).toBe(undefined);
  });
});

describe("the lab's own list", () => {
  it("decides about the key of a name, even where the tree has it letter for letter", () => {
    const lab = new Map([["BAETIS", { accepted: "Acentrella" }]]);
    expect(brief(new NameResolver(smallTables(), lab).resolve("Baetis"))).toBe("Acentrella | lab-list");
    expect(brief(new NameResolver(smallTables(), lab).resolve("Baetis sp."))).toBe("Acentrella | lab-list");
  });

  it("makes a name unknown whose accepted name is not usable, instead of falling back to the tree", () => {
    const lab = new Map([["Baetis", { accepted: "Betis" }]]);
    const resolver = new NameResolver(smallTables(), lab);
    expect(brief(resolver.resolve("Baetis (L)"))).toBe("unknown: Baetis");
    expect(brief(resolver.resolve("Baetis/Acentrella"))).toMatch(/^unknown/);
  });

  it("may have one decision for two spellings of a name", () => {
    const lab = new Map([
      ["may fly", { accepted: "Baetidae" }],
      ["May-fly", { accepted: "Baetidae" }],
    ]);
    expect(brief(new NameResolver(smallTables(), lab).resolve("MAY FLY"))).toBe("Baetidae | lab-list");
  });
});

describe("a name with doubts", () => {
  it("says all of them behind what the table says of it", () => {
    const row = synonym("Baetis", "Baetis", "ambiguous", [], "ambiguous: used for two genera");
    const { warning } = { warning: undefined, ...new NameResolver(smallTables(row)).resolve("cf. Baetis?") };
    expect(warning).toEqual({
      kind: "ambiguous",
      text: '"Baetis" is ambiguous (used for two genera): taken as the taxon Baetis itself; "cf. Baetis?" is taken as Baetis in spite of "cf." and "?"',
    });
  });
});

describe("a very long name", () => {
  it("is read up to 200 characters", () => {
    const longest = `Baetis${" sp.".repeat(47)}${" sp".repeat(2)}`;
    expect(longest).toHaveLength(200);
    expect(read(longest)).toBe("Baetis | spelling");
    expect(read(`${longest}.`)).toBe("unknown: ");
  });
});
