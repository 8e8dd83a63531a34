// Coverage of src: what the tests run in their own process together with what the built program runs when the
// command tests start it. `npm run coverage`, or `npm run coverage -- tests/cli` for some of the tests.
import { spawnSync } from "node:child_process";
import { mkdirSync, readFileSync, rmSync } from "node:fs";
import { resolve } from "node:path";
import libCoverage from "istanbul-lib-coverage";
import { joined } from "./joined.mjs";
import { coverageOfBuild } from "./of-build.mjs";
import { report } from "./report.mjs";

const RAW = resolve("coverage/raw");
const IN_PROCESS = "coverage/in-process";

function run(program, words, env = {}) {
  return spawnSync(program, words, { stdio: "inherit", env: { ...process.env, ...env } }).status ?? 1;
}

rmSync("coverage/raw", { recursive: true, force: true });
mkdirSync(RAW, { recursive: true });

if (run(process.execPath, ["esbuild.config.mjs", "--source-maps"]) !== 0) process.exit(1);
const asked = process.argv.slice(2);
const failed = run(
  "npx",
  [
    ...["vitest", "run", "--coverage.enabled", "--coverage.provider=v8", "--coverage.include=src/**"],
    // One test that fails, or takes too long on a busy machine, must not cost the measurement of all others.
    "--coverage.reportOnFailure",
    ...["--coverage.reporter=json", `--coverage.reportsDirectory=${IN_PROCESS}`],
    // The packed program is another build, without the maps that lead back to src.
    ...["--exclude", "tests/package/**", "--reporter=dot", ...asked],
  ],
  { JARTALLY_COVERAGE: RAW },
);

const inProcess = libCoverage.createCoverageMap(
  JSON.parse(readFileSync(`${IN_PROCESS}/coverage-final.json`, "utf8")),
);
const short = report(joined(inProcess, await coverageOfBuild(RAW)));
// What ships has no maps.
const built = run(process.execPath, ["esbuild.config.mjs"]);
process.exitCode = failed || short || built;
