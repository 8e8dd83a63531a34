import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { demoFolder, freshFolder, runJartally } from "../helpers/run-jartally.ts";

type Row = Record<string, string>;
const rowsOf = (text: string): Row[] => parse(text, { columns: true });
const sumOf = (rows: readonly Row[]) => rows.reduce((sum, row) => sum + Number(row.count), 0);

/** Two samples of eight grids each with 25 animals of each of two genera. */
function gridFolder(): string {
  const cwd = freshFolder();
  const rows = ["A", "B"].flatMap((id) =>
    [1, 2, 3, 4, 5, 6, 7, 8].flatMap((grid) => [`${id},Zapada,25,${grid}`, `${id},Simulium,25,${grid}`]),
  );
  writeFileSync(join(cwd, "sheet.csv"), `sample_id,taxon,count,grid\n${rows.join("\n")}\n`);
  writeFileSync(join(cwd, "log.csv"), "sample_id,tray,grids_sorted\nA,5x6,8\nB,5x6,8\n");
  return cwd;
}
const GRID = ["sheet.csv", "--samples", "log.csv", "--by", "grid", "--target", "200", "--seed", "7"];

describe("subsample --by grid", () => {
  it("writes the grids that remain as a bench sheet, and how in the summary", () => {
    const cwd = gridFolder();
    const result = runJartally(["subsample", ...GRID, "--summary", "how.csv"], { cwd });
    expect(result.status, result.stderr).toBe(0);
    const rows = rowsOf(result.stdout);
    const how = rowsOf(readFileSync(join(cwd, "how.csv"), "utf8"));
    expect(how.map((row) => [row.status, row.individuals_counted, row.individuals_kept])).toEqual([
      ["drawn", "400", "200"],
      ["drawn", "400", "200"],
    ]);
    for (const row of how) {
      expect([row.target, row.lower, row.upper, row.split]).toEqual(["200", "160", "240", "none"]);
      expect([row.fraction_sorted, row.estimated_total]).toEqual(["0.133333333333", "1500"]);
      expect([row.seed, row.algorithm, row.flags]).toEqual(["7", "fixed-count-grid/1", "few-grids"]);
      const drawn = (row.grids ?? "").split(";");
      const own = rows.filter((one) => one.sample_id === row.sample_id);
      expect([...new Set(own.map((one) => one.grid))]).toEqual(drawn);
      expect(row.animals_in_grids).toBe("50;50;50;50");
      expect(sumOf(own)).toBe(200);
    }
    expect(how[0]?.grids).not.toBe(how[1]?.grids);
    expect(result.stderr).toContain("the estimated total of A, 1500, rests on 4 of 30 grids");
    // Its sheet is a bench sheet: it can be drawn from again.
    writeFileSync(join(cwd, "drawn.csv"), result.stdout);
    const fed = runJartally(["subsample", "drawn.csv", "--target", "150", "-q"], { cwd });
    expect([fed.status, sumOf(rowsOf(fed.stdout))]).toEqual([0, 300]);
  });

  it("heeds the end at which picking stops, the range, the last grid and the least number of grids", () => {
    const cwd = gridFolder();
    const kept = (...words: string[]) => {
      // An option given twice is refused, so the usual ones leave where a case has its own.
      const usual = GRID.filter((word, at) => !words.includes(word) && !words.includes(GRID[at - 1] ?? ""));
      const { stdout } = runJartally(["subsample", ...usual, "-q", ...words], { cwd });
      return sumOf(rowsOf(stdout).filter((row) => row.sample_id === "A"));
    };
    expect(kept("--target", "190", "--at-least", "1")).toBe(200);
    expect(kept("--target", "190", "--at-least", "1", "--within", "25%")).toBe(150);
    expect(kept("--target", "190", "--at-least", "1", "--within", "25%", "--stop-at", "target")).toBe(200);
    expect(kept("--at-least", "6")).toBe(200);
    expect(kept("--at-least", "6", "--last-grid", "whole")).toBe(300);
  });
});

