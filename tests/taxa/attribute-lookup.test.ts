import { describe, expect, it } from "vitest";
import type { AttributeScheme, AttributeTable } from "../../src/model/attributes.ts";
import type { TaxonTree } from "../../src/model/taxon-tree.ts";
import { NameResolver, operationalTaxa } from "../../src/names/resolve.ts";
import {
  AttributeValueError,
  compileAttribute,
  isNumeric,
  scoreAsTaxa,
  scoredInCircle,
  taxaNotInTree,
} from "../../src/taxa/attribute-lookup.ts";
import { shared } from "../helpers/shared-tables.ts";
import { taxon, tree } from "../helpers/worm-and-mayfly-tree.ts";

const SCALE: AttributeScheme = {
  scheme: "test",
  attribute: "tolerance",
  level: "any",
  min: 0,
  max: 10,
  direction: "higher-is-tolerant",
  region: "",
  sourceId: "",
  note: "",
};
const GROUPS: AttributeScheme = {
  ...SCALE,
  attribute: "feeding_group",
  min: undefined,
  max: undefined,
  direction: "",
};

function table(
  scheme: AttributeScheme,
  values: Readonly<Record<string, string>>,
  scoreAs: Readonly<Record<string, string>> = {},
): AttributeTable {
  return {
    scheme,
    values: new Map(
      Object.entries(values).map(([name, text]) => [name, { text, sourceId: "", verified: "set" as const }]),
    ),
    scoreAs: new Map(Object.entries(scoreAs)),
  };
}

/** The value of a taxon and the taxon it comes from. */
function lookedUp(given: AttributeTable, name: string, grown: TaxonTree = tree): [number | string, string] {
  const compiled = compileAttribute(given, grown);
  const at = grown.numberOf(name) ?? -1;
  if (compiled.has[at] === 0) return ["", ""];
  const category = compiled.categories[compiled.category[at] ?? -1];
  const from = grown.nameOf(compiled.from[at] ?? -1);
  return [category ?? (compiled.scaled[at] ?? 0) / compiled.scale, from];
}

