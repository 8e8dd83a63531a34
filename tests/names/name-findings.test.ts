import { describe, expect, it } from "vitest";
import type { LifeStage } from "../../src/model/life-stage.ts";
import { nameFindings, unknownHint } from "../../src/names/name-findings.ts";
import { openNames } from "../../src/names/open-names.ts";
import { NameResolver } from "../../src/names/resolve.ts";
import { shared } from "../helpers/shared-tables.ts";
import { smallTables, synonym } from "./small-tables.ts";

const resolver = new NameResolver(shared);
const place = { file: "sheet.csv", line: 5, column: 2 };

function said(name: string, stage?: LifeStage): string[] {
  return nameFindings(name, resolver.resolve(name), { place, sampleId: "S1", stage }).map(
    ({ severity, code, message, sampleId }) => `${sampleId} ${severity} ${code} ${message}`,
  );
}

describe("findings about a name", () => {
  it.each([
    ["Acentrella", []],
    ["acentrella sp.", []],
    ["Acarina", ['S1 note renamed-taxon "Acarina" is taken as Acari: older name']],
    [
      "Hydropsyche",
      [
        'S1 warning ambiguous-name "Hydropsyche" is ambiguous (usage with or without Ceratopsyche): taken as the taxon Hydropsyche itself',
      ],
    ],
    [
      "Hydro",
      [
        'S1 warning ambiguous-name "Hydro" is ambiguous (bench abbreviation: Hydropsyche, Hydroptilidae or Hydrophilidae): taken as Insecta',
      ],
    ],
    [
      "Physella",
      [
        'S1 warning in-part-name "Physella" is only in part one taxon (lumped by some authors; own tolerance rows kept): taken as the taxon Physella itself',
      ],
    ],
    [
      "Baetis cf. tricaudatus",
      ['S1 warning uncertain-name "Baetis cf. tricaudatus" is taken as Baetis tricaudatus in spite of "cf."'],
    ],
    [
      "Cricotopus/Orthocladius",
      ['S1 note operational-taxon "Cricotopus/Orthocladius" is a taxon of its own under Orthocladiinae'],
    ],
    [
      "Orthocladius/Cricotopus",
      [
        'S1 note operational-taxon "Orthocladius/Cricotopus" (Cricotopus/Orthocladius) is a taxon of its own under Orthocladiinae',
      ],
    ],
    ["Betis", ['S1 error unknown-taxon "Betis" is no known taxon; close names: Baetis, Baetidae']],
    [
      "Rhithrogena zzzzzzzzz",
      [
        'S1 error unknown-taxon "Rhithrogena zzzzzzzzz" is no known taxon; Rhithrogena is known, the rest of the name is not listed',
      ],
    ],
  ])("%s", (name, expected) => {
    expect(said(name)).toEqual(expected);
  });

  it("offer to keep a species that the tree does not list", () => {
    const hintOf = (name: string) =>
      nameFindings(name, resolver.resolve(name), { place, sampleId: "S1" }).map(({ hint }) => hint);
    expect(hintOf("Rhithrogena zzzzzzzzz")).toEqual([
      "decide it once in names.csv: accepted name Rhithrogena, or Rhithrogena zzzzzzzzz again to keep it as a species of its own",
    ]);
    expect(hintOf("Betis")).toEqual([
      "correct the spelling, or decide it once in names.csv (sheet_name,accepted_name)",
    ]);
  });

  it("offer it for a name that is written like a species, where no listed name is close", () => {
    const within = "Rhithrogena";
    const kept = `decide it once in names.csv: accepted name ${within}, or Rhithrogena zzz again to keep it as a species of its own`;
    const unknown = { kind: "unknown", suggestions: [], within } as const;
    expect(unknownHint("Rhithrogena zzz", unknown)).toBe(kept);
    expect(unknownHint("Rhithrogena zzz", { ...unknown, suggestions: ["Rhithrogena zza"] })).toBe(undefined);
    expect(unknownHint("Rhithrogena zzz", { kind: "unknown", suggestions: [] })).toBe(undefined);
    for (const other of ["Rhithrogena zzz (L)", "? Rhithrogena zzz", "rhithrogena zzz", "Rhithrogena Zzz"])
      expect(unknownHint(other, unknown)).toBe(undefined);
  });

  it("give the reason of the table once: with the doubt where there is one, else with the new name", () => {
    const tables = smallTables(
      synonym("Minnow", "Baetis", "vernacular", [], "vernacular: anglers' word"),
      synonym("Minnows", "Baetidae", "in-part", [], "in-part: also another genus"),
      synonym("Mayfly", "Ephemeroptera", "ambiguous", [], "any of its families"),
    );
    const of = (name: string) =>
      nameFindings(name, new NameResolver(tables).resolve(name), { place, sampleId: "S1" }).map(
        ({ code, message }) => `${code} ${message}`,
      );
    expect(of("Minnow")).toEqual([`renamed-taxon "Minnow" is taken as Baetis: anglers' word`]);
    expect(of("Minnows")).toEqual([
      'in-part-name "Minnows" is only in part one taxon (also another genus): taken as Baetidae',
    ]);
    expect(of("Mayfly")).toEqual([
      'ambiguous-name "Mayfly" is ambiguous (any of its families): taken as Ephemeroptera',
    ]);
    expect(of("Minnow?")).toEqual([
      'uncertain-name "Minnow?" is taken as Baetis in spite of "?"',
      `renamed-taxon "Minnow?" is taken as Baetis: anglers' word`,
    ]);
    // A slash with a synonym in it has no one reason.
    expect(of("Minnow/Baetis")).toEqual(['renamed-taxon "Minnow/Baetis" is taken as Baetis']);
  });

  it("say when the name and the stage column disagree; nymphs are larvae", () => {
    expect(said("Elmidae (L)", "adult")).toEqual([
      'S1 warning stage-mismatch "Elmidae (L)" says larva, the life_stage column says adult',
    ]);
    expect(said("Elmidae (L)", "larva")).toEqual([]);
    expect(said("Elmidae (L)", "unknown")).toEqual([]);
    expect(said("Perlidae (L)", "nymph")).toEqual([]);
    expect(said("Perlidae (nymph)", "larva")).toEqual([]);
    // One of them says nothing.
    expect(said("Elmidae (L)")).toEqual([]);
    expect(said("Elmidae", "adult")).toEqual([]);
    expect(said("Elmidae (unknown)", "adult")).toEqual([]);
  });
});

describe("open names", () => {
  it("are each listed once with what is known, for a person to decide", () => {
    const names = [
      "Zzzzz",
      "Acarina",
      "Betis",
      "Hydropsyche",
      "Rhithrogena zzzzzzzzz",
      "Cricotopus/Orthocladius",
    ];
    const open = openNames(
      names.map((name, i) => ({ name, resolution: resolver.resolve(name), rows: i + 1 })),
    );
    expect(open).toEqual([
      { sheetName: "Betis", acceptedName: "", note: "3 rows; close names: Baetis, Baetidae" },
      {
        sheetName: "Hydropsyche",
        acceptedName: "",
        note: '4 rows; "Hydropsyche" is ambiguous (usage with or without Ceratopsyche): taken as the taxon Hydropsyche itself',
      },
      {
        sheetName: "Rhithrogena zzzzzzzzz",
        acceptedName: "",
        note: "5 rows; no close name; Rhithrogena is known",
      },
      { sheetName: "Zzzzz", acceptedName: "", note: "1 row; no close name" },
    ]);
  });
});