describe("subsample --draws", () => {
  it("repeats with a column draw; the first is the single draw, and the rows cannot be summed by mistake", () => {
    const cwd = gridFolder();
    const words = ["subsample", "sheet.csv", "--target", "30", "--seed", "7", "-q"];
    const once = runJartally(words, { cwd }).stdout;
    const often = runJartally([...words, "--draws", "3", "--summary", "how.csv"], { cwd }).stdout;
    const rows = rowsOf(often);
    expect(often.split("\n")[0]).toMatch(/^sample_id,draw,taxon,count,/);
    const first = rows.filter((row) => row.draw === "1").map(({ draw: _, ...row }) => row);
    expect(first).toEqual(rowsOf(once));
    for (const draw of ["1", "2", "3"]) expect(sumOf(rows.filter((row) => row.draw === draw))).toBe(60);
    const how = rowsOf(readFileSync(join(cwd, "how.csv"), "utf8"));
    expect(how.map((row) => `${row.sample_id}${row.draw}`)).toEqual(["A1", "A2", "A3", "B1", "B2", "B3"]);
    writeFileSync(join(cwd, "draws.csv"), often);
    const fed = runJartally(["subsample", "draws.csv", "--target", "30"], { cwd });
    expect([fed.status, rowsOf(fed.stdout)]).toEqual([3, []]);
    expect(fed.stderr).toContain("keep the rows of one draw");
  });
});

describe("subsample --expected", () => {
  it("gives the expected richness of each sample and its standard error, without a draw", () => {
    const cwd = freshFolder();
    // Made-up counts; values from Hurlbert 1971 and Heck et al. 1975, worked out with exact binomials.
    const names = ["Zapada", "Simulium", "Physa", "Hesperoperla", "Pteronarcys", "Rhithrogena", "Epeorus"];
    const rows = [50, 30, 10, 5, 3, 1, 1].map((count, at) => `A,${names[at]},${count}`);
    writeFileSync(join(cwd, "sheet.csv"), `sample_id,taxon,count\n${rows.join("\n")}\nB,Zapada,9\n`);
    const result = runJartally(["subsample", "sheet.csv", "--target", "50", "--expected"], { cwd });
    expect(result.status, result.stderr).toBe(0);
    const [a, b] = rowsOf(result.stdout);
    expect([a?.status, a?.individuals_counted, a?.target, a?.taxa]).toEqual(["computed", "100", "50", "7"]);
    expect(Number(a?.expected_taxa)).toBeCloseTo(5.850052, 6);
    expect([b?.status, b?.expected_taxa, b?.flags]).toEqual(["too-few", "", "no-expected-richness"]);
  });
});

describe("subsample", () => {
  it.each([
    [["--within", "20%"], "--within is about grids and needs --by grid"],
    [["--last-grid", "whole"], "--last-grid is about grids and needs --by grid"],
    [["--algorithm", "fixed-count-grid/1"], "does not draw single animals"],
    [["--by", "grid", "--algorithm", "fixed-count-individual/1"], "does not draw by grid"],
    [["--draws", "0"], "draw from 1 to"],
    [["--expected", "--draws", "3"], "--draws is about a draw"],
    [["--expected", "--by", "grid"], "--by is about a draw"],
    [["-o", "a.csv", "--summary", "a.csv"], "name the same file"],
  ])("refuses %s as wrong usage", (words, message) => {
    const result = runJartally(["subsample", "sheet.csv", "--target", "30", ...words], { cwd: gridFolder() });
    expect([result.status, result.stdout]).toEqual([2, ""]);
    expect(result.stderr).toContain(message);
  });

  it("makes the draw of a named version, which is the newest today", () => {
    const cwd = demoFolder();
    const words = ["subsample", "bench-sheet.csv", "--names", "names.csv", "--target", "50", "-q"];
    const named = runJartally([...words, "--algorithm", "fixed-count-individual/1"], { cwd });
    expect(named.stdout).toBe(runJartally(words, { cwd }).stdout);
    expect(named.stdout.split("\n").length).toBeGreaterThan(37);
  });
});
