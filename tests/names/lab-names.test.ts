import { describe, expect, it } from "vitest";
import { checkLabNames } from "../../src/names/lab-names.ts";
import { shared } from "../helpers/shared-tables.ts";

function check(...rows: readonly (readonly [string, string])[]): string[] {
  const entries = new Map(rows.map(([name, accepted], i) => [name, { accepted, line: i + 2 }]));
  return checkLabNames({ entries, file: "names.csv" }, shared.tree, shared.synonyms).map(
    ({ file, line, column, severity, code, message }) =>
      `${file}:${line}:${column} ${severity} ${code} ${message}`,
  );
}

describe("the lab's list of names", () => {
  it("may accept taxa of the tree, groups and provisional names made of them", () => {
    expect(
      check(
        ["Rithrogenna", "Rhithrogena"],
        ["Baetis", "Baetis"],
        ["midge 1", "Cricotopus/Orthocladius"],
        ["midge 2", "Thienemannimyia group"],
        ["worm", "Imm. Tubificidae with hair chaetae"],
        ["mayfly", "Acentrella sp. A"],
      ),
    ).toEqual([]);
  });

  it("is told of accepted names that are nothing of the kind", () => {
    expect(
      check(["a", "Betis"], ["b", "Acarina"], ["c", "Zzzzz"], ["d", "baetis"], ["e", "Baetis sp."]),
    ).toEqual([
      'names.csv:2:2 error unknown-accepted-name "Betis" is not in the taxon tree; close names: Baetis, Baetidae',
      'names.csv:3:2 error unknown-accepted-name "Acarina" is not in the taxon tree; it is a name for Acari',
      'names.csv:4:2 error unknown-accepted-name "Zzzzz" is not in the taxon tree',
      'names.csv:5:2 error unknown-accepted-name "baetis" is not in the taxon tree; the tree writes it Baetis',
      'names.csv:6:2 error unknown-accepted-name "Baetis sp." is not in the taxon tree; close names: Baetis, Baetisca',
    ]);
  });

  it("may keep a species that the tree does not list, unless it looks like a slip", () => {
    expect(
      check(
        ["E. dorothea", "Ephemerella dorothea"],
        ["Baetis tricaudatos", "Baetis tricaudatos"],
        ["B. tric", "Baetis tricaudatos"],
        ["worm", "Ephemeroptera dorothea"],
        ["mite", "ephemerella dorothea"],
      ),
    ).toEqual([
      'names.csv:4:2 error unknown-accepted-name "Baetis tricaudatos" is not in the taxon tree; close names: Baetis tricaudatus',
      'names.csv:5:2 error unknown-accepted-name "Ephemeroptera dorothea" is not in the taxon tree',
      'names.csv:6:2 error unknown-accepted-name "ephemerella dorothea" is not in the taxon tree',
    ]);
  });

  it("is told of a name of the tree that it takes as a taxon of another family", () => {
    expect(
      check(
        ["Baetis", "Rhithrogena"],
        ["baetis tricaudatus", "Rhithrogena dorothea"],
        ["Acentrella", "Ephemeroptera"],
        ["Perlidae", "Plecoptera/Ephemeroptera"],
        ["Rhithrogena", "Trichoptera"],
      ),
    ).toEqual([
      'names.csv:2:2 note moved-name "Baetis" (Baetidae) is taken as Rhithrogena (Heptageniidae), a taxon of another family',
      'names.csv:3:2 note moved-name "baetis tricaudatus" (Baetidae) is taken as Rhithrogena dorothea (Heptageniidae), a taxon of another family',
      'names.csv:6:2 note moved-name "Rhithrogena" (Heptageniidae) is taken as Trichoptera, a taxon of another family',
    ]);
    // Within a family, and above families, names move as the lab wants.
    expect(check(["Baetis", "Acentrella"], ["Ephemeroptera", "Perlidae"], ["Midge 1", "Perlidae"])).toEqual(
      [],
    );
  });

  it("may not decide one spelling in two ways", () => {
    expect(check(["Baetis sp.", "Baetis"], ["Mayfly", "Baetidae"], ["baetis sp", "Baetidae"])).toEqual([
      'names.csv:4:1 error clashing-names "baetis sp" is Baetidae here and "Baetis sp." is Baetis in line 2',
    ]);
    expect(check(["Baetis sp.", "Baetis"], ["baetis sp", "Baetis"])).toEqual([]);
  });
});
