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

const words = process.argv.slice(2).filter((word) => !word.startsWith("--"));
const samples = Number(words[0] ?? 40_000);
const runs = Number(words[1] ?? 5);
const here = (name) => fileURLToPath(new URL(name, import.meta.url));
const bin = here("../../bin/jartally.js");
const node = process.execPath;
const folder = mkdtempSync(join(tmpdir(), "jartally-archive-"));

/** Seconds, processor seconds and peak memory of one run, as the operating system counts them. */
function once(command) {
  const result = spawnSync("/usr/bin/time", ["-f", "%e %U %S %M", ...command], {
    cwd: folder,
    encoding: "utf8",
    stdio: ["ignore", "ignore", "pipe"],
    maxBuffer: 1 << 28,
  });
  const [wall, user, system, kilobytes] = result.stderr.trim().split("\n").at(-1).split(" ").map(Number);
  return { wall, processor: user + system, mebibytes: kilobytes / 1024 };
}

function median(values) {
  return values.toSorted((a, b) => a - b)[values.length >> 1];
}

/** Runs all commands in turn and prints a line for each; ratios are to the first. */
function compare(commands) {
  const measured = new Map(commands.map(([name]) => [name, []]));
  for (let run = 0; run <= runs; run++)
    for (const [name, command] of commands) {
      const one = once(command);
      // The first round warms the caches of the disk.
      if (run > 0) measured.get(name).push(one);
    }
  let base;
  for (const [name, all] of measured) {
    const wall = median(all.map((one) => one.wall));
    const processor = median(all.map((one) => one.processor));
    base ??= { wall, processor };
    console.log(
      [
        name.padEnd(36),
        `${wall.toFixed(2)} s`.padStart(9),
        `x ${(wall / base.wall).toFixed(2)}`.padStart(8),
        `${processor.toFixed(2)} s processor`.padStart(18),
        `x ${(processor / base.processor).toFixed(2)}`.padStart(8),
        `${median(all.map((one) => one.mebibytes)).toFixed(0)} MiB`.padStart(9),
      ].join(" "),
    );
  }
  return measured;
}

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
  compare([
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
  ]);
  if (process.argv.includes("--linear")) {
    console.log("\nthe same with fewer and more samples");
    const sizes = [1000, 10_000, 40_000, 160_000];
    for (const size of sizes) prepare(size, `of-${size}`);
    const commands = sizes.map((size) => [`${size} samples`, score(`of-${size}`, "bench-sheet.csv")]);
    compare(commands);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
