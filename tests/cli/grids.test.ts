import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { demoFolder, freshFolder, runJartally } from "../helpers/run-jartally.ts";

type Row = Record<string, string>;
const rowsOf = (text: string): Row[] => parse(text, { columns: true });
const RULE = ["--target", "200", "--at-least", "4", "--within", "20%", "--seed", "7"];

function logFolder(text: string): string {
  const cwd = freshFolder();
  writeFileSync(join(cwd, "log.csv"), text);
  return cwd;
}

describe("grids", () => {
  it("writes every grid of every tray once, and pages to print", () => {
    const cwd = demoFolder();
    const words = ["grids", "sample-log.csv", "--tray", "5x6", ...RULE, "--pages", "pick.html"];
    const result = runJartally(words, { cwd });
    expect(result.status, result.stderr).toBe(0);
    expect(result.stderr).toContain("37 of 37 samples; seed 7; grid-order/1");
    expect(result.stdout.split("\n")[0]).toBe("sample_id,order,grid");
    const bySample = new Map<string, Row[]>();
    for (const row of rowsOf(result.stdout)) {
      const id = row.sample_id ?? "";
      bySample.set(id, [...(bySample.get(id) ?? []), row]);
    }
    expect(bySample.size).toBe(37);
    const all = Array.from({ length: 30 }, (_, at) => at + 1);
    for (const rows of bySample.values()) {
      expect(rows.map((row) => Number(row.order))).toEqual(all);
      expect(rows.map((row) => Number(row.grid)).sort((a, b) => a - b)).toEqual(all);
    }
    const page = readFileSync(join(cwd, "pick.html"), "utf8");
    expect(page.match(/<section class="sheet">/g)).toHaveLength(37);
    expect(page).toContain("most of its body when the head cannot be told");
    // Nothing is overwritten without being asked.
    const again = runJartally(words, { cwd });
    expect([again.status, again.stdout]).toEqual([4, ""]);
    expect(again.stderr).toContain("--force");
  });

  it("takes the tray of the log before the one given, and the second one for later trays", () => {
    const cwd = logFolder("sample_id,tray\nA,\nB,2x2\n");
    const grids = (...words: string[]) => {
      const { stdout } = runJartally(["grids", "log.csv", "--tray", "3x1,2x1", "-q", ...words], { cwd });
      return ["A", "B"].map((id) => rowsOf(stdout).filter((row) => row.sample_id === id).length);
    };
    expect(grids()).toEqual([3, 4]);
    expect(grids("--level", "2")).toEqual([2, 2]);
  });

  it("goes on past a sample without a tray, and ends with 3", () => {
    const cwd = logFolder("sample_id,tray\nA,\nB,2x2\n");
    const result = runJartally(["grids", "log.csv"], { cwd });
    expect([result.status, rowsOf(result.stdout).length]).toEqual([3, 4]);
    expect(result.stderr).toContain("log.csv:2:2 error no-tray");
  });

  it.each([
    [["--tray", "30"], "is no shape of a tray"],
    [["--within", "0.2"], "is not a percentage"],
    [["--at-least", "0"], "at least 1 grid"],
    [["--stop-at", "upper"], "is not one of lower, target"],
    [["--pages", "pick.pdf"], "neither in .html nor in .txt"],
    [["--algorithm", "fixed-count-grid/1"], "is not one of grid-order/1"],
    [["--seed", "007"], "is not a seed"],
    [["-o", "a.txt", "--pages", "a.txt"], "name the same file"],
    [["--pages", "log.txt"], "is also an input"],
  ])("refuses %s as wrong usage, with nothing written", (words, message) => {
    const cwd = logFolder("sample_id,tray\nA,2x2\n");
    writeFileSync(join(cwd, "log.txt"), "sample_id,tray\nA,2x2\n");
    const log = words.includes("log.txt") ? "log.txt" : "log.csv";
    const result = runJartally(["grids", log, ...words], { cwd });
    expect([result.status, result.stdout]).toEqual([2, ""]);
    expect(result.stderr).toContain(message);
    expect(existsSync(join(cwd, "a.txt"))).toBe(false);
  });
});

describe("grids status", () => {
  it("reads an empty pick log back: every sample begins with the first grid of its order", () => {
    const cwd = demoFolder();
    const order = rowsOf(runJartally(["grids", "sample-log.csv", "--seed", "7", "-q"], { cwd }).stdout);
    const log = ["grids", "sample-log.csv", "--seed", "7", "--layout", "log", "-q", "-o", "picks.csv"];
    expect(runJartally(log, { cwd }).status).toBe(0);
    const result = runJartally(["grids", "status", "sample-log.csv", "picks.csv", ...RULE], { cwd });
    expect(result.status, result.stderr).toBe(0);
    const rows = rowsOf(result.stdout);
    const firsts = order.filter((row) => row.order === "1").map((row) => [row.sample_id, row.grid]);
    expect(rows.map((row) => [row.sample_id, row.next_grid])).toEqual(firsts);
    expect(new Set(rows.map((row) => row.state))).toEqual(new Set(["go-on"]));
    expect(result.stderr).toContain("37 samples: 37 go-on; seed 7");
  });

  it("says for the whole batch what to do, stage by stage where asked", () => {
    const cwd = logFolder("sample_id,tray\nVN-01,5x6\nVN-02,5x6\nVN-03,2x2\n");
    const orders = rowsOf(runJartally(["grids", "log.csv", "--seed", "7", "-q"], { cwd }).stdout);
    const pick = (id: string, counts: readonly number[]) => {
      const own = orders.filter((row) => row.sample_id === id);
      return counts.map((count, at) => `${id},1,${own[at]?.grid},${count}`);
    };
    const picks = [
      ...pick("VN-01", [40, 40, 45, 45]),
      ...pick("VN-02", [50, 50, 50, 100]),
      ...pick("VN-03", [9, 0, 3, 1]),
    ];
    writeFileSync(join(cwd, "picks.csv"), `sample_id,level,grid,picked\n${picks.join("\n")}\n`);
    const states = (...words: string[]) => {
      const result = runJartally(["grids", "status", "log.csv", "picks.csv", ...RULE, ...words], { cwd });
      expect(result.status, result.stderr).toBe(0);
      return rowsOf(result.stdout);
    };
    const lower = states("--stop-at", "lower");
    expect(lower.map((row) => row.state)).toEqual(["stop", "split-last-grid", "below-target"]);
    expect([lower[0]?.animals, lower[0]?.estimated_total, lower[0]?.flags]).toEqual([
      "170",
      "1275",
      "few-grids",
    ]);
    const target = states("--stop-at", "target", "--last-grid", "whole");
    expect(target.map((row) => row.state)).toEqual(["go-on", "stop", "below-target"]);
    const stages = states("--table", "stages");
    expect(stages.map((row) => [row.level, row.whole_grids, row.estimated_total])).toEqual([
      ["1", "4", "1275"],
      ["1", "4", "1875"],
      ["1", "4", "13"],
    ]);
  });

  it("refuses what would silently do something else", () => {
    const random = runJartally(["grids", "status", "a.csv", "b.csv", "--seed", "random"]);
    expect([random.status, random.stdout]).toEqual([2, ""]);
    const before = runJartally(["grids", "--seed", "7", "status", "a.csv", "b.csv"]);
    expect([before.status, before.stdout]).toEqual([2, ""]);
    expect(before.stderr).toContain("--seed stands before status");
  });
});
