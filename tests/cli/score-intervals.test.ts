import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { demoFolder, runJartally } from "../helpers/run-jartally.ts";

type Row = Record<string, string>;
const rowsOf = (text: string): Row[] => parse(text, { columns: true });
const DEMO = [
  "bench-sheet.csv",
  "--samples",
  "sample-log.csv",
  "--names",
  "names.csv",
  "--reference",
  "vennaloo-demo",
];

describe("score --resamples", () => {
  it("adds its columns at the end of the wide layout and changes nothing before them", () => {
    const cwd = demoFolder();
    const plain = runJartally(["score", ...DEMO, "-q"], { cwd }).stdout.split("\n");
    const wide = runJartally(["score", ...DEMO, "--resamples", "200", "-q"], { cwd }).stdout.split("\n");
    const added = ",index_low,index_high,rating_support,rating_next,interval";
    expect(wide[0]).toBe(`${plain[0]}${added}`);
    for (const [at, line] of plain.entries()) expect(wide[at]?.startsWith(line)).toBe(true);
    for (const row of rowsOf(wide.join("\n"))) {
      expect(Number(row.index_low)).toBeLessThanOrEqual(Number(row.index_high));
      expect(Number(row.index_low)).toBeGreaterThanOrEqual(0);
      expect(Number(row.index_high)).toBeLessThanOrEqual(100);
      expect(Number(row.rating_support)).toBeGreaterThanOrEqual(0);
      expect(Number(row.rating_support)).toBeLessThanOrEqual(1);
      expect(row.interval).toBe("mean: subsampling");
      // Where every resample has the rating, none is next.
      expect(row.rating_next === "").toBe(row.rating_support === "1");
    }
  });

  it("gives every metric its ends in the long layout", () => {
    const { stdout } = runJartally(["score", ...DEMO, "--resamples", "200", "--layout", "long", "-q"], {
      cwd: demoFolder(),
    });
    const rows = rowsOf(stdout);
    expect(Object.keys(rows[0] ?? {}).slice(-4)).toEqual(["low", "high", "support", "interval"]);
    for (const row of rows) expect(Number(row.low)).toBeLessThanOrEqual(Number(row.high));
    // All of V4-2023-05 was sorted, and it has fewer animals than the target.
    for (const row of rows.filter((one) => one.sample_id === "V4-2023-05")) {
      expect(row.low).toBe(row.value);
      expect(row.high).toBe(row.value);
    }
  });

  it("flags a sample near a class limit when the user sets one, and only then", () => {
    const cwd = demoFolder();
    const flagged = (words: readonly string[]) =>
      rowsOf(runJartally(["score", ...DEMO, "--resamples", "300", ...words, "-q"], { cwd }).stdout).filter(
        (row) => row.flags?.includes("near-class-limit"),
      );
    expect(flagged([])).toEqual([]);
    const near = flagged(["--support-limit", "0.8"]);
    expect(near.length).toBeGreaterThan(3);
    for (const row of near) {
      expect(Number(row.rating_support)).toBeLessThan(0.8);
      expect(row.status).toBe("flagged");
      expect(row.rating_next).not.toBe("");
    }
  });

  it("shows the interval as text and the next most likely rating in a table", () => {
    const { stdout } = runJartally(["score", ...DEMO, "--resamples", "200", "--format", "table", "-q"], {
      cwd: demoFolder(),
    });
    expect(stdout.split("\n")[0]).toMatch(/rating +interval +support +next most likely +doubts/);
    expect(stdout).toMatch(/L4-2023-05 .* fair +[\d.]+ to [\d.]+ +\d+ % +poor \(\d+ %\)/);
  });

  it("gives the same bytes with any number of threads", () => {
    const cwd = demoFolder();
    const of = (threads: string) =>
      runJartally(["score", ...DEMO, "--resamples", "6000", "--threads", threads, "-q"], { cwd }).stdout;
    // 37 samples of 6,000 resamples are worth threads.
    expect(of("2")).toBe(of("1"));
  });

  it("prints the same beside a run folder, in any number of threads", () => {
    const cwd = demoFolder();
    const of = (...words: string[]) => {
      const { stdout, stderr } = runJartally(["score", ...DEMO, "--resamples", "6000", ...words], { cwd });
      return { stdout, stderr: stderr.replace(/^run folder .*\n/m, "") };
    };
    const plain = of("--threads", "1");
    expect(of("--run", "run-1", "--threads", "1")).toEqual(plain);
    expect(of("--run", "run-2", "--threads", "2")).toEqual(plain);
    for (const file of ["scores.csv", "metrics.csv", "findings.csv"])
      expect(readFileSync(join(cwd, "run-1", file))).toEqual(readFileSync(join(cwd, "run-2", file)));
  });

  it("has no more threads than were asked for, whichever command works its intervals out", () => {
    const cwd = demoFolder();
    // Tells of every thread that is started.
    writeFileSync(
      join(cwd, "tell.cjs"),
      `const threads = require("node:worker_threads");
const { Worker } = threads;
threads.Worker = class extends Worker {
  constructor(...given) {
    super(...given);
    process.stderr.write("a thread\\n");
  }
};
require("node:module").syncBuiltinESMExports();
`,
    );
    const env = { NODE_OPTIONS: `--require "${join(cwd, "tell.cjs")}"` };
    const threadsOf = (threads: number, ...words: string[]) => {
      const { status, stderr } = runJartally([...words, "--threads", String(threads)], { cwd, env });
      expect(status, stderr).toBe(0);
      return stderr.split("\n").filter((line) => line === "a thread").length;
    };
    const run = (threads: number) => `run-${threads}`;
    for (const [threads, others] of [
      [1, 0],
      [3, 2],
    ] as const) {
      const started = [
        threadsOf(threads, "score", ...DEMO, "--resamples", "6000", "--run", run(threads)),
        threadsOf(threads, "verify", run(threads)),
        threadsOf(threads, "rescore", run(threads), "--target", "none", "--run", `again-${threads}`),
        threadsOf(threads, "report", run(threads), "-o", `pages-${threads}`),
      ];
      expect(started).toEqual(started.map(() => others));
    }
  }, 120_000);

  it("stores its choices in a run folder, so that verify works them out again", () => {
    const cwd = demoFolder();
    const words = [
      "--resamples",
      "150",
      "--confidence",
      "0.8",
      "--interval",
      "another-draw",
      "--support-limit",
      "0.6",
    ];
    expect(
      runJartally(["score", ...DEMO, ...words, "--field", "duplicate_of", "--run", "run", "-q"], { cwd })
        .status,
    ).toBe(0);
    const record = JSON.parse(readFileSync(join(cwd, "run/run.json"), "utf8"));
    expect(record.options.resampling).toEqual({
      resamples: 150,
      confidence: 0.8,
      interval: "another-draw",
      support_limit: 0.6,
      field: "duplicate_of",
      algorithms: ["resample-individual/1", "resample-grid/1"],
    });
    expect(rowsOf(readFileSync(join(cwd, "run/scores.csv"), "utf8"))[0]?.interval).toBe(
      "another-draw: subsampling, field",
    );
    expect(Object.keys(rowsOf(readFileSync(join(cwd, "run/metrics.csv"), "utf8"))[0] ?? {})).toEqual([
      "sample_id",
      "metric",
      "value",
      "score",
      "why_missing",
      "low",
      "high",
      "support",
    ]);
    expect(runJartally(["verify", "run", "-q"], { cwd }).status).toBe(0);
    // A score made again keeps what was asked for; another table does not stand in its way.
    expect(runJartally(["rescore", "run", "--target", "100", "--run", "again", "-q"], { cwd }).status).toBe(
      0,
    );
    expect(JSON.parse(readFileSync(join(cwd, "again/run.json"), "utf8")).options.resampling).toEqual(
      record.options.resampling,
    );
    expect(runJartally(["verify", "again", "-q"], { cwd }).status).toBe(0);
    const page = runJartally(["explain", "run", "--sample", "V3-2023-09", "--format", "table", "-q"], {
      cwd,
    });
    expect(page.stdout).toMatch(
      /interval +[\d.]+ to [\d.]+: 80 percent interval of another\s+fixed-count draw/,
    );
  }, 120_000);

  it("says what the field part is from, once", () => {
    const { stderr } = runJartally(["score", ...DEMO, "--resamples", "100", "--field", "duplicate_of"], {
      cwd: demoFolder(),
    });
    expect(stderr.match(/ note field-variance /g)?.length).toBe(1);
    const none = runJartally(["score", ...DEMO, "--resamples", "100", "--field", "replicate_of"], {
      cwd: demoFolder(),
    });
    expect(none.stderr.match(/ warning no-field-variance /g)?.length).toBe(1);
  });

  it("takes its options from the settings file", () => {
    const cwd = demoFolder();
    writeFileSync(join(cwd, "jartally.json"), JSON.stringify({ score: { resamples: 100, confidence: 0.5 } }));
    const { stdout } = runJartally(["score", ...DEMO, "-q"], { cwd });
    expect(stdout.split("\n")[0]).toMatch(/index_low,index_high,rating_support,rating_next,interval$/);
  });

  it("refuses choices that make no sense as wrong usage", () => {
    const cwd = demoFolder();
    const refused = (...words: string[]) => {
      const { status, stderr, stdout } = runJartally(["score", ...DEMO, ...words, "-o", "out.csv"], { cwd });
      expect(status).toBe(2);
      expect(stdout).toBe("");
      expect(existsSync(join(cwd, "out.csv"))).toBe(false);
      return stderr;
    };
    expect(refused("--resamples", "0")).toMatch(/from 1 to 1000000/);
    expect(refused("--resamples", "10", "--confidence", "90")).toMatch(/0\.90/);
    expect(refused("--resamples", "10", "--support-limit", "80")).toMatch(/from 0 to 1/);
    expect(refused("--resamples", "10", "--interval", "median")).toMatch(/another-draw/);
    expect(refused("--confidence", "0.9")).toMatch(/needs --resamples/);
    expect(refused("--field", "duplicate_of")).toMatch(/needs --resamples/);
  });
});
