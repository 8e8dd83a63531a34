import { spawn } from "node:child_process";
import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { verifyRun } from "../../src/pipeline/verify-run.ts";
import { demoFolder, freshFolder, REPOSITORY, runJartally } from "../helpers/run-jartally.ts";
import { SMALL_SHEET, smallLab } from "../helpers/small-lab.ts";

const DEMO = ["--samples", "sample-log.csv", "--names", "names.csv", "--reference", "vennaloo-demo", "-q"];

/** Every file below a folder with its bytes. */
function contentsOf(folder: string, prefix = ""): Record<string, string> {
  return Object.assign(
    {},
    ...readdirSync(folder).map((name) => {
      const path = join(folder, name);
      return statSync(path).isDirectory()
        ? contentsOf(path, `${prefix}${name}/`)
        : { [prefix + name]: readFileSync(path, "latin1") };
    }),
  );
}

/** The demo sheet in two files, by rows. */
function splitSheet(folder: string): void {
  const [header, ...rows] = readFileSync(join(folder, "bench-sheet.csv"), "utf8").trimEnd().split("\n");
  const half = (odd: number) => rows.filter((_, at) => at % 2 === odd).join("\n");
  writeFileSync(join(folder, "a.csv"), `${header}\n${half(0)}\n`);
  writeFileSync(join(folder, "b.csv"), `${header}\n${half(1)}\n`);
}

