import { describe, expect, it } from "vitest";
import {
  COLUMNS,
  cellsOf,
  csvFiles,
  effectivePolicy,
  readTable,
  readText,
  rowsOf,
  schemes,
  scoreAs,
  sources,
  synonyms,
  taxa,
  writtenValue,
} from "./tables.ts";

const readme = readText("README.md");

/** Cells of a line of a Markdown table, without the white space that aligns them. */
const cellsOfLine = (line: string): string[] =>
  line
    .slice(1, -1)
    .split("|")
    .map((cell) => cell.trim());

/** Body rows of the Markdown table with a header. @throws Error when there is not exactly one */
function tableUnder(header: string): string[][] {
  const lines = readme.split("\n").map((line) => (line.startsWith("|") ? cellsOfLine(line) : []));
  const wanted = cellsOfLine(header).join("|");
  const starts = lines.flatMap((cells, index) => (cells.join("|") === wanted ? [index] : []));
  if (starts.length !== 1) throw new Error(`${starts.length} tables with the header ${header}`);
  const body = lines.slice((starts[0] ?? 0) + 2);
  return body.slice(
    0,
    body.findIndex((cells) => cells.length === 0),
  );
}

/** Rows of a table with the word seen or memory each. */
function verifiedOf(path: string): string[] {
  if (path === "taxa/taxa.csv") return taxa.map((row) => (row.source_id === "memory" ? "memory" : "seen"));
  if (path === "taxa/synonyms.csv")
    return synonyms.map((row) => (row.source_id === "memory" ? "memory" : "seen"));
  if (path === "taxa/life-stages.csv") return readTable(path, COLUMNS.lifeStages).map((row) => row.verified);
  if (path === "attributes/score-as.csv") return scoreAs.map((row) => row.verified);
  const scheme = schemes.find((row) => path === `attributes/${row.file}`);
  if (scheme === undefined) throw new Error(`${path} belongs to no scheme`);
  return rowsOf(scheme.scheme).map((row) => row.verified);
}

describe("the README of the reference tables", () => {
  const counted = tableUnder("| table | rows | seen | memory |");

  it.each(counted)(
    "says of %s that it has %s rows, %s seen and %s from memory",
    (path, rows, seen, memory) => {
      const verified = verifiedOf(path ?? "");
      const count = (word: string): string => String(verified.filter((v) => v === word).length);
      expect([rows, seen, memory]).toEqual([String(verified.length), count("seen"), count("memory")]);
    },
  );

  it("leaves out no table", () => {
    const listed = counted.map(([path]) => path);
    const unlisted = csvFiles().filter((path) => !path.startsWith("sets/") && !listed.includes(path));
    expect(unlisted).toEqual(["attributes/schemes.csv", "sources.csv"]);
  });

  it("says how many sources and schemes there are, and how many taxa of the main ranks", () => {
    expect(readme).toContain(`\`sources.csv\` (${sources.length} sources`);
    expect(readme).toContain(`\`attributes/schemes.csv\` (${schemes.length} schemes`);
    const ranks = ["family", "genus", "species"].map(
      (rank) => taxa.filter((row) => row.rank === rank).length,
    );
    expect(ranks).toEqual([292, 1190, 594]);
    expect(readme).toContain("292 families, 1,190 genera and\n594 species");
  });

  it("names every column of every table", () => {
    const tables = Object.values(COLUMNS).flat();
    const silent = ["citation", "year", "url", "licence_or_status", "level", "region", "note", "reason"];
    const missing = new Set(tables.filter((column) => !silent.includes(column) && !readme.includes(column)));
    for (const column of COLUMNS.thresholds) missing.delete(column);
    expect([...missing]).toEqual([]);
  });

  it("lists all values of taxa that do not count by default", () => {
    // A list item runs on in lines indented by two spaces.
    const items = readme.replaceAll("\n  ", " ").matchAll(/^- `([a-z0-9-]+)`: ([A-Z][A-Za-z, ]+)$/gm);
    const listed = [...items].map(([, scheme = "", names = ""]) => [scheme, names.split(", ").sort()]);
    const found = schemes
      .filter((scheme) => scheme.attribute === "tolerance")
      .map((scheme) => [
        scheme.scheme,
        rowsOf(scheme.scheme)
          .map((row) => row.taxon)
          .filter((taxon) => effectivePolicy(taxon).policy !== "count")
          .sort(),
      ])
      .filter(([, names]) => names?.length !== 0);
    const byScheme = (a: readonly unknown[], b: readonly unknown[]): number =>
      String(a[0]) < String(b[0]) ? -1 : 1;
    expect(listed.sort(byScheme)).toEqual(found.sort(byScheme));
  });

  it.each(tableUnder("| taxon | Southeast | Upper Midwest | Northwest |"))(
    "gives the values of %s as the tables do",
    (taxon, southeast, upperMidwest, northwest) => {
      const columns = ["southeast", "upper-midwest", "northwest"];
      const values = columns.map((column) => writtenValue(`rbp1999-${column}`, taxon ?? "") ?? "");
      expect([southeast, upperMidwest, northwest]).toEqual(values);
    },
  );

  it("uses plain characters in its tables, so that a spreadsheet reads them whatever it takes them for", () => {
    const shared = csvFiles().filter((path) => !path.startsWith("sets/"));
    const odd = shared.flatMap((path) => cellsOf(path).filter((cell) => /[^\u0020-\u007e]/.test(cell)));
    expect(odd).toEqual([]);
  });
});
