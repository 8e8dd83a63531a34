import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { demoFolder, freshFolder, runJartally } from "../helpers/run-jartally.ts";

type Row = Record<string, string>;
const rowsOf = (text: string): Row[] => parse(text, { columns: true });
const DEMO = [
  "bench-sheet.csv",
  "--samples",
  "sample-log.csv",
  "--names",
  "names.csv",
  "--reference",
  "vennaloo-demo",
];
const FAMILY = ["--reference", "hilsenhoff-family-1988"];

function folderWith(files: Readonly<Record<string, string>>): string {
  const folder = freshFolder();
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  return folder;
}

describe("score", () => {
  it("has the columns of the wide layout, in the order in which the samples first appear", () => {
    const cwd = demoFolder();
    const { stdout } = runJartally(["score", ...DEMO, "-q"], { cwd });
    expect(stdout.split("\n")[0]).toBe(
      "sample_id,site_id,collected_on,stratum,reference_set,reference_version,individuals_counted,individuals_scored,status,index,rating,flags,taxa_richness,taxa_richness_score,ept_richness,ept_richness_score,percent_dominant_taxon,percent_dominant_taxon_score,tolerance_index,tolerance_index_score",
    );
    const sheet = rowsOf(readFileSync(join(cwd, "bench-sheet.csv"), "utf8"));
    expect(rowsOf(stdout).map((row) => row.sample_id)).toEqual([
      ...new Set(sheet.map((row) => row.sample_id)),
    ]);
  });

  it("has no score columns for a set that scores no single metric", () => {
    const { stdout } = runJartally(["score", "bench-sheet.csv", "--names", "names.csv", ...FAMILY, "-q"], {
      cwd: demoFolder(),
    });
    expect(stdout.split("\n")[0]).toMatch(/,flags,family_biotic_index$/);
  });

  it("has a row a metric and one for the index in the long layout, with the values of the wide one", () => {
    const cwd = demoFolder();
    const wide = rowsOf(runJartally(["score", ...DEMO, "-q"], { cwd }).stdout);
    const long = rowsOf(runJartally(["score", ...DEMO, "-q", "--layout", "long"], { cwd }).stdout);
    expect(Object.keys(long[0] ?? {})).toEqual([
      "sample_id",
      "reference_set",
      "kind",
      "name",
      "value",
      "score",
      "rating",
    ]);
    for (const row of wide) {
      const own = long.filter((one) => one.sample_id === row.sample_id);
      expect(own).toHaveLength(5);
      for (const one of own) {
        if (one.kind === "index") expect([one.value, one.rating]).toEqual([row.index, row.rating]);
        else expect([one.value, one.score]).toEqual([row[one.name ?? ""], row[`${one.name}_score`]]);
      }
    }
  });

  it("goes on past a bad sample with 3, and writes nothing under --all-or-nothing", () => {
    const cwd = folderWith({ "a.csv": "sample_id,taxon,count\nA,Betis,5\nB,Baetidae,120\n" });
    const result = runJartally(["score", "a.csv", ...FAMILY], { cwd });
    expect(result.status).toBe(3);
    expect(rowsOf(result.stdout).map((row) => [row.sample_id, row.status, row.index, row.flags])).toEqual([
      ["A", "refused", "", "unknown-taxon"],
      ["B", "scored", "4", ""],
    ]);
    expect(result.stderr).toMatch(/^a\.csv:2:2 error unknown-taxon .*close names: Baetis/m);
    const none = runJartally(["score", "a.csv", ...FAMILY, "--all-or-nothing", "-o", "out.csv"], { cwd });
    expect([none.status, none.stdout]).toEqual([3, ""]);
    expect(existsSync(join(cwd, "out.csv"))).toBe(false);
  });

  it("turns warnings into 1 under --strict, and writes every finding to a file", () => {
    const cwd = folderWith({ "a.csv": "sample_id,taxon,count\nA,Baetidae,99\n" });
    expect(runJartally(["score", "a.csv", ...FAMILY], { cwd }).status).toBe(0);
    const result = runJartally(["score", "a.csv", ...FAMILY, "--strict", "--findings", "found.csv"], { cwd });
    expect(result.status).toBe(1);
    expect(rowsOf(readFileSync(join(cwd, "found.csv"), "utf8"))).toMatchObject([
      { file: "a.csv", line: "2", column: "1", severity: "warning", code: "few-animals", sample_id: "A" },
    ]);
  });

  it("groups repeats of a finding", () => {
    const names = [
      "Betis",
      "Cenis",
      "Efemera",
      "Epeorius",
      "Drunela",
      "Zapata",
      "Sweltza",
      "Perla x",
      "Hexatoma?x",
    ];
    const rows = names.flatMap((name, at) => [`S${at},${name},5`, `T${at},${name},5`]);
    const cwd = folderWith({ "a.csv": `sample_id,taxon,count\n${rows.join("\n")}\n` });
    const { stderr } = runJartally(["score", "a.csv", ...FAMILY, "--max-findings", "2"], { cwd });
    // The same name in another row is one thing to put right.
    expect(stderr).toMatch(/^a\.csv:2:2 error unknown-taxon "Betis" .*; also in line 3 \(/m);
    expect(stderr.match(/error unknown-taxon/g)).toHaveLength(2);
    expect(stderr).toContain("... and 14 more unknown-taxon");
    expect(stderr).toContain("findings: 18 errors");
  });

  it("prints the seed it used, and with random a fresh one that can be used again", () => {
    const cwd = demoFolder();
    const first = runJartally(["score", ...DEMO, "--seed", "random"], { cwd });
    const seed = /; seed (\d+)$/m.exec(first.stderr)?.[1] ?? "";
    expect(seed).toMatch(/^\d{1,16}$/);
    expect(runJartally(["score", ...DEMO, "--seed", seed], { cwd }).stdout).toBe(first.stdout);
    expect(runJartally(["score", ...DEMO], { cwd }).stderr).toMatch(/; seed 1$/m);
  });

  it("says of every set how it was checked and what it was made for", () => {
    const cwd = demoFolder();
    const { stderr } = runJartally(["score", "bench-sheet.csv", "--names", "names.csv", ...FAMILY], { cwd });
    expect(stderr).toMatch(/set hilsenhoff-family-1988 \S+ \(recalled from memory/);
    expect(stderr).toContain("no legal determination");
  });

  it("refuses a stratum for all samples that the set does not have, as wrong usage", () => {
    const result = runJartally(["score", ...DEMO, "--stratum", "moon"], { cwd: demoFolder() });
    expect([result.status, result.stdout]).toEqual([2, ""]);
    expect(result.stderr).toBe(
      'jartally: --stratum: the set vennaloo-demo has no stratum "moon" (it has upland, valley, lowland)\n',
    );
  });

  it("names close ids of a set it does not know", () => {
    const result = runJartally(["score", "a.csv", "--reference", "vennalo-demo"], {
      cwd: folderWith({ "a.csv": "x" }),
    });
    expect([result.status, result.stdout]).toEqual([2, ""]);
    expect(result.stderr).toContain("vennaloo-demo");
  });

  it("shows control characters of the data, and never sends them to the terminal", () => {
    const cwd = folderWith({ "a.csv": 'sample_id,taxon,count\nA,"Bae\u001b[2Jtis",5\n' });
    const result = runJartally(["score", "a.csv", ...FAMILY, "--format", "table"], { cwd });
    expect(result.stderr + result.stdout).not.toContain("\u001b");
    expect(result.status).toBe(3);
  });
});