describe("the value of a taxon", () => {
  const values = table(SCALE, { Baetidae: "4", "Baetis tricaudatus": "5.35", Oligochaeta: "8" });

  it.each([
    ["Baetis tricaudatus", 5.35, "Baetis tricaudatus"],
    ["Baetis", 4, "Baetidae"],
    ["Baetis sp. A", 4, "Baetidae"],
    ["Limnodrilus", 8, "Oligochaeta"],
    ["Imm. Tubificidae with hair chaetae", 8, "Oligochaeta"],
    ["Ephemeroptera", "", ""],
    ["Cricotopus", "", ""],
  ])("%s: %s, from %s", (name, value, from) => {
    expect(lookedUp(values, name)).toEqual([value, from]);
  });

  it("is that of the named species for a species group, of the taxon above for a slash", () => {
    expect(lookedUp(values, "Baetis tricaudatus group")).toEqual([5.35, "Baetis tricaudatus"]);
    const midges = table(SCALE, { Cricotopus: "7", Orthocladius: "6", Chironomidae: "5" });
    expect(lookedUp(midges, "Cricotopus/Orthocladius")).toEqual([5, "Chironomidae"]);
  });

  it("is a group's own when the table has a row for it", () => {
    const midges = table(SCALE, { "Cricotopus/Orthocladius": "6.5", Chironomidae: "5" });
    expect(lookedUp(midges, "Cricotopus/Orthocladius")).toEqual([6.5, "Cricotopus/Orthocladius"]);
  });

  it("is a group's own before that of its one member, and the root's own before all", () => {
    const both = table(SCALE, { "Baetis tricaudatus group": "6", "Baetis tricaudatus": "5.35" });
    expect(lookedUp(both, "Baetis tricaudatus group")).toEqual([6, "Baetis tricaudatus group"]);
    const root = table(SCALE, { Animalia: "2", Baetis: "5", Acentrella: "1" }, { Animalia: "Acentrella" });
    expect(lookedUp(root, "Animalia")).toEqual([2, "Animalia"]);
    expect(lookedUp(root, "Limnodrilus")).toEqual([2, "Animalia"]);
  });

  it("of a group is that of the taxon above it where its one member is not in the tree", () => {
    const grown = tree.extend([{ name: "Gone group", parent: "Baetis", members: ["Gone"] }]);
    expect(lookedUp(table(SCALE, { Animalia: "2", Baetidae: "4" }), "Gone group", grown)).toEqual([
      4,
      "Baetidae",
    ]);
  });

  it("may be that of another taxon it is scored as, at each step of the line", () => {
    const scored = table(
      SCALE,
      { Ephemeroptera: "3", Oligochaeta: "8", Acentrella: "1" },
      { Baetidae: "Limnodrilus", Acentrella: "Oligochaeta" },
    );
    // the family is scored as a worm genus, which takes the worms' value
    expect(lookedUp(scored, "Baetis tricaudatus")).toEqual([8, "Oligochaeta"]);
    // a value of its own comes first
    expect(lookedUp(scored, "Acentrella")).toEqual([1, "Acentrella"]);
  });

  it("is kept as a whole number, whatever the decimals of the others", () => {
    const compiled = compileAttribute(
      table(SCALE, { Baetis: "5.35", Acentrella: "4", Diptera: "0.5" }),
      tree,
    );
    expect(compiled.scale).toBe(100);
    expect(compiled.scaled[taxon("Baetis")]).toBe(535);
    expect(compiled.scaled[taxon("Acentrella")]).toBe(400);
    expect(compiled.scaled[taxon("Cricotopus")]).toBe(50);
    expect(compiled.scaled[taxon("Limnodrilus")]).toBe(0);
    expect(compiled.from[taxon("Limnodrilus")]).toBe(-1);
    // A number is no category.
    expect(compiled.categories).toEqual([]);
    expect(new Set(compiled.category)).toEqual(new Set([-1]));
  });

  it("may come from the root, and from a scale with one end", () => {
    const open: AttributeScheme = { ...SCALE, min: undefined, direction: "" };
    expect(lookedUp(table(open, { Animalia: "2.5" }), "Baetis")).toEqual([2.5, "Animalia"]);
    expect(lookedUp(table(GROUPS, { Animalia: "predator" }), "Baetis")).toEqual(["predator", "Animalia"]);
  });

  it("may be zero", () => {
    expect(lookedUp(table(SCALE, { Baetis: "0" }), "Baetis tricaudatus")).toEqual([0, "Baetis"]);
  });

  it("may be a word", () => {
    const words = table(GROUPS, { Baetidae: "collector-gatherer", Baetis: "scraper", Diptera: "predator" });
    expect(lookedUp(words, "Acentrella")).toEqual(["collector-gatherer", "Baetidae"]);
    expect(lookedUp(words, "Baetis sp. B")).toEqual(["scraper", "Baetis"]);
    expect(lookedUp(words, "Limnodrilus")).toEqual(["", ""]);
    const compiled = compileAttribute(words, tree);
    expect(compiled.scale).toBe(1);
    expect(compiled.category[taxon("Limnodrilus")]).toBe(-1);
    expect(compiled.categories).toEqual(["collector-gatherer", "scraper", "predator"]);
  });

  it.each(["", "four", "5,35", "1e2", "Infinity", "11", "-1", "0.1234567"])("may not be %j", (text) => {
    expect(() => compileAttribute(table(SCALE, { Baetis: text }), tree)).toThrow("of Baetis");
  });

  it("is refused with its row and the range of the scheme", () => {
    const refused = (text: string, scheme: AttributeScheme) => {
      try {
        compileAttribute(table(scheme, { Baetis: text }), tree);
        return "taken";
      } catch (error) {
        return error instanceof AttributeValueError ? [error.name, error.taxon, error.message] : error;
      }
    };
    const said = (message: string) => ["AttributeValueError", "Baetis", message];
    expect(refused("11", SCALE)).toEqual(said('"11" of Baetis is outside the scheme\'s range 0 to 10'));
    expect(refused("-1", { ...SCALE, max: undefined })).toEqual(
      said('"-1" of Baetis is outside the scheme\'s range 0 to '),
    );
    expect(refused("11", { ...SCALE, min: undefined })).toEqual(
      said('"11" of Baetis is outside the scheme\'s range  to 10'),
    );
    expect(refused("0.5", { ...SCALE, min: 1 })).toEqual(
      said('"0.5" of Baetis is outside the scheme\'s range 1 to 10'),
    );
    expect(refused("0.123456", SCALE)).toBe("taken");
    expect(refused("0.1234567", SCALE)).toEqual(said('"0.1234567" of Baetis is not a decimal number'));
  });

  it("fits into 32 bits once it is a whole number", () => {
    const wide: AttributeScheme = { ...SCALE, max: undefined };
    const scaled = (text: string) =>
      compileAttribute(table(wide, { Baetis: text }), tree).scaled[taxon("Baetis")];
    expect(scaled("2147.483647")).toBe(2147483647);
    expect(() => scaled("2147.483648")).toThrow('"2147.483648" of Baetis is too large');
  });

  it("is a number where the scheme has a range or a direction, else a word", () => {
    const plain: AttributeScheme = { ...GROUPS };
    expect(isNumeric({ scheme: plain })).toBe(false);
    expect(isNumeric({ scheme: { ...plain, min: 0 } })).toBe(true);
    expect(isNumeric({ scheme: { ...plain, max: 0 } })).toBe(true);
    expect(isNumeric({ scheme: { ...plain, direction: "higher-is-tolerant" } })).toBe(true);
  });

  it("may not be looked up in a circle", () => {
    const circle = table(SCALE, {}, { Baetis: "Acentrella", Acentrella: "Baetis" });
    expect(() => compileAttribute(circle, tree)).toThrow("in a circle");
    const itself = table(SCALE, {}, { Baetis: "Baetis" });
    expect(() => compileAttribute(itself, tree)).toThrow('"Baetis" is scored as itself in a circle');
    // The way up from taxa that are scored as no other closes a circle too.
    const byParents = table(SCALE, {}, { Baetidae: "Limnodrilus", Tubificidae: "Baetis" });
    expect(() => compileAttribute(byParents, tree)).toThrow('"Tubificidae" is scored as itself in a circle');
    expect(scoredInCircle(byParents, tree)).toBe("Tubificidae");
    const held = table(SCALE, { Baetis: "4" }, { Baetidae: "Limnodrilus", Tubificidae: "Baetis" });
    expect(() => compileAttribute(held, tree)).not.toThrow();
    expect(scoredInCircle(held, tree)).toBe(undefined);
    expect(scoredInCircle(table(SCALE, {}, {}), tree)).toBe(undefined);
    // Any other error is none of its business.
    const broken = new Map([["Baetis", "Acentrella"]]);
    broken[Symbol.iterator] = () => {
      throw new TypeError("broken");
    };
    expect(() => scoredInCircle({ ...table(SCALE, {}), scoreAs: broken }, tree)).toThrow(TypeError);
  });

  it("of a family scored as a genus of its own is the genus's, or that of what stands above the family", () => {
    const valueIn = (values: Record<string, string>, name: string) => {
      const { has, scaled } = compileAttribute(table(SCALE, values, { Baetidae: "Baetis" }), tree);
      const taxon = tree.numberOf(name) as number;
      return has[taxon] === 1 ? scaled[taxon] : undefined;
    };
    for (const name of ["Baetidae", "Baetis", "Acentrella"]) {
      expect(valueIn({ Ephemeroptera: "3", Baetis: "4" }, name)).toBe(4);
      expect(valueIn({ Ephemeroptera: "3" }, name)).toBe(3);
      expect(valueIn({}, name)).toBe(undefined);
    }
  });

  it("passes over rows of taxa that are not in the tree, which can be listed", () => {
    const odd = table(SCALE, { Betis: "4", __proto__: "3", Baetis: "5" }, { Xyz: "Baetis", Baetis: "Abc" });
    expect(lookedUp(odd, "Baetis")).toEqual([5, "Baetis"]);
    const words = table(GROUPS, { Betis: "scraper", Baetis: "predator" });
    expect(compileAttribute(words, tree).categories).toEqual(["predator"]);
    // They are looked at all the same: a slip in one is a slip in the table.
    expect(() => compileAttribute(table(SCALE, { Betis: "four" }), tree)).toThrow('"four" of Betis');
    expect(taxaNotInTree(odd, tree)).toEqual(["Betis", "Xyz", "Abc"]);
    expect([...scoreAsTaxa(odd, tree)]).toEqual([]);
  });
});

