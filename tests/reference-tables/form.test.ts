import { describe, expect, it } from "vitest";
import { COLUMNS, cellsOf, csvFiles, readTable, readText, repeated, schemes, sources } from "./tables.ts";

describe("form of the files", () => {
  it.each(csvFiles())("%s is UTF-8 without a mark, has LF line ends and a final one", (path) => {
    const text = readText(path);
    expect(text.startsWith("\ufeff")).toBe(false);
    expect(text.includes("\r")).toBe(false);
    expect(text.endsWith("\n")).toBe(true);
    expect(text.includes("\n\n")).toBe(false);
  });

  it.each(csvFiles())("%s has no white space at the ends of its cells and no control characters", (path) => {
    // Cc: control; Cf: invisible, such as a zero-width space; Zs beyond the plain space: no-break and the like.
    const odd = cellsOf(path).filter(
      (cell) => cell !== cell.trim() || /[\p{Cc}\p{Cf}]|(?! )\p{Zs}/u.test(cell),
    );
    expect(odd).toEqual([]);
  });

  it("holds no table beyond the documented ones, except in the sets", () => {
    const attributeTables = schemes.map((scheme) => `attributes/${scheme.file}`);
    const shared = csvFiles().filter((path) => !path.startsWith("sets/"));
    expect(shared).toEqual(
      [
        "attributes/schemes.csv",
        "attributes/score-as.csv",
        "sources.csv",
        "taxa/life-stages.csv",
        "taxa/synonyms.csv",
        "taxa/taxa.csv",
        ...attributeTables,
      ].sort(),
    );
  });
});

describe("sources", () => {
  it("have one row each with a citation, a status and how they were seen", () => {
    expect(repeated(sources.map((source) => source.source_id))).toEqual([]);
    for (const source of sources) {
      expect(source.source_id).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
      expect(source.citation.length).toBeGreaterThan(20);
      expect(source.licence_or_status).not.toBe("");
      expect(source.how_seen).toMatch(/^(seen|part seen|memory): ./);
      expect(source.year).toMatch(/^(\d{4})?$/);
      expect(source.url).toMatch(/^(https?:\/\/\S+)?$/);
    }
  });

  it("have a table of thresholds with the agreed columns in the set that goes with these tables", () => {
    expect(readTable("sets/hilsenhoff-family-1988/thresholds.csv", COLUMNS.thresholds)).toEqual([]);
  });
});
