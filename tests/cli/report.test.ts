import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { shown } from "../../src/report/shown.ts";
import { runJartally } from "../helpers/run-jartally.ts";
import { smallLab } from "../helpers/small-lab.ts";

const SHEET = `sample_id,taxon,count,life_stage,disposition
S-1,Baetis,10,larva,
S-1,Leuctra,10,larva,
S-2,Baetis,3,larva,
S-2,Zzyzx,1,larva,
S-3,Gammarus,30,,
S-3,Unionidae,2,,released
S-4,Leuctra,12,,
`;
const LOG = `sample_id,site_id,collected_on,latitude,longitude
S-1,A/1,2024-06-01,-47.1681,-124.2731
S-2,B,2024-06-02,-47.2,-124.3
S-3,C,2024-06-03,-47.3456,-124.4567
S-4,C,2025-06-03,-47.3456,-124.4567
`;

let lab = "";
const run = (...words: string[]) => runJartally(words, { cwd: lab });
const text = (path: string) => readFileSync(join(lab, path), "utf8");

beforeAll(() => {
  lab = smallLab();
  writeFileSync(join(lab, "sheet.csv"), SHEET);
  writeFileSync(join(lab, "log.csv"), LOG);
  run(
    "score",
    "sheet.csv",
    "--samples",
    "log.csv",
    "--reference",
    "./small-set",
    "--run",
    "run",
    "-q",
    "-o",
    "s.csv",
  );
});

