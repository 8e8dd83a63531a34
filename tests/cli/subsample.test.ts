import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { demoFolder, freshFolder, runJartally } from "../helpers/run-jartally.ts";

type Row = Record<string, string>;
const rowsOf = (text: string): Row[] => parse(text, { columns: true });

const WORDS = ["bench-sheet.csv", "--samples", "sample-log.csv", "--names", "names.csv"];

describe("subsample --by individual", () => {
  it("leaves exactly the target of each larger sample, and smaller ones whole", () => {
    const cwd = demoFolder();
    const result = runJartally(["subsample", ...WORDS, "--target", "200", "--summary", "how.csv"], { cwd });
    expect(result.status, result.stderr).toBe(0);
    const animals = new Map<string, number>();
    for (const row of rowsOf(result.stdout)) {
      if (row.part === "large-rare") continue;
      animals.set(row.sample_id ?? "", (animals.get(row.sample_id ?? "") ?? 0) + Number(row.count));
    }
    const how = rowsOf(readFileSync(join(cwd, "how.csv"), "utf8"));
    expect(how).toHaveLength(37);
    for (const row of how) {
      const counted = Number(row.individuals_counted);
      expect(animals.get(row.sample_id ?? "")).toBe(Math.min(counted, 200));
      expect(row.status).toBe(counted > 200 ? "drawn" : "whole");
      expect([row.seed, row.algorithm, row.target]).toEqual(["1", "fixed-count-individual/1", "200"]);
      if (row.fraction_sorted !== "") {
        expect(Number(row.estimated_total)).toBeCloseTo(counted / Number(row.fraction_sorted), 6);
      }
    }
  });

  it("feeds on: its sheet scored without a draw gives the scores of the draw", () => {
    const cwd = demoFolder();
    const options = [
      "--samples",
      "sample-log.csv",
      "--names",
      "names.csv",
      "--reference",
      "vennaloo-demo",
      "-q",
    ];
    const direct = runJartally(["score", "bench-sheet.csv", ...options, "--seed", "brook"], { cwd });
    const drawn = runJartally(
      ["subsample", ...WORDS, "--target", "200", "--seed", "brook", "-q", "-o", "drawn.csv"],
      { cwd },
    );
    expect([drawn.status, drawn.stdout]).toEqual([0, ""]);
    const fed = runJartally(["score", "drawn.csv", ...options, "--target", "none"], { cwd });
    const [a, b] = [rowsOf(direct.stdout), rowsOf(fed.stdout)];
    expect(a).toHaveLength(37);
    // Only the number of animals before the draw is another.
    const rest = ({ individuals_counted: _, ...row }: Row) => row;
    expect(b.map(rest)).toEqual(a.map(rest));
  });

  it("is the same for a seed and a sample whatever the batch, and another for another seed", () => {
    const cwd = freshFolder();
    const sample = (id: string) =>
      ["Baetis,90", "Hesperoperla,80", "Simulium,70", "Zapada,60"].map((row) => `${id},${row}`);
    const draw = (rows: readonly string[], seed: string) => {
      writeFileSync(join(cwd, "sheet.csv"), `sample_id,taxon,count\n${rows.join("\n")}\n`);
      const { stdout } = runJartally(["subsample", "sheet.csv", "--target", "100", "--seed", seed, "-q"], {
        cwd,
      });
      return rowsOf(stdout).filter((row) => row.sample_id === "A");
    };
    const alone = draw(sample("A"), "1");
    expect(alone.reduce((sum, row) => sum + Number(row.count), 0)).toBe(100);
    expect(draw([...sample("Z"), ...sample("A").reverse(), ...sample("B")], "1")).toEqual(alone);
    expect(draw(sample("A"), "2")).not.toEqual(alone);
    const threads = runJartally(
      ["subsample", "sheet.csv", "--target", "100", "--seed", "2", "-q", "--threads", "2"],
      { cwd },
    );
    expect(rowsOf(threads.stdout)).toEqual(draw(sample("A"), "2"));
  });

  it("keeps a sample without animals, and drops nothing in silence", () => {
    const cwd = freshFolder();
    writeFileSync(
      join(cwd, "sheet.csv"),
      "sample_id,taxon,count\nA,Baetis,0\nB,Actinopterygii,4\nC,Betis,9\n",
    );
    const result = runJartally(["subsample", "sheet.csv", "--target", "100", "--summary", "how.csv"], {
      cwd,
    });
    expect(result.status).toBe(3);
    expect(rowsOf(result.stdout).map((row) => [row.sample_id, row.count])).toEqual([
      ["A", "0"],
      ["B", "0"],
    ]);
    expect(
      rowsOf(readFileSync(join(cwd, "how.csv"), "utf8")).map((row) => [row.sample_id, row.status]),
    ).toEqual([
      ["A", "under-target"],
      ["B", "under-target"],
      ["C", "refused"],
    ]);
    expect(result.stderr).toMatch(/sheet\.csv:4:2 error unknown-taxon "Betis"/);
  });

  it("asks for a target", () => {
    const result = runJartally(["subsample", "a.csv"]);
    expect([result.status, result.stdout]).toEqual([2, ""]);
    expect(result.stderr).toContain("--target");
  });
});