describe("the shipped schemes", () => {
  it.each([...shared.schemes.keys()])("%s compiles", (scheme) => {
    const values = shared.loadAttribute(scheme);
    expect(taxaNotInTree(values, shared.tree)).toEqual([]);
    const compiled = compileAttribute(values, shared.tree);
    expect(compiled.has.reduce((sum, one) => sum + one, 0)).toBeGreaterThanOrEqual(values.values.size);
  });

  // Values as in reference-tables/attributes/tolerance, each with its source there.
  it.each([
    // Ameletus 0 in the Northwest column of RBP 1999, its family without a value scored as Siphlonuridae, 7
    ["rbp1999-northwest", "Ameletus", 0, "Ameletus"],
    ["rbp1999-northwest", "Ameletidae", 7, "Siphlonuridae"],
    // BMWP: Chironomidae 2; all worms as Oligochaeta, 1
    ["bmwp-1983", "Cricotopus/Orthocladius", 2, "Chironomidae"],
    ["bmwp-1983", "Tubificidae", 1, "Oligochaeta"],
  ])("%s gives %s %d, from %s", (scheme, name, value, from) => {
    const resolver = new NameResolver(shared);
    const grown = shared.tree.extend(operationalTaxa([resolver.resolve(name)]));
    expect(lookedUp(shared.loadAttribute(scheme), name, grown)).toEqual([value, from]);
  });
});
