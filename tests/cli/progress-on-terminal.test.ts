import { appendFileSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { runOnTerminal } from "../helpers/on-terminal.ts";
import { demoFolder, runJartally } from "../helpers/run-jartally.ts";

const BATCH = ["bench-sheet.csv", "--samples", "sample-log.csv", "--names", "names.csv"];
const SCORE = ["score", ...BATCH, "--reference", "vennaloo-demo"];
const SAMPLES = 37;

/** Any line of progress. */
const PROGRESS = /: \d+ of \d+$/;

let lab: string;

beforeAll(() => {
  lab = demoFolder();
  const made = runJartally([...SCORE, "--resamples", "50", "--run", "run", "-q"], { cwd: lab });
  expect(made.status, made.stderr).toBe(0);
});

/** What was counted in the lines that passed, each once, in their order. */
const counted = (passing: readonly string[]) => [...new Set(passing.map((one) => one.replace(PROGRESS, "")))];

describe.skipIf(process.platform !== "linux")("progress on a terminal", () => {
  it.each([
    [
      "score",
      [...SCORE, "--run", "new"],
      ["megabytes read", "megabytes of rows read", "samples of the run", "samples"],
    ],
    ["score with resamples", [...SCORE, "--resamples", "50"], ["megabytes read", "samples"]],
    ["check", ["check", ...BATCH], ["megabytes read", "samples"]],
    ["metrics", ["metrics", ...BATCH, "--reference", "vennaloo-demo"], ["megabytes read", "samples"]],
    ["subsample", ["subsample", ...BATCH, "--target", "100"], ["megabytes read", "draws"]],
    ["verify", ["verify", "run"], ["megabytes of rows read", "samples of the run"]],
    [
      "rescore",
      ["rescore", "run", "--target", "100", "--run", "again"],
      ["megabytes of rows read", "samples scored again", "samples of the run"],
    ],
    ["report", ["report", "run", "-o", "pages"], ["megabytes of rows read", "samples scored", "site pages"]],
    ["export", ["export", "run", "--as", "darwin-core", "-o", "dwc"], ["megabytes of rows read", "samples"]],
    ["explain", ["explain", "run", "--sample", "U1-2023-06"], ["megabytes of rows read"]],
  ])("says in every long part of %s how far it is, and goes", (name, words, parts) => {
    const stdout = join(lab, `${name}.out`);
    const { status, passing, screen } = runOnTerminal(words, lab, { stdout });
    expect(status, screen.join("\n")).toBe(0);
    for (const line of passing) expect(line).toMatch(PROGRESS);
    expect(counted(passing).sort()).toEqual(counted(parts).sort());
    expect(screen.filter((line) => PROGRESS.test(line))).toEqual([]);
    // Data never carry it.
    expect(readFileSync(stdout, "utf8")).not.toContain("\r");
  });

  it("counts up to the last sample", () => {
    const { passing } = runOnTerminal(["verify", "run"], lab, { stdout: join(lab, "verified.csv") });
    const done = passing
      .flatMap((line) => /^samples of the run: (\d+) of 37$/.exec(line)?.[1] ?? [])
      .map(Number);
    expect(done.at(-1)).toBe(SAMPLES);
    expect(done).toEqual([...done].sort((a, b) => a - b));
  });

  it("does not mix with a table on the same terminal", () => {
    const { screen } = runOnTerminal(SCORE, lab);
    expect(screen.filter((line) => line.includes("U1-2023-06")).length).toBeGreaterThan(0);
    expect(screen.filter((line) => PROGRESS.test(line))).toEqual([]);
    const rows = runOnTerminal([...SCORE, "--format", "csv"], lab);
    expect(counted(rows.passing)).toEqual(["megabytes read"]);
  });

  it.each([["--quiet"], ["--no-progress"]])("is not there with %s", (option) => {
    const { passing } = runOnTerminal([...SCORE, option], lab, { stdout: join(lab, "silent.csv") });
    expect(passing).toEqual([]);
  });

  it("is not there where standard error is no terminal", () => {
    expect(runJartally(["verify", "run"], { cwd: lab }).stderr).not.toMatch(/\r| of 37/);
  });

  it("makes way for the words of a failure", () => {
    const broken = demoFolder();
    runJartally([...SCORE, "--run", "run", "-q"], { cwd: broken });
    appendFileSync(join(broken, "run/rows.csv"), "S-1,Baetis\n");
    const { status, passing, screen } = runOnTerminal(["report", "run", "-o", "pages"], broken);
    expect(status).toBe(4);
    expect(counted(passing)).toEqual(["megabytes of rows read"]);
    expect(screen[0]).toMatch(/^jartally: run\/rows\.csv: line \d+: /);
  });
});
