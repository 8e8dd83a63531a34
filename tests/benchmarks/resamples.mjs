#!/usr/bin/env node
// Times `score --resamples 1000` of samples scored with ten metrics and with the number of taxa alone, with one thread
// and with two, beside numpy that draws as many animals as often by its two methods and counts the taxa. BENCH_PYTHON
// names a Python with numpy and pandas; where it is not set, numpy is left out. Needs /usr/bin/time (GNU time).
//   BENCH_PYTHON=/usr/bin/python3 node tests/benchmarks/resamples.mjs [SAMPLES] [RUNS] [RESAMPLES]
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { compare } from "./compare.mjs";

const [samples = 1000, runs = 5, resamples = 1000] = process.argv.slice(2).map(Number);
/** Fixed count of the sets that make-set.mjs writes with --ten and --one. */
const ANIMALS = 200;
const here = (name) => fileURLToPath(new URL(name, import.meta.url));
const node = process.execPath;
const folder = mkdtempSync(join(tmpdir(), "jartally-resamples-"));
const python = process.env.BENCH_PYTHON;

const TEN = "archive-set";
const ONE = "one/archive-set";
const score = (set, ...more) => [
  ...[node, here("../../bin/jartally.js"), "score", "bench-sheet.csv", "--samples", "sample-log.csv"],
  ...["--reference", set, "-o", "out.csv", "--force", "-q", ...more],
];
const resample = (set, threads) => score(set, "--resamples", String(resamples), "--threads", String(threads));
const draw = (method) => [
  ...[python, here("peer-numpy-draws.py"), "bench-sheet.csv", "numpy.csv"],
  ...[String(ANIMALS), String(resamples), method],
];

try {
  spawnSync(node, [here("generate-sheet.mjs"), String(samples), folder]);
  spawnSync(node, [here("make-set.mjs"), folder, "--ten"]);
  spawnSync(node, [here("make-set.mjs"), join(folder, "one"), "--one"]);
  const peers = [
    ["numpy, draws by count, taxa counted", draw("count")],
    ["numpy, draws by its usual method", draw("marginals")],
  ];
  compare(
    [
      ...(python === undefined ? [] : peers),
      ["taxa alone, two threads", resample(ONE, 2)],
      ["taxa alone, one thread", resample(ONE, 1)],
      ["ten metrics, two threads", resample(TEN, 2)],
      ["ten metrics, one thread", resample(TEN, 1)],
      ["ten metrics without resamples", score(TEN)],
    ],
    folder,
    runs,
  );
} finally {
  rmSync(folder, { recursive: true, force: true });
}
