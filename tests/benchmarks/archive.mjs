#!/usr/bin/env node
// Times scoring of an archive beside what else could be used: csv-parse that only reads, and DuckDB where BENCH_NPM
// names a folder with the npm package @duckdb/node-api. Whole processes, in turn (A B C A B C ...), so that a busy
// machine slows all of them; medians, and their ratios to the first. Needs /usr/bin/time (GNU time).
//   node tests/benchmarks/archive.mjs [SAMPLES] [RUNS] [--linear]
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { compare } from "./compare.mjs";

const words = process.argv.slice(2).filter((word) => !word.startsWith("--"));
const samples = Number(words[0] ?? 40_000);
const runs = Number(words[1] ?? 5);
const here = (name) => fileURLToPath(new URL(name, import.meta.url));
const bin = here("../../bin/jartally.js");
const node = process.execPath;
const folder = mkdtempSync(join(tmpdir(), "jartally-archive-"));

function prepare(count, name) {
  spawnSync(node, [here("generate-sheet.mjs"), String(count), join(folder, name)]);
  spawnSync(node, [here("generate-sheet.mjs"), String(count), join(folder, name), "--shuffle"]);
  spawnSync(node, [here("make-set.mjs"), join(folder, name)]);
}

function score(name, sheet) {
  const options = ["--samples", join(name, "sample-log.csv"), "--reference", join(name, "archive-set")];
  return [node, bin, "score", join(name, sheet), ...options, "-o", "out.csv", "--force", "-q"];
}

try {
  prepare(samples, "archive");
  const peer = [node, here("peer-duckdb.mjs"), "archive"];
  const run = join(folder, "run");
  spawnSync(node, [...score("archive", "bench-sheet.csv").slice(1), "--run", run], { cwd: folder });
  const programs = [
    [
      "csv-parse, rows as arrays, nothing done",
      [node, here("floor-csv-parse.mjs"), "archive/bench-sheet.csv"],
    ],
    ["jartally score, sample by sample", score("archive", "bench-sheet.csv")],
    ["jartally score, rows in any order", score("archive", "bench-sheet-shuffled.csv")],
    [
      "jartally rescore of the run",
      [node, bin, "rescore", run, "--reference", "archive/archive-set", "-o", "again.csv", "--force", "-q"],
    ],
    ...(process.env.BENCH_NPM === undefined
      ? []
      : [
          ["DuckDB, 2 threads", [...peer, "bench-sheet.csv", "duckdb.csv"]],
          ["DuckDB, rows in any order", [...peer, "bench-sheet-shuffled.csv", "duckdb.csv"]],
        ]),
  ];
  compare(programs, folder, runs);
  if (process.argv.includes("--linear")) {
    console.log("\nthe same with fewer and more samples");
    const sizes = [1000, 10_000, 40_000, 160_000];
    for (const size of sizes) prepare(size, `of-${size}`);
    const commands = sizes.map((size) => [`${size} samples`, score(`of-${size}`, "bench-sheet.csv")]);
    compare(commands, folder, runs);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
