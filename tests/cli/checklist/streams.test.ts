import type { ChildProcess } from "node:child_process";
import { spawn, spawnSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { demoFolder, freshFolder, REPOSITORY, runJartally } from "../../helpers/run-jartally.ts";

const BIN = `"${process.execPath}" "${join(REPOSITORY, "bin/jartally.js")}"`;
const SCORE = "score bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo";

/** A line of a shell, as a user types it. */
function shell(line: string, cwd: string) {
  const result = spawnSync("bash", ["--norc", "-c", line.replaceAll("jartally", BIN)], {
    cwd,
    encoding: "utf8",
    timeout: 60_000,
    env: { PATH: process.env.PATH ?? "" },
  });
  return { stdout: result.stdout, stderr: result.stderr, status: result.status };
}

let demo = "";
/** A table too large for the buffer of a pipe. */
let large = "";
beforeAll(() => {
  demo = demoFolder();
  large = freshFolder();
  let sheet = "sample_id,taxon,count\n";
  for (let n = 0; n < 8000; n++) sheet += `VN-${n}-with-a-long-name-so-that-the-pipe-fills,Caenis,3\n`;
  writeFileSync(join(large, "s.csv"), sheet);
});

describe("standard output", { timeout: 120_000 }, () => {
  it("may be closed by its reader in the middle: quiet, and 0", () => {
    const result = shell('set -o pipefail; jartally check s.csv -q | head -n 1; echo "$?"', large);
    expect([result.stdout.split("\n")[1], result.stderr]).toEqual(["0", ""]);
  });

  it("reaches a slow reader whole", () => {
    const slow = shell("jartally check s.csv -q | (sleep 0.5; wc -c)", large);
    const whole = shell("jartally check s.csv -q -o whole.csv; wc -c < whole.csv", large);
    expect(slow.stdout.trim()).toBe(whole.stdout.trim());
    expect(Number(slow.stdout)).toBeGreaterThan(1 << 18);
  });

  it("may be closed from the start: no hang, no stack, a documented exit", () => {
    const result = shell("jartally demo >&-; echo $? >&2", demo);
    expect(result.stderr.trim().split("\n").at(-1)).toMatch(/^[04]$/);
    expect(result.stderr).not.toMatch(/\n\s+at |internal error/);
    const none = shell("jartally demo 2>&-", demo);
    expect([none.status, none.stdout.split("\n").length]).toEqual([0, 39]);
  });

  it("on a full disk is a message and 4, in every format", () => {
    for (const format of ["csv", "tsv", "json", "ndjson", "table"]) {
      const result = shell(`jartally demo --format ${format} > /dev/full`, demo);
      expect([format, result.status]).toEqual([format, 4]);
      expect(result.stderr).toMatch(/no space left/);
      expect(result.stderr).not.toMatch(/\n\s+at |internal error/);
    }
  });

  it("takes - as a name for itself", () => {
    expect(shell(`jartally ${SCORE} -q -o -`, demo)).toEqual(shell(`jartally ${SCORE} -q`, demo));
  });

  it("is the same bytes each time", () => {
    const first = shell(`jartally ${SCORE}`, demo);
    expect(shell(`jartally ${SCORE}`, demo)).toEqual(first);
    expect(first.status).toBe(0);
  });

  it("has one header and no more for a sheet without rows", () => {
    writeFileSync(join(large, "none.csv"), "sample_id,taxon,count\n");
    for (const words of ["check none.csv", "score none.csv --reference hilsenhoff-family-1988"]) {
      const result = shell(`jartally ${words}`, large);
      expect([words, result.status, result.stdout.trim().split("\n").length]).toEqual([words, 0, 1]);
    }
  });

  it("takes every machine format through its own reader", () => {
    const json = JSON.parse(shell(`jartally ${SCORE} --format json`, demo).stdout);
    expect(json.rows).toHaveLength(37);
    const lines = shell(`jartally ${SCORE} --format ndjson`, demo).stdout.trim().split("\n");
    expect(lines.map((line) => JSON.parse(line).sample_id)).toHaveLength(37);
  });
});

describe("inputs", { timeout: 120_000 }, () => {
  it("may be a pipe that a shell makes on the way", () => {
    const plain = shell(`jartally ${SCORE} -q`, demo);
    const words = SCORE.replace("bench-sheet.csv", "<(cat bench-sheet.csv)");
    expect(shell(`jartally ${words} -q`, demo)).toEqual(plain);
  });

  it("may be standard input for any one file, never for two", () => {
    const plain = shell(`jartally ${SCORE} -q`, demo);
    const words = SCORE.replace("sample-log.csv", "-");
    expect(shell(`jartally ${words} -q < sample-log.csv`, demo)).toEqual(plain);
    const twice = shell(`jartally ${words.replace("names.csv", "-")} -q < sample-log.csv`, demo);
    expect([twice.status, twice.stdout]).toEqual([2, ""]);
    expect(twice.stderr).toMatch(/standard input/);
  });

  it("are patterns where a shell left them as they are, and 4 when no file fits", () => {
    const plain = runJartally(["check", "bench-sheet.csv"], { cwd: demo });
    expect(runJartally(["check", "bench-s*.csv"], { cwd: demo })).toEqual(plain);
    const none = runJartally(["check", "zz*.csv"], { cwd: demo });
    expect([none.status, none.stderr]).toEqual([4, "jartally: zz*.csv: no file fits this pattern\n"]);
  });
});

describe("an interruption", { timeout: 120_000 }, () => {
  it.each([
    ["SIGINT", 130],
    ["SIGTERM", 143],
  ] as const)("by %s ends at once with %i, without a part of the output", async (signal, status) => {
    const cwd = freshFolder();
    // Standard input that does not end, so that the program is at work when the signal comes.
    const child = startJartally(["check", "-", "-o", "out.csv"], cwd);
    child.stdin?.write("sample_id,taxon,count\nS1,Caenis,3\n");
    expect(await endedBy(child, signal)).toEqual([null, signal]);
    // A shell shows the end by a signal as 128 and its number.
    expect(status).toBe(128 + (signal === "SIGINT" ? 2 : 15));
    expect(shell("ls -A", cwd).stdout).toBe("");
  });

  it("is heard while the program works and waits for nothing", async () => {
    const cwd = demoFolder();
    // One thread, and output that waits for no disk: minutes of work.
    const words = ["score", "bench-sheet.csv", "--samples", "sample-log.csv", "--reference", "vennaloo-demo"];
    const child = startJartally([...words, "--resamples", "200000", "--threads", "1"], cwd);
    expect(await endedBy(child, "SIGINT")).toEqual([null, "SIGINT"]);
  });

  function startJartally(words: readonly string[], cwd: string): ChildProcess {
    const bin = join(REPOSITORY, "bin/jartally.js");
    return spawn(process.execPath, [bin, ...words], { cwd, stdio: ["pipe", "pipe", "pipe"] });
  }

  /** Sends a signal to a program that has come to work. @returns its exit code, or the signal that ended it */
  async function endedBy(child: ChildProcess, signal: NodeJS.Signals) {
    await new Promise((resolve) => setTimeout(resolve, 1500));
    const ended = new Promise<[number | null, string | null]>((resolve) => {
      child.on("exit", (number, name) => resolve([number, name]));
    });
    const start = performance.now();
    child.kill(signal);
    const end = await ended;
    expect(performance.now() - start).toBeLessThan(10_000);
    return end;
  }
});

describe("a terminal", { timeout: 120_000 }, () => {
  /** Runs a line in a terminal of its own. */
  const terminal = (line: string, cwd = demo) => {
    writeFileSync(join(cwd, "line.sh"), `${line.replaceAll("jartally", BIN)}\n`);
    const result = spawnSync("script", ["-qec", "bash line.sh", "/dev/null"], {
      cwd,
      encoding: "utf8",
      timeout: 60_000,
      input: "",
      env: { PATH: process.env.PATH ?? "", TERM: "xterm" },
    });
    return { text: result.stdout, status: result.status };
  };
  const isColoured = (line: string) => terminal(line).text.includes("\u001b[3");

  it("gets a table and colours, unless NO_COLOR is set and not empty, TERM is dumb, or the user says never", () => {
    const words = "check bench-sheet.csv";
    expect(terminal(`jartally ${words}`).text).toMatch(/^─+ +─+[\s\S]*\nU1-2023-06 +ready +330/m);
    expect(isColoured(`jartally ${words}`)).toBe(true);
    expect(isColoured(`NO_COLOR= jartally ${words}`)).toBe(true);
    expect(isColoured(`NO_COLOR=1 jartally ${words}`)).toBe(false);
    expect(isColoured(`TERM=dumb jartally ${words}`)).toBe(false);
    expect(isColoured(`jartally ${words} --color never`)).toBe(false);
  });

  it("on standard output says nothing about standard error, which is coloured for itself", () => {
    terminal("jartally check bench-sheet.csv 2> messages.txt");
    const messages = readFileSync(join(demo, "messages.txt"), "utf8");
    expect(messages).toContain("findings:");
    expect(messages).not.toContain("\u001b");
    expect(terminal("jartally check bench-sheet.csv > table.txt").text).toContain("\u001b[");
    expect(readFileSync(join(demo, "table.txt"), "utf8")).toMatch(/^sample_id,site_id/);
  });

  it("is not waited for by a command that was given no file", () => {
    const result = terminal("jartally score; echo $?");
    expect(result.text).toMatch(/missing required argument/);
    expect(result.text.trim().split(/\r?\n/).at(-1)).toBe("2");
  });
});
