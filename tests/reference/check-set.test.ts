import { cpSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { CheckResult } from "../../src/reference/check-set.ts";
import { checkSet } from "../../src/reference/check-set.ts";
import { checkTables } from "../../src/reference/check-tables.ts";
import { SharedFiles } from "../../src/reference/shared-files.ts";
import { loadSharedTables } from "../../src/reference/shared-tables.ts";
import { freshFolder } from "../helpers/run-jartally.ts";
import type { SetFiles } from "../helpers/sets.ts";
import { row, SHIPPED, TABLES, writeSet } from "../helpers/sets.ts";

const tables = { shared: SHIPPED, files: new SharedFiles(TABLES) };
const found = (results: readonly CheckResult[]) =>
  Object.fromEntries(
    results
      .filter((result) => result.findings.length > 0)
      .map((result) => [
        result.check,
        result.findings.map((one) => `${one.line}:${one.column} ${one.severity} ${one.code} ${one.message}`),
      ]),
  );
const check = async (files: SetFiles) =>
  found(await checkSet({ path: writeSet(files), shownAs: "bare" }, tables));

const STEPS = [row("taxa_richness", "[0,10)", 1), row("taxa_richness", "[10,)", 5)];
const EVERY = { ratings: { on: "unrounded" as const, classes: [{ rating: "any" }] } };

describe("the check of a set", () => {
  it("finds nothing where nothing is wrong", async () => {
    expect(await check({ thresholds: STEPS })).toEqual({});
  });

  it("stops at a set that cannot be used", async () => {
    const results = await checkSet({ path: writeSet({ set: "{" }), shownAs: "bare" }, tables);
    expect(results.map((result) => result.check)).toEqual(["form"]);
    expect(results[0]?.findings.map((one) => one.code)).toEqual(["bad-set"]);
  });

  it("finds gaps and overlaps, and tells stated gaps as notes", async () => {
    const thresholds = [row("taxa_richness", "[0,10)", 1), row("taxa_richness", "(10,)", 5)];
    expect(await check({ thresholds })).toEqual({
      spans: ["3:4 warning set-gap taxa_richness: 10 belongs to no class between line 2 and line 3"],
    });
    const stated = {
      metrics: [{ id: "taxa_richness", as_published: "gap" as const, tie_rule: "middle" as const }],
    };
    expect(await check({ thresholds, set: stated })).toEqual({
      "stated-gaps": [
        "3:4 note set-gap taxa_richness: 10 belongs to no class between line 2 and line 3, as published; tie rule: middle",
      ],
    });
  });

  it("finds strata and metrics without thresholds", async () => {
    const set = {
      strata: [
        { id: "a", title: "A" },
        { id: "b", title: "B" },
      ],
      metrics: [{ id: "taxa_richness" }, { id: "ept_richness" }],
    };
    const results = await check({ set, thresholds: [row("taxa_richness", "[0,)", 1, 1, { stratum: "a" })] });
    expect(results.thresholds?.map((one) => one.replace(/^\S+ /, ""))).toEqual([
      "warning no-thresholds taxa_richness has no thresholds in b",
      "warning no-thresholds ept_richness has no thresholds and enters the index as it is, beside metrics that are scored",
    ]);
  });

  it("finds an index that no class holds", async () => {
    const ratings = {
      on: "unrounded" as const,
      classes: [{ rating: "any", lower: 2, lower_included: true, upper: 4, upper_included: true }],
    };
    const results = await check({ set: { ratings }, thresholds: STEPS });
    expect(results.reach?.map((one) => one.replace(/^\S+ /, ""))).toEqual([
      "warning set-gap rating classes: no class holds 1, the lowest index that the scores can give in all",
      "warning set-gap rating classes: no class holds 5, the highest index that the scores can give in all",
    ]);
    expect(await check({ set: EVERY, thresholds: STEPS })).toEqual({});
  });

  it("finds metrics and settings that are not known", async () => {
    const results = await check({
      set: {
        metrics: [
          { id: "taxa_richnes" },
          { id: "beetles", metric: "taxa_richness", settings: { within: "Coleopter" } },
          { id: "mites", metric: "taxa_richness", settings: { witin: "Acari" } },
        ],
        index: { method: "metric", metric: "beetles" },
      },
    });
    expect(results.metrics?.map((one) => one.replace(/^\S+ /, "").replace(/;.*/, ""))).toEqual([
      'error bad-set metric "taxa_richnes" is not in the catalogue',
      'error bad-set metric "beetles": the tree of taxa has no "Coleopter"',
      'error bad-set metric "mites": unknown setting "witin"',
    ]);
  });

  it("notes taxa of its level that have no value, and only those that count", async () => {
    const results = await check({
      set: {
        level: { rank: "family" },
        attributes: { tolerance: { scheme: "hilsenhoff-1988-family" } },
        metrics: [{ id: "tolerance_index" }],
        index: { method: "metric", metric: "tolerance_index" },
        count_policy: [{ taxon: "Mollusca", policy: "exclude", reason: "not in the method" }],
      },
    });
    const taxa =
      results.values?.map((one) => one.replace(/^\S+ note no-value-at-level tolerance of /, "")) ?? [];
    // Rows of the tree and of the family list of 1988: Corixidae has no value there, Baetidae and Elmidae have.
    expect(taxa).toContain("Corixidae");
    expect(
      taxa.filter((taxon) =>
        ["Baetidae", "Elmidae", "Physidae", "Baetis", "Ephemeroptera", "Cottidae"].includes(taxon),
      ),
    ).toEqual([]);
  });

  it("finds sources that are not cited, in the set and in its taxa, and takes the set's own sources.csv", async () => {
    const files = {
      set: { sources: ["smith2001"], attributes: { tolerance: { scheme: "rbp1999-northwest" } } },
      taxa: ["Baetis,tolerance,4,jones1999,seen,"],
      thresholds: STEPS,
    };
    const results = await check(files);
    expect(results.sources?.map((one) => one.replace(/^\S+ /, ""))).toEqual([
      'warning no-citation "smith2001" is not in sources.csv',
      'warning no-citation "jones1999" is not in sources.csv',
    ]);
    const sources =
      "source_id,citation,year,url,licence_or_status,how_seen\nsmith2001,A book,2001,,,seen\njones1999,A paper,1999,,,seen\n";
    expect((await check({ ...files, sources })).sources).toBe(undefined);
  });
});

describe("the check of the shared tables", () => {
  /** The shared tables with one file changed. */
  function changed(path: string, change: (text: string) => string) {
    const folder = join(freshFolder(), "reference-tables");
    cpSync(TABLES, folder, { recursive: true });
    const file = join(folder, path);
    writeFileSync(file, change(readFileSync(file, "utf8")));
    return found(checkTables({ shared: loadSharedTables(folder), files: new SharedFiles(folder) }));
  }

  it("finds nothing in the tables of the package", () => {
    expect(found(checkTables(tables))).toEqual({});
  });

  const LIST = "attributes/tolerance/rbp1999-northwest.csv";
  it.each([
    [
      LIST,
      "Nonsensia,4,rbp1999,seen,",
      "attributes",
      /1 error bad-table "Nonsensia" is not in the tree of taxa/,
    ],
    [
      LIST,
      "Trichoptera,44,rbp1999,seen,",
      "attributes",
      /error value-out-of-range Trichoptera: 44; the scale goes from 0 to 10/,
    ],
    [LIST, "Trichoptera,4,nobody,seen,", "attributes", /warning no-citation "nobody" is not in sources.csv/],
    [LIST, "Trichoptera,four,rbp1999,seen,", "attributes", /2 error bad-table "four" is not a plain number/],
    [
      "attributes/score-as.csv",
      "rbp1999-northwest,Baetis,Betidae,x,rbp1999,seen",
      "score-as",
      /error bad-table "Betidae" is not/,
    ],
    [
      "attributes/score-as.csv",
      "rbp1999-nowhere,Baetis,Baetidae,x,rbp1999,seen",
      "score-as",
      /error bad-table there is no scheme "rbp1999-nowhere"/,
    ],
    [
      "taxa/synonyms.csv",
      "Blue wing,Betis,vernacular,,x,memory",
      "synonyms",
      /error bad-table "Betis" is not in the tree/,
    ],
    [
      "taxa/life-stages.csv",
      "Betidae,adult,count,x,memory,memory",
      "life-stages",
      /error bad-table "Betidae" is not/,
    ],
  ])("%s: the row %s", (path, line, name, message) => {
    // Trichoptera has no row of its own in the list, so that each line has one fault.
    const results = changed(path, (text) => `${text.replace(/\n?$/, "\n")}${line}\n`);
    expect(results[name]?.some((one) => message.test(one))).toBe(true);
    expect(Object.keys(results)).toEqual([name]);
  });
});
