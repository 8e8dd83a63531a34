#!/usr/bin/env node
// Times `report` of many sites, each with a history, and takes its peak memory. Needs /usr/bin/time (GNU time).
//   node tests/benchmarks/report.mjs [SITES] [VISITS] [RUNS] [RESAMPLES]
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const [sites = 1000, visits = 3, runs = 3, resamples = 0] = process.argv.slice(2).map(Number);
const here = (name) => fileURLToPath(new URL(name, import.meta.url));
const bin = here("../../bin/jartally.js");
const node = process.execPath;
const folder = mkdtempSync(join(tmpdir(), "jartally-report-"));

function run(command) {
  const options = { cwd: folder, encoding: "utf8", maxBuffer: 1 << 28 };
  const { status, stderr } = spawnSync(command[0], command.slice(1), options);
  if (status !== 0) throw new Error(`${command.join(" ")} ended with ${status}: ${stderr}`);
  return stderr;
}

try {
  run([node, here("generate-sheet.mjs"), String(sites * visits), ".", "1", `--sites=${sites}`]);
  const batch = ["bench-sheet.csv", "--samples", "sample-log.csv", "--reference", "vennaloo-demo"];
  const certainty = resamples > 0 ? ["--resamples", String(resamples)] : [];
  run([node, bin, "score", ...batch, ...certainty, "--run", "run", "-o", "scores.csv", "-q"]);
  const measured = [];
  for (let time = 0; time < runs; time++) {
    rmSync(join(folder, "pages"), { recursive: true, force: true });
    const said = run(["/usr/bin/time", "-f", "%e %U %S %M", node, bin, "report", "run", "-o", "pages"]);
    const [wall, user, system, kilobytes] = said.trim().split("\n").at(-1).split(" ").map(Number);
    measured.push({ wall, processor: user + system, mebibytes: kilobytes / 1024 });
  }
  const range = (of, digits) => {
    const values = measured.map(of).sort((a, b) => a - b);
    return `${values[0].toFixed(digits)} to ${values.at(-1).toFixed(digits)}`;
  };
  console.log(
    `report of ${sites} sites with ${visits} samples each, ${resamples} resamples: ` +
      `${range((one) => one.wall, 1)} s, ${range((one) => one.processor, 1)} s of processor time, ` +
      `${range((one) => one.mebibytes, 0)} MiB (${runs} runs)`,
  );
} finally {
  rmSync(folder, { recursive: true, force: true });
}
