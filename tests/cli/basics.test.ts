import { spawnSync } from "node:child_process";
import { readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { demoFolder, freshFolder, REPOSITORY, runJartally } from "../helpers/run-jartally.ts";

const VERSION = JSON.parse(readFileSync(join(REPOSITORY, "package.json"), "utf8")).version;
const SCORE = [
  "score",
  "bench-sheet.csv",
  "--samples",
  "sample-log.csv",
  "--names",
  "names.csv",
  "--reference",
  "vennaloo-demo",
];

describe("the command line", () => {
  it("prints its version in one line", () => {
    expect(runJartally(["--version"])).toEqual({ status: 0, stdout: `${VERSION}\n`, stderr: "" });
  });

  it("without words gives short help on standard error and 2", () => {
    const result = runJartally([]);
    expect(result.status).toBe(2);
    expect(result.stdout).toBe("");
    expect(result.stderr).toContain("Usage: jartally COMMAND");
  });

  it.each([
    [["scor"], /unknown command 'scor'; did you mean score\? \(see/],
    [["zzzzqqq"], /unknown command 'zzzzqqq' \(see/],
    [["score", "a.csv", "--sed", "1"], /unknown option '--sed'; did you mean --seed\? \(see/],
    [
      ["score", "a.csv", "--format", "cvs", "--reference", "x"],
      /--format: "cvs" is not one of csv, tsv, json, ndjson, table/,
    ],
    [["score", "--reference", "x"], /missing required argument 'sheet'/],
    [["score", "a.csv"], /name a reference set with --reference \(jartally reference list shows them\)/],
    [["demo", "extra"], /too many arguments/],
    [["help", "scor"], /there is no command "scor"/],
    [["demo", "-o", "scores.xlsx"], /--output: nothing is written as \.xlsx \(use \.csv, .*--format\)/],
    [["demo", "--stratum", "upland"], /unknown option/],
    [["reference"], /name a command/],
    [["score", "-", "-", "--reference", "hilsenhoff-family-1988"], /standard input/],
  ])("refuses %j with 2 and says what is wrong", (words, message) => {
    const result = runJartally(words);
    expect(result.stderr).toMatch(message);
    expect([result.status, result.stdout]).toEqual([2, ""]);
    expect(result.stderr).not.toMatch(/\n\s+at /);
    expect(result.stderr.trim().split("\n")).toHaveLength(1);
  });

  it.each(["1e3", "0x10", "", "-1", "1.5", " 5", "01", "9007199254740992"])("refuses the seed %j", (seed) => {
    const result = runJartally(["demo", `--seed=${seed}`]);
    expect([result.status, result.stdout]).toEqual([2, ""]);
    expect(result.stderr).toMatch(/--seed: .*is not a seed/);
  });

  it.each(["1e3", "0x10", "", "-1", "1.5", " 5", "0"])("refuses the target %j", (target) => {
    expect(runJartally(["demo", `--target=${target}`]).status).toBe(2);
  });

  it("names a missing file with the system's reason and 4", () => {
    const result = runJartally(["score", "nope.csv", "--reference", "vennaloo-demo"]);
    expect([result.status, result.stdout]).toEqual([4, ""]);
    expect(result.stderr).toMatch(/nope\.csv: .*no such file/i);
  });

  it("takes options before and after the files, with = and without", () => {
    const cwd = demoFolder();
    const plain = runJartally([...SCORE, "--seed", "7", "-q"], { cwd });
    const [name = "", sheet = "", ...rest] = SCORE;
    expect(runJartally([name, "--seed=7", "-q", ...rest, sheet], { cwd })).toEqual(plain);
    expect(plain.status).toBe(0);
  });

  it("reads standard input and files whose names begin with a hyphen", () => {
    const cwd = demoFolder();
    const sheet = readFileSync(join(cwd, "bench-sheet.csv"));
    writeFileSync(join(cwd, "-x.csv"), sheet);
    const words = SCORE.slice(2);
    const plain = runJartally([...SCORE, "-q"], { cwd });
    expect(runJartally(["score", "-", ...words, "-q"], { cwd, stdin: sheet }).stdout).toBe(plain.stdout);
    expect(runJartally(["score", ...words, "-q", "--", "-x.csv"], { cwd }).stdout).toBe(plain.stdout);
  });

  it("works from any folder and through a link", () => {
    const folder = freshFolder();
    const link = join(folder, "linked");
    symlinkSync(join(REPOSITORY, "bin/jartally.js"), link);
    const result = spawnSync(process.execPath, [link, "--version"], { cwd: "/", encoding: "utf8" });
    expect(result.stdout).toBe(`${VERSION}\n`);
  });
});

describe("output", () => {
  it("is the data alone; everything else goes to standard error", () => {
    const result = runJartally(SCORE, { cwd: demoFolder() });
    expect(result.stdout.split("\n")[0]).toMatch(/^sample_id,site_id,collected_on,stratum,reference_set/);
    expect(result.stdout.trim().split("\n")).toHaveLength(38);
    expect(result.stderr).toContain("37 samples:");
  });

  it("says nothing but errors with --quiet", () => {
    expect(runJartally([...SCORE, "--quiet"], { cwd: demoFolder() }).stderr).toBe("");
  });

  it("goes to a file, whole, in the format of its extension, and is not overwritten without --force", () => {
    const cwd = demoFolder();
    const first = runJartally([...SCORE, "-o", "out.json"], { cwd });
    expect([first.status, first.stdout]).toEqual([0, ""]);
    expect(first.stderr).toContain("written to out.json");
    expect(JSON.parse(readFileSync(join(cwd, "out.json"), "utf8")).rows).toHaveLength(37);
    writeFileSync(join(cwd, "out.json"), "mine");
    const second = runJartally([...SCORE, "-o", "out.json"], { cwd });
    expect(second.status).toBe(4);
    expect(second.stderr).toMatch(/out\.json: .*--force/);
    expect(readFileSync(join(cwd, "out.json"), "utf8")).toBe("mine");
    expect(runJartally([...SCORE, "-o", "out.json", "--force"], { cwd }).status).toBe(0);
  });

  it("is never one of the inputs, not even through a link", () => {
    const cwd = demoFolder();
    const before = readFileSync(join(cwd, "bench-sheet.csv"));
    symlinkSync(join(cwd, "bench-sheet.csv"), join(cwd, "link.csv"));
    for (const target of ["bench-sheet.csv", "./bench-sheet.csv", "link.csv"]) {
      const result = runJartally([...SCORE, "-o", target, "--force"], { cwd });
      expect([result.status, result.stdout]).toEqual([2, ""]);
    }
    expect(readFileSync(join(cwd, "bench-sheet.csv"))).toEqual(before);
  });

  it("has the same values in every format", () => {
    const cwd = demoFolder();
    const csv = runJartally([...SCORE, "-q"], { cwd })
      .stdout.trim()
      .split("\n");
    const header = csv[0]?.split(",") ?? [];
    const rows = JSON.parse(runJartally([...SCORE, "-q", "--format", "json"], { cwd }).stdout).rows as Record<
      string,
      unknown
    >[];
    const lines = runJartally([...SCORE, "-q", "--format", "ndjson"], { cwd })
      .stdout.trim()
      .split("\n");
    expect(lines.map((line) => JSON.parse(line))).toEqual(rows);
    const fromJson = rows.map((row) => header.map((name) => String(row[name] ?? "")).join(","));
    expect(fromJson).toEqual(csv.slice(1));
    const tsv = runJartally([...SCORE, "-q", "--format", "tsv"], { cwd })
      .stdout.trim()
      .split("\n");
    expect(tsv.map((line) => line.replaceAll("\t", ","))).toEqual(csv);
  });

  it("is in an envelope with schema, tool, inputs, reference and seed as JSON", () => {
    const { rows, ...envelope } = JSON.parse(
      runJartally([...SCORE, "--format", "json"], { cwd: demoFolder() }).stdout,
    );
    expect(rows).toHaveLength(37);
    expect(envelope.schema).toBe("jartally/scores-wide@1");
    expect(envelope.tool).toEqual({ name: "jartally", version: VERSION });
    expect(envelope.inputs.map((input: { file: string }) => input.file)).toEqual([
      "bench-sheet.csv",
      "sample-log.csv",
      "names.csv",
    ]);
    for (const input of envelope.inputs) expect(input.sha256).toMatch(/^[0-9a-f]{64}$/);
    expect(envelope.reference).toMatchObject({ id: "vennaloo-demo" });
    expect(envelope.reference.hash).toMatch(/^[0-9a-f]{64}$/);
    expect(typeof envelope.seed).toBe("string");
  });

  it("is the same whatever the locale, the time zone, the folder and the width of the terminal", () => {
    const cwd = demoFolder();
    const plain = runJartally(SCORE, { cwd });
    const other = runJartally(SCORE, {
      cwd,
      env: { LC_ALL: "de_DE.UTF-8", TZ: "Asia/Tokyo", COLUMNS: "40", HOME: "/nonexistent" },
    });
    expect(other).toEqual(plain);
  });

  it("ends quietly when the reader goes away", () => {
    const command = `"${process.execPath}" "${join(REPOSITORY, "bin/jartally.js")}" metrics --list --format json | head -c 1; echo " \${PIPESTATUS[0]}"`;
    const result = spawnSync("bash", ["-c", command], { encoding: "utf8" });
    expect([result.stdout, result.stderr]).toEqual(["{ 0\n", ""]);
  });

  it("says that the disk is full, with 4 and no stack", () => {
    const command = `"${process.execPath}" "${join(REPOSITORY, "bin/jartally.js")}" demo -q > /dev/full`;
    const result = spawnSync("bash", ["-c", command], { encoding: "utf8" });
    expect(result.status).toBe(4);
    expect(result.stderr).toMatch(/no space left/);
    expect(result.stderr).not.toMatch(/\n\s+at /);
  });
});

describe("colour", () => {
  const colours = (env: Record<string, string>, ...words: string[]) =>
    runJartally(["demo", "--format", "table", ...words], { env }).stdout.includes("\u001b[");

  it("follows the option, then NO_COLOR, then FORCE_COLOR, then the terminal", () => {
    expect(colours({})).toBe(false);
    expect(colours({ FORCE_COLOR: "1" })).toBe(true);
    expect(colours({ FORCE_COLOR: "1", NO_COLOR: "1" })).toBe(false);
    expect(colours({ FORCE_COLOR: "1", NO_COLOR: "" })).toBe(true);
    expect(colours({ NO_COLOR: "1" }, "--color", "always")).toBe(true);
    expect(colours({ FORCE_COLOR: "1" }, "--color", "never")).toBe(false);
    expect(colours({ TERM: "dumb" })).toBe(false);
  });
});
