#!/usr/bin/env node
// Times the built program with public tools: hyperfine where it is installed, else a plain loop over child
// processes; peak memory through /usr/bin/time where that is installed.
//   npm run benchmark [-- SAMPLES]
// Prints ratios beside seconds: on a busy machine only the ratios mean anything.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const samples = Number(process.argv[2] ?? 4000);
const root = fileURLToPath(new URL("../../", import.meta.url));
const bin = join(root, "bin/jartally.js");
const folder = mkdtempSync(join(tmpdir(), "jartally-benchmark-"));
const has = (command) => spawnSync(command, ["--version"], { stdio: "ignore" }).error === undefined;

/** Median seconds of a command over several runs, after one that does not count. */
function seconds(words, runs = 7) {
  if (has("hyperfine")) {
    const report = join(folder, "times.json");
    const result = spawnSync(
      "hyperfine",
      [
        "-N",
        "--warmup",
        "1",
        "--runs",
        String(runs),
        "--export-json",
        report,
        "--style",
        "none",
        words.map(quote).join(" "),
      ],
      { encoding: "utf8", cwd: root },
    );
    if (result.status === 0) return JSON.parse(readFileSync(report, "utf8")).results[0].median;
  }
  const times = [];
  for (let run = 0; run <= runs; run++) {
    const from = process.hrtime.bigint();
    spawnSync(words[0], words.slice(1), { stdio: "ignore", cwd: root });
    if (run > 0) times.push(Number(process.hrtime.bigint() - from) / 1e9);
  }
  return times.sort((a, b) => a - b)[Math.floor(times.length / 2)];
}

/** Peak memory of a command in MiB, or undefined where it cannot be measured. */
function peakMemory(words) {
  const result = spawnSync("/usr/bin/time", ["-f", "%M", ...words], { encoding: "utf8", cwd: root });
  const kilobytes = Number(result.stderr?.trim().split("\n").at(-1));
  return result.error === undefined && Number.isFinite(kilobytes) ? kilobytes / 1024 : undefined;
}

function quote(word) {
  return `'${word}'`;
}

function report(name, words, base, runs) {
  const time = seconds(words, runs);
  const memory = peakMemory(words);
  const ratio = base === undefined ? "" : `${(time / base).toFixed(2)} x bare node`;
  console.log(
    [
      name.padEnd(44),
      `${time.toFixed(3)} s`.padStart(9),
      ratio.padStart(18),
      memory === undefined ? "" : `${memory.toFixed(0)} MiB`.padStart(9),
    ].join("  "),
  );
  return time;
}

try {
  spawnSync(process.execPath, [join(root, "tests/benchmarks/generate-sheet.mjs"), String(samples), folder]);
  const node = process.execPath;
  const bare = report("bare node -e 0", [node, "-e", "0"], undefined, 21);
  report("jartally --version", [node, bin, "--version"], bare, 21);
  report("jartally --help", [node, bin, "--help"], bare, 21);
  report("jartally demo", [node, bin, "demo"], bare);
  report(
    `jartally score, ${samples} samples`,
    [
      node,
      bin,
      "score",
      join(folder, "bench-sheet.csv"),
      "--samples",
      join(folder, "sample-log.csv"),
      "--reference",
      "vennaloo-demo",
      "-q",
    ],
    bare,
    5,
  );
} finally {
  rmSync(folder, { recursive: true, force: true });
}
