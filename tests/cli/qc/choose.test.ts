import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runJartally } from "../../helpers/run-jartally.ts";
import { csvRows, folderWith, runQc } from "./csv-rows.ts";

function log(lots: Readonly<Record<string, number>>, more = ""): string {
  const rows = Object.entries(lots).flatMap(([lot, size]) =>
    Array.from({ length: size }, (_, at) => `${lot}-${String(at + 1).padStart(2, "0")},ana,${lot},`),
  );
  return `sample_id,sorter,lot,trainee\n${rows.join("\n")}\n${more}`;
}

function chosen(logText: string, ...words: string[]): string[] {
  const { rows } = runQc({ "log.csv": logText }, ["choose", "log.csv", ...words]);
  return rows.map((row) => row.sample_id ?? "");
}

describe("qc choose", () => {
  it("takes a tenth of each lot, rounded up, at least one, and everything of a trainee's", () => {
    const text = log({ L1: 47, L2: 3 }, "T-1,kim,L2,yes\nT-2,kim,L1,\nT-3,kim,L1,no\n");
    const { rows, status, stderr } = runQc({ "log.csv": text }, [
      "choose",
      "log.csv",
      "--by",
      "lot",
      "--seed",
      "7",
    ]);
    expect(status).toBe(0);
    const count = (lot: string, reason: string) =>
      rows.filter((row) => row.group === lot && row.reason === reason).length;
    // L1: 47 of ana's and one of kim's that is no trainee's work any more, so 5 of 48.
    expect([
      count("L1", "share"),
      count("L1", "trainee"),
      count("L2", "share"),
      count("L2", "trainee"),
    ]).toEqual([5, 1, 1, 1]);
    expect(rows.filter((row) => row.reason === "trainee").map((row) => row.sample_id)).toEqual([
      "T-2",
      "T-1",
    ]);
    expect(rows[0]).toMatchObject({ round: "1", seed: "7", algorithm: "recheck-choice/1", chosen_by: "lot" });
    expect(stderr).toContain(
      "8 samples of 53 chosen: 10% of each lot, at least one, and 2 of trainees; round 1, seed 7",
    );
  });

  it("chooses the same for ever, whatever else is in the log", () => {
    const own = chosen(log({ L1: 47 }), "--by", "lot", "--seed", "7");
    // Frozen: another choice is another version of the algorithm.
    expect(own).toEqual(["L1-04", "L1-05", "L1-25", "L1-30", "L1-45"]);
    const among = chosen(log({ L0: 12, L1: 47, L2: 30 }), "--by", "lot", "--seed", "7");
    expect(among.filter((id) => id.startsWith("L1"))).toEqual(own);
    expect(chosen(log({ L1: 47 }), "--by", "lot", "--seed", "8")).not.toEqual(own);
  });

  it("goes on in a second round, of the lots that failed only, never a sample twice", () => {
    const text = log({ L1: 47, L2: 20 });
    const first = chosen(text, "--by", "lot");
    const second = chosen(text, "--by", "lot", "--round", "2", "--only", "L1");
    expect(second).toHaveLength(5);
    expect(second.every((id) => id.startsWith("L1"))).toBe(true);
    expect(second.filter((id) => first.includes(id))).toEqual([]);
  });

  it("leaves out what an earlier choice or a check holds", () => {
    const folder = folderWith({ "log.csv": log({ L1: 47 }) });
    const words = ["qc", "choose", "log.csv", "--by", "lot"];
    writeFileSync(join(folder, "first.csv"), runJartally(words, { cwd: folder }).stdout);
    const next = runJartally([...words, "--checked", "first.csv"], { cwd: folder });
    const second = runJartally([...words, "--round", "2"], { cwd: folder });
    const ids = (text: string) => csvRows(text).map((row) => row.sample_id);
    expect(ids(next.stdout)).toEqual(ids(second.stdout));
  });

  it("says when a group has too few samples left, and which samples have no sorter", () => {
    const text = "sample_id,sorter\nA,ana\nB,\n";
    const third = runQc({ "log.csv": text }, ["choose", "log.csv", "--by", "sorter", "--round", "2"]);
    expect(third.status).toBe(0);
    expect(third.rows).toEqual([]);
    expect(third.stderr).toContain("log.csv:3:2 warning no-check-group B has no sorter");
    expect(third.stderr).toContain("warning share-exhausted sorter ana: 1 asked for, 0 left");
    expect(third.stderr).toContain("warning share-exhausted samples without a sorter: 1 asked for, 0 left");
  });

  it("takes the whole log as one group, and other shares", () => {
    expect(chosen(log({ L1: 30, L2: 17 }))).toHaveLength(5);
    expect(chosen(log({ L1: 30, L2: 17 }), "--share", "1/3")).toHaveLength(16);
    expect(chosen(log({ L1: 30 }), "--share", "100%")).toHaveLength(30);
  });

  it("draws a seed and prints it with --seed random", () => {
    const { rows } = runQc({ "log.csv": log({ L1: 30 }) }, ["choose", "log.csv", "--seed", "random"]);
    expect(rows[0]?.seed).toMatch(/^\d+$/);
    const again = runQc({ "log.csv": log({ L1: 30 }) }, ["choose", "log.csv", "--seed", rows[0]?.seed ?? ""]);
    expect(again.rows).toEqual(rows);
  });

  it("counts groups", () => {
    const { rows } = runQc({ "log.csv": log({ L1: 47 }) }, [
      "choose",
      "log.csv",
      "--by",
      "lot",
      "--table",
      "groups",
    ]);
    expect(rows).toEqual([
      {
        chosen_by: "lot",
        group: "L1",
        samples: "47",
        trainee_samples: "0",
        asked: "5",
        chosen: "5",
        exhausted: "no",
      },
    ]);
  });

  it("refuses a group that is not in the log, and writes nothing", () => {
    const result = runQc({ "log.csv": log({ L1: 4 }) }, [
      "choose",
      "log.csv",
      "--by",
      "lot",
      "--only",
      "L1,l2",
    ]);
    expect([result.status, result.stdout]).toEqual([3, ""]);
    expect(result.stderr).toContain('error no-check-group no sample of the log has the lot "l2"');
  });

  it.each([
    [["choose", "log.csv", "--only", "L1"], /--only names groups, so it needs --by/],
    [["choose", "log.csv", "--share", "11"], /--share: "11" is not a share/],
    [["choose", "log.csv", "--round", "0"], /rounds are counted from 1/],
    [["choose", "log.csv", "--by", "crew"], /--by: "crew" is not one of sorter, lot, taxonomist/],
  ])("refuses %j as wrong usage", (words, message) => {
    const { status, stderr } = runQc({ "log.csv": log({ L1: 4 }) }, words);
    expect(status).toBe(2);
    expect(stderr).toMatch(message);
  });
});
