import { describe, expect, it } from "vitest";
import { ATTRIBUTES } from "../../src/model/attributes.ts";
import {
  COLUMNS,
  readTable,
  repeated,
  rowsOf,
  schemeRows,
  schemes,
  scoreAs,
  sources,
  taxonByName,
} from "./tables.ts";

const sourceById = new Map(sources.map((source) => [source.source_id, source]));

const CATEGORIES: Readonly<Record<string, readonly string[]>> = {
  feeding_group: [
    "collector-filterer",
    "collector-gatherer",
    "omnivore",
    "parasite",
    "piercer",
    "predator",
    "scraper",
    "shredder",
  ],
  habit: ["burrower", "climber", "clinger", "diver", "skater", "sprawler", "swimmer"],
  life_cycle: ["multivoltine", "semivoltine", "univoltine"],
  origin: ["invasive", "nonnative"],
  conservation: ["protected-group"],
};

describe("schemes", () => {
  it("are seventeen, each with a known attribute, source and file of its own", () => {
    const attributes: readonly string[] = ATTRIBUTES;
    expect(schemes).toHaveLength(17);
    expect(repeated(schemes.map((scheme) => scheme.scheme))).toEqual([]);
    expect(repeated(schemes.map((scheme) => scheme.file))).toEqual([]);
    for (const scheme of schemes) {
      expect(attributes).toContain(scheme.attribute);
      expect(sourceById.has(scheme.source_id)).toBe(true);
      expect(scheme.level).not.toBe("");
      expect(scheme.region).not.toBe("");
      const folder = scheme.attribute === "tolerance" ? "tolerance" : "traits";
      expect(scheme.file).toBe(`${folder}/${scheme.scheme}.csv`);
    }
  });

  it("of numbers have a scale and a direction, those of categories have neither", () => {
    for (const scheme of schemes) {
      if (scheme.attribute === "tolerance") {
        expect(Number(scheme.max)).toBeGreaterThan(Number(scheme.min));
        expect(scheme.min).toMatch(/^\d+$/);
      } else {
        expect([scheme.min, scheme.max, scheme.direction]).toEqual(["", "", ""]);
      }
    }
  });

  it("run the right way", () => {
    const sensitive = schemes.filter((scheme) => scheme.direction === "higher-is-sensitive");
    // BMWP: Armitage and others 1983; SIGNAL 2: Chessman 2003; SASS5: Dickens and Graham 2002; MCI: Stark and
    // Maxted 2007. All four give their highest value to the most sensitive animals.
    expect(sensitive.map((scheme) => scheme.scheme)).toEqual([
      "bmwp-1983",
      "signal2-2003",
      "sass5-2002",
      "mci-hardbottom-2007",
    ]);
    const tolerant = schemes.filter((scheme) => scheme.direction === "higher-is-tolerant");
    expect(tolerant).toHaveLength(6);
  });
});

describe.each(schemes.map((scheme) => [scheme.scheme, scheme] as const))("values of %s", (_, scheme) => {
  const rows = schemeRows(scheme);

  it("stand once per taxon, and the taxon is in the tree", () => {
    expect(repeated(rows.map((row) => row.taxon))).toEqual([]);
    expect(rows.filter((row) => !taxonByName.has(row.taxon))).toEqual([]);
  });

  it("are in the range of the scheme or one of its categories", () => {
    const categories = CATEGORIES[scheme.attribute.replace("_secondary", "")] ?? [];
    const astray = rows.filter((row) =>
      scheme.attribute === "tolerance"
        ? !/^\d+(\.\d)?$/.test(row.value) ||
          Number(row.value) < Number(scheme.min) ||
          Number(row.value) > Number(scheme.max)
        : !categories.includes(row.value),
    );
    expect(astray).toEqual([]);
  });

  it("have a known source, and what was seen comes from a source that was", () => {
    const astray = rows.filter((row) => {
      const source = sourceById.get(row.source_id);
      if (source === undefined || !["seen", "memory"].includes(row.verified)) return true;
      return row.verified === "seen" && source.how_seen.startsWith("memory");
    });
    expect(astray).toEqual([]);
  });
});

describe("names in the tolerance tables", () => {
  it("are given as printed for every value", () => {
    const tolerance = schemes.filter((scheme) => scheme.attribute === "tolerance");
    const rows = tolerance.flatMap((scheme) => readTable(`attributes/${scheme.file}`, COLUMNS.tolerance));
    expect(rows).toHaveLength(2031);
    expect(rows.filter((row) => row.name_in_source === "")).toEqual([]);
    expect(rows.filter((row) => row.name_in_source !== row.taxon)).toHaveLength(74);
  });
});

describe("second feeding groups and habits", () => {
  it.each([
    ["feeding-group-secondary", "feeding-group"],
    ["habit-secondary", "habit"],
  ])("%s: only for taxa that have a first one, and not the same", (second, first) => {
    const firstOf = new Map(rowsOf(first).map((row) => [row.taxon, row.value]));
    const astray = rowsOf(second).filter((row) => (firstOf.get(row.taxon) ?? row.value) === row.value);
    expect(astray).toEqual([]);
  });
});

describe("families scored as another", () => {
  it("stand once per scheme, in schemes, taxa and sources that exist", () => {
    const ids = new Set(schemes.map((scheme) => scheme.scheme));
    expect(scoreAs).toHaveLength(45);
    expect(repeated(scoreAs.map((row) => `${row.scheme} ${row.taxon}`))).toEqual([]);
    expect(scoreAs.filter((row) => !ids.has(row.scheme) || !taxonByName.has(row.taxon))).toEqual([]);
    expect(scoreAs.filter((row) => !sourceById.has(row.source_id) || row.reason === "")).toEqual([]);
  });

  it("have no value of their own, and the other has one", () => {
    const astray = scoreAs.filter((row) => {
      const valued = new Set(rowsOf(row.scheme).map((value) => value.taxon));
      return valued.has(row.taxon) || !valued.has(row.score_as);
    });
    expect(astray).toEqual([]);
  });
});
