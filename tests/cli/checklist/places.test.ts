import { spawnSync } from "node:child_process";
import {
  chmodSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { demoFolder, freshFolder, REPOSITORY, runJartally } from "../../helpers/run-jartally.ts";

const SCORE = ["score", "bench-sheet.csv", "--samples", "sample-log.csv", "--names", "names.csv"];
const FULL = [...SCORE, "--reference", "vennaloo-demo"];

describe("files that cannot be used", () => {
  it.each([
    [
      "a folder without tables",
      ["check", "empty"],
      "empty: is a directory without a csv, tsv, txt or xlsx file",
    ],
    [
      "a part of the path that is a file",
      ["check", "f/x.csv"],
      "f/x.csv: a part of the path is not a directory",
    ],
    ["a name too long", ["check", `${"x".repeat(300)}.csv`], `${"x".repeat(300)}.csv: the name is too long`],
    ["a link to itself", ["check", "loop.csv"], "loop.csv: too many symbolic links"],
    [
      "a set's name too long",
      ["check", "s.csv", "--reference", `./${"x".repeat(300)}`],
      `the name is too long`,
    ],
    [
      "an output in a folder that is not there",
      ["check", "s.csv", "-o", "no/o.csv"],
      "no/o.csv: there is no folder no ",
    ],
    [
      "an output in a file",
      ["check", "s.csv", "-o", "f/o.csv"],
      "f/o.csv: a part of the path is not a directory",
    ],
    ["an output that is a folder", ["check", "s.csv", "-o", "empty"], "empty: is a directory"],
    ["a folder to make in one that is not there", ["init", "no/lab"], "no/lab: there is no folder no "],
    [
      "findings in a folder that is not there",
      ["check", "s.csv", "--findings", "no/f.csv"],
      "no/f.csv: there is no folder no ",
    ],
  ])("%s: 4, with its name and the reason of the system", (_, words, message) => {
    const cwd = freshFolder();
    writeFileSync(join(cwd, "s.csv"), "sample_id,taxon,count\nS,Caenis,3\n");
    writeFileSync(join(cwd, "f"), "");
    mkdirSync(join(cwd, "empty"));
    symlinkSync("loop.csv", join(cwd, "loop.csv"));
    const result = runJartally(words, { cwd });
    expect([result.status, result.stdout]).toEqual([4, ""]);
    expect(result.stderr).toMatch(/^jartally: /);
    expect(result.stderr).toContain(message);
    expect(result.stderr).not.toMatch(/internal error|\n\s+at /);
    expect(readdirSync(cwd).sort()).toEqual(["empty", "f", "loop.csv", "s.csv"]);
  });

  it("are found before the work: an output that cannot be written costs no time", () => {
    const cwd = freshFolder();
    // Standard input is never asked for, so the command does not wait for it.
    const result = spawnSync(
      process.execPath,
      [join(REPOSITORY, "bin/jartally.js"), "check", "-", "-o", "no/o.csv"],
      { cwd, stdio: ["pipe", "pipe", "pipe"], encoding: "utf8", timeout: 20_000 },
    );
    expect([result.status, result.signal]).toEqual([4, null]);
  });
});

describe("outputs", { timeout: 120_000 }, () => {
  it("keep mode and link of the file that they replace", () => {
    const cwd = demoFolder();
    writeFileSync(join(cwd, "real.csv"), "old");
    chmodSync(join(cwd, "real.csv"), 0o640);
    symlinkSync("real.csv", join(cwd, "link.csv"));
    expect(runJartally([...FULL, "-q", "-o", "link.csv", "--force"], { cwd }).status).toBe(0);
    expect(readlinkSync(join(cwd, "link.csv"))).toBe("real.csv");
    expect(statSync(join(cwd, "real.csv")).mode & 0o777).toBe(0o640);
    expect(readFileSync(join(cwd, "real.csv"), "utf8")).toMatch(/^sample_id,/);
  });

  it("are the only thing that a command leaves anywhere", () => {
    const home = freshFolder();
    const temporary = freshFolder();
    const cwd = demoFolder();
    const before = readdirSync(cwd).sort();
    const env = { HOME: home, XDG_CACHE_HOME: home, XDG_CONFIG_HOME: home, TMPDIR: temporary };
    const made: readonly (readonly [string, readonly string[]])[] = [
      ["scores.csv", [...FULL, "-o", "scores.csv"]],
      ["run", [...FULL, "--run", "run"]],
      ["pages", ["report", "run", "-o", "pages"]],
      ["", ["check", ...SCORE.slice(1)]],
      ["", ["explain", ...FULL.slice(1), "--sample", "V4-2023-05"]],
    ];
    const known = [...before];
    for (const [name, words] of made) {
      expect(runJartally(words, { cwd, env }).status).toBe(0);
      if (name !== "") known.push(name);
      expect(readdirSync(cwd).sort()).toEqual([...known].sort());
    }
    expect([readdirSync(home), readdirSync(temporary)]).toEqual([[], []]);
  });

  it("named like a path out of the folder or like a device stay in the folder of the report", () => {
    const cwd = freshFolder();
    const sites = ["../../out", "CON", "a/b", "x".repeat(300), ".hidden", "a\\b", "-rf", "<script>"];
    const log = sites.map((site, n) => `S${n},"${site}"\n`).join("");
    const rows = sites.map((_, n) => `S${n},Baetidae,120\n`).join("");
    writeFileSync(join(cwd, "log.csv"), `sample_id,site_id\n${log}`);
    writeFileSync(join(cwd, "s.csv"), `sample_id,taxon,count\n${rows}`);
    const words = ["score", "s.csv", "--samples", "log.csv", "--reference", "hilsenhoff-family-1988"];
    expect(runJartally([...words, "-q", "--run", "run"], { cwd }).status).toBe(0);
    expect(runJartally(["report", "run", "-q", "-o", "pages"], { cwd }).status).toBe(0);
    expect(readdirSync(cwd).sort()).toEqual(["log.csv", "pages", "run", "s.csv"]);
    const pages = readdirSync(join(cwd, "pages/sites"));
    expect(pages).toHaveLength(sites.length);
    for (const page of pages) expect(page).toMatch(/^[A-Za-z0-9_][A-Za-z0-9_.-]{0,120}\.html$/);
    for (const page of pages) expect(page).not.toMatch(/^(con|nul|aux|prn)\./i);
  });
});
