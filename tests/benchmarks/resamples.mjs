#!/usr/bin/env node
// Times `score --resamples 1000` of samples scored with ten metrics, with one thread and with two, beside numpy that
// draws as many animals as often by its two methods and does nothing else. BENCH_PYTHON names a Python with numpy and
// pandas; where it is not set, numpy is left out. Needs /usr/bin/time (GNU time).
//   BENCH_PYTHON=/usr/bin/python3 node tests/benchmarks/resamples.mjs [SAMPLES] [RUNS] [RESAMPLES]
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { compare } from "./compare.mjs";

const [samples = 1000, runs = 5, resamples = 1000] = process.argv.slice(2).map(Number);
/** Fixed count of the set that make-set.mjs --ten writes. */
const ANIMALS = 200;
const here = (name) => fileURLToPath(new URL(name, import.meta.url));
const node = process.execPath;
const folder = mkdtempSync(join(tmpdir(), "jartally-resamples-"));
const python = process.env.BENCH_PYTHON;

const score = (...more) => [
  ...[node, here("../../bin/jartally.js"), "score", "bench-sheet.csv", "--samples", "sample-log.csv"],
  ...["--reference", "archive-set", "-o", "out.csv", "--force", "-q", ...more],
];
const resample = (threads) => score("--resamples", String(resamples), "--threads", String(threads));
const draw = (method) => [
  ...[python, here("peer-numpy-draws.py"), "bench-sheet.csv", "numpy.csv"],
  ...[String(ANIMALS), String(resamples), method],
];

try {
  spawnSync(node, [here("generate-sheet.mjs"), String(samples), folder]);
  spawnSync(node, [here("make-set.mjs"), folder, "--ten"]);
  const peers = [
    ["numpy, bare draws by its usual method", draw("marginals")],
    ["numpy, bare draws by count", draw("count")],
  ];
  compare(
    [
      ...(python === undefined ? [] : peers),
      ["jartally score, two threads", resample(2)],
      ["jartally score, one thread", resample(1)],
      ["jartally score without resamples", score()],
    ],
    folder,
    runs,
  );
} finally {
  rmSync(folder, { recursive: true, force: true });
}