describe("report", () => {
  it("writes a page for the batch and one for every site", () => {
    const result = run("report", "run", "-o", "pages");
    expect([result.status, result.stdout]).toEqual([0, ""]);
    expect(result.stderr).toContain("pages/index.html and 3 pages of sites\n");
    expect(result.stderr).toContain("no legal determination");
    // No terminal, no progress.
    expect(result.stderr).not.toContain("\r");
    expect(readdirSync(join(lab, "pages")).sort()).toEqual(["index.html", "sites"]);
    expect(readdirSync(join(lab, "pages/sites")).sort()).toEqual([
      "site-A-1.html",
      "site-B.html",
      "site-C.html",
    ]);
  });

  it("links only to pages that are there", () => {
    const links = [...text("pages/index.html").matchAll(/href="(sites\/[^"]*)"/g)].map(([, to]) => to ?? "");
    expect(new Set(links)).toEqual(
      new Set(["sites/site-A-1.html", "sites/site-B.html", "sites/site-C.html"]),
    );
    for (const link of links) expect(existsSync(join(lab, "pages", link))).toBe(true);
  });

  it("shows the index, rating and values that score gives", () => {
    const [header = "", ...rows] = text("s.csv").trimEnd().split("\n");
    const row = (rows.find((one) => one.startsWith("S-1,")) ?? "").split(",");
    const cell = (name: string) => row[header.split(",").indexOf(name)] ?? "";
    // A mean tolerance of 2.5 scores 7.5 on the line from 10 to 0; two taxa score 2: 9.5 in all.
    expect([cell("index"), cell("rating"), cell("tolerance_index")]).toEqual(["9.5", "fair", "2.5"]);
    const page = text("pages/sites/site-A-1.html");
    expect(page).toContain("<strong>Fair: index 9.5.</strong>");
    expect(page).toContain("It lies 0.5 from good.");
    expect(page).toContain('<td class="number" data-label="value">2.5');
    expect(page).toContain("The most sensitive animals found: Leuctra");
  });

  it("says why a sample was refused, with file and line", () => {
    expect(text("pages/index.html")).toMatch(
      /S-2<\/th><td[^>]*>B<\/td><td[^>]*>refused<\/td><td class="wide" data-label="why">[^<]*Zzyzx[^<]*\(sheet\.csv, line 5\)/,
    );
    expect(text("pages/sites/site-B.html")).toContain("<strong>Not scored: refused.</strong>");
  });

  it("keeps the place of protected animals unless asked", () => {
    expect(text("pages/sites/site-C.html")).not.toMatch(/47\.3456|124\.4567/);
    expect(text("pages/sites/site-C.html")).toContain("Latitude -47.3, longitude -124.5, rounded");
    run("report", "run", "--exact-places", "--title", "Exact & open", "-o", "exact");
    expect(text("exact/sites/site-C.html")).toContain("Latitude -47.3456, longitude -124.4567.");
    expect(text("exact/index.html")).toContain("<h1>Exact &amp; open</h1>");
  });

  it("gives a site its history over several runs, and the same bytes again", () => {
    run(
      "score",
      "sheet.csv",
      "--samples",
      "log.csv",
      "--reference",
      "./small-set",
      "--run",
      "run-2",
      "-q",
      "-o",
      "s2.csv",
    );
    expect(run("report", "run", "run-2", "-o", "both").status).toBe(0);
    // The same samples with the same set: taken once.
    expect(text("both/sites/site-C.html")).toBe(text("pages/sites/site-C.html"));
    expect(text("both/sites/site-C.html")).toMatch(
      /Index of C over time\. 2024-06-03: [\d.]+; 2025-06-03: [\d.]+\./,
    );
  });

  it("says how sure the scores are where the run has resamples, and nothing of it elsewhere", () => {
    const words =
      "score sheet.csv --samples log.csv --reference ./small-set --resamples 50 --run sure -q -o s3.csv";
    expect(run(...words.split(" ")).status).toBe(3);
    expect(run("report", "sure", "-o", "sure-pages").status).toBe(0);
    const [header = "", row = ""] = text("s3.csv").split("\n");
    const cell = (name: string) => row.split(",")[header.split(",").indexOf(name)] ?? "";
    const [low, high, support] = ["index_low", "index_high", "rating_support"].map((name) =>
      Number(cell(name)),
    );
    expect([low, high]).not.toEqual([0, 0]);
    const page = text("sure-pages/sites/site-A-1.html");
    expect(page).toContain(
      `How sure: the 90 percent interval goes from ${shown(low ?? 0)} to ${shown(high ?? 0)}.`,
    );
    expect(page).toContain(`Of the repeated draws, ${shown((support ?? 0) * 100)} percent came out fair too`);
    expect(page).toContain("worked out from 50 repeated draws");
    // The doubts that come with the interval stand on the page too.
    expect(page).toContain("clumping-not-covered");
    expect(text("sure-pages/index.html")).toContain(`>${shown(low ?? 0)} to ${shown(high ?? 0)}</td>`);
    expect(text("pages/sites/site-A-1.html")).not.toMatch(/How sure|Interval|interval/);
  });

  it("shows quality figures that are handed over, and names a folder that has none", () => {
    const check = "sample_id,sorter,sorted_count,recovered_count\nS-1,ana,95,5\nS-3,ana,80,20\n";
    writeFileSync(join(lab, "check.csv"), check);
    expect(run("qc", "sorting", "check.csv", "--report", "sorting", "-q", "-o", "sorting.csv").status).toBe(
      1,
    );
    expect(run("report", "run", "--quality", "sorting", "-o", "with-quality").status).toBe(0);
    const page = text("with-quality/index.html");
    expect(page).toContain("At least one limit is missed.");
    expect(page).toContain(
      "Sorting efficiency of ana: 2 samples over time, limit at least 90 percent, 1 missed it: S-3 (80).",
    );
    expect(text("pages/index.html")).not.toContain("Quality figures");
    const none = run("report", "run", "--quality", "run", "-o", "none");
    expect([none.status, none.stdout]).toEqual([4, ""]);
    expect(none.stderr).toContain("run/quality.json");
    expect(run("report", "run", "--quality", "sorting,,x", "-o", "none").status).toBe(2);
    expect(existsSync(join(lab, "none"))).toBe(false);
  });

  it("refuses wrong words with 2, a taken folder and a missing run with 4", () => {
    for (const words of [["run"], ["run", "-o", "-"], ["run", "-o", "run/pages"]]) {
      const result = run("report", ...words);
      expect([result.status, result.stdout], words.join(" ")).toEqual([2, ""]);
    }
    expect(run("report", "run", "-o", "pages").status).toBe(4);
    expect(run("report", "nowhere", "-o", "new").status).toBe(4);
    expect(existsSync(join(lab, "new"))).toBe(false);
    expect(run("verify", "run", "-q", "-o", "v.csv").status).toBe(0);
  });
});