describe("score --run", () => {
  it("leaves the same bytes from any working folder, in any time zone and language, for any order of the files and number of threads", () => {
    const lab = demoFolder();
    splitSheet(lab);
    const elsewhere = freshFolder();
    mkdirSync(join(elsewhere, "deep"));
    cpSync(lab, join(elsewhere, "deep/lab"), { recursive: true });
    const from = (folder: string) => DEMO.map((word) => (word.endsWith(".csv") ? join(folder, word) : word));
    const runs = [
      { cwd: lab, words: ["a.csv", "b.csv", ...DEMO, "--run", "one"], run: join(lab, "one") },
      {
        cwd: lab,
        words: ["b.csv", "a.csv", ...DEMO, "--run", "two", "--threads", "2"],
        env: { TZ: "Pacific/Kiritimati", LC_ALL: "tr_TR.UTF-8", LANG: "tr_TR.UTF-8" },
        run: join(lab, "two"),
      },
      {
        cwd: elsewhere,
        words: ["deep/lab/b.csv", "./deep/lab/a.csv", ...from("deep/lab"), "--run", "deep/three"],
        env: { TZ: "America/St_Johns", NO_COLOR: "1" },
        run: join(elsewhere, "deep/three"),
      },
    ];
    const [first, ...others] = runs.map(({ run, words, ...options }) => {
      const result = runJartally(["score", ...words], options);
      expect([result.status, result.stderr]).toEqual([0, ""]);
      return contentsOf(run);
    });
    expect(Object.keys(first ?? {}).length).toBeGreaterThan(20);
    for (const other of others) expect(other).toEqual(first);
  });

  it("has the same results for any order of the rows of a sheet", () => {
    const lab = demoFolder();
    const [header, ...rows] = readFileSync(join(lab, "bench-sheet.csv"), "utf8").trimEnd().split("\n");
    runJartally(["score", "bench-sheet.csv", ...DEMO, "--run", "one"], { cwd: lab });
    writeFileSync(join(lab, "bench-sheet.csv"), `${header}\n${rows.reverse().join("\n")}\n`);
    runJartally(["score", "bench-sheet.csv", ...DEMO, "--run", "two"], { cwd: lab });
    for (const file of ["scores.csv", "metrics.csv", "draw.csv", "piles.csv", "counts.csv"])
      expect(readFileSync(join(lab, "two", file), "utf8")).toBe(readFileSync(join(lab, "one", file), "utf8"));
  });

  it("has the scores that are printed, sorted by sample", () => {
    const lab = demoFolder();
    const printed = runJartally(["score", "bench-sheet.csv", ...DEMO, "--run", "run"], { cwd: lab }).stdout;
    const [header, ...rows] = printed.trimEnd().split("\n");
    const kept = readFileSync(join(lab, "run/scores.csv"), "utf8");
    expect(kept).toBe(`${[header, ...rows.sort()].join("\n")}\n`);
  });

  it("has checksums that other programs read, of every other file", () => {
    const lab = smallLab();
    runJartally(["score", "sheet.csv", "--reference", "./small-set", "--run", "run"], { cwd: lab });
    const files = Object.keys(contentsOf(join(lab, "run"))).filter((file) => file !== "checksums.txt");
    const lines = readFileSync(join(lab, "run/checksums.txt"), "utf8").trimEnd().split("\n");
    // Two blanks between hash and name, as sha256sum --check takes it.
    expect(lines.map((line) => line.slice(66))).toEqual(files.sort());
    for (const line of lines) expect(line).toMatch(/^[0-9a-f]{64} {2}\S/);
  });

  it("knows the clock and the machine in one block, and only when asked", () => {
    const lab = smallLab();
    const words = ["score", "sheet.csv", "--reference", "./small-set", "-q"];
    runJartally([...words, "--run", "plain"], { cwd: lab });
    expect(runJartally([...words, "--run", "stamped", "--stamp"], { cwd: lab }).status).toBe(3);
    const record = (run: string) => JSON.parse(readFileSync(join(lab, run, "run.json"), "utf8"));
    expect(record("plain").environment).toEqual({});
    expect(record("stamped").environment).toEqual({
      made_at: expect.stringMatching(/^\d{4}-\d\d-\d\dT[\d:.]+Z$/),
      node: process.version,
      platform: `${process.platform} ${process.arch}`,
    });
    expect({ ...record("stamped"), environment: {} }).toEqual(record("plain"));
    expect(runJartally(["verify", "stamped", "-q"], { cwd: lab }).status).toBe(0);
    expect(runJartally([...words, "--stamp"], { cwd: lab }).status).toBe(2);
  });

  it("never touches a folder that is there, and says so before any work", () => {
    const lab = smallLab();
    mkdirSync(join(lab, "run"));
    writeFileSync(join(lab, "run/mine.txt"), "mine");
    const words = ["score", "sheet.csv", "--reference", "./small-set", "--run", "run", "-o", "s.csv"];
    const result = runJartally(words, { cwd: lab });
    expect([result.status, result.stdout]).toEqual([4, ""]);
    expect(result.stderr).toMatch(/^jartally: run: exists already; .*choose another folder\n$/);
    expect(contentsOf(join(lab, "run"))).toEqual({ "mine.txt": "mine" });
    expect(readdirSync(lab)).not.toContain("s.csv");
  });

  it("leaves nothing with --all-or-nothing when a sample is refused, nor for a batch that is refused", () => {
    const lab = smallLab();
    const words = ["--reference", "./small-set", "--run", "run", "-q"];
    expect(runJartally(["score", "sheet.csv", ...words, "--all-or-nothing"], { cwd: lab }).status).toBe(3);
    writeFileSync(join(lab, "bad.csv"), 'sample_id,taxon,count\nS-1,"Baetis,3\n');
    expect(runJartally(["score", "bad.csv", ...words], { cwd: lab }).status).toBe(3);
    expect(readdirSync(lab).sort()).toEqual(["bad.csv", "log.csv", "sheet.csv", "small-set"]);
  });

  it("keeps attribute tables and class tables that were chosen", () => {
    const lab = smallLab();
    writeFileSync(join(lab, "mine.csv"), "taxon,value\nBaetis,9\nLeuctra,1\nGammarus,2\nChironomidae,8\n");
    const words = ["--reference", "./small-set", "--attributes", "./mine.csv", "--run", "run", "-q"];
    const scored = runJartally(["score", "sheet.csv", ...words], { cwd: lab });
    expect(scored.stdout).toContain("S-1,");
    rmSync(join(lab, "mine.csv"));
    expect(runJartally(["verify", "run", "-q"], { cwd: lab }).status).toBe(0);
    expect(readFileSync(join(lab, "run/reference/given/mine.csv"), "utf8")).toContain("Baetis,9");
  });

  it("is whole or not there after kill -9 at any moment, a hundred times", async () => {
    const lab = smallLab();
    writeFileSync(join(lab, "sheet.csv"), SMALL_SHEET);
    const words = ["score", "sheet.csv", "--reference", "./small-set", "-q", "--run"];
    const started = performance.now();
    runJartally([...words, "whole"], { cwd: lab });
    const usual = performance.now() - started;
    const killed = (name: string, after: number) =>
      new Promise<void>((done) => {
        const child = spawn(process.execPath, [join(REPOSITORY, "bin/jartally.js"), ...words, name], {
          cwd: lab,
          stdio: "ignore",
        });
        const timer = setTimeout(() => child.kill("SIGKILL"), after);
        child.on("exit", () => {
          clearTimeout(timer);
          done();
        });
      });
    for (let round = 0; round < 100; round++)
      // Most of the moments lie where the folder is being written.
      await killed(`run-${round}`, usual * (0.25 + (0.9 * ((round * 37) % 100)) / 100));
    const whole = contentsOf(join(lab, "whole"));
    const left = readdirSync(lab).filter((name) => /^run-\d+$/.test(name));
    for (const name of left) expect(contentsOf(join(lab, name)), name).toEqual(whole);
    expect((await verifyRun("whole", lab)).agrees).toBe(true);
    // What was cut off has a name that says what it is, and is in nobody's way.
    const others = readdirSync(lab).filter((name) => /run-\d+/.test(name) && !left.includes(name));
    for (const name of others) expect(name).toMatch(/^\.run-\d+\.\d+-1\.jartally-tmp$/);
  }, 600_000);
});
