import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { CommandDefinition } from "../../../src/cli/define.ts";
import { COMMANDS } from "../../../src/cli/registry.ts";
import { demoFolder, freshFolder, runJartally } from "../../helpers/run-jartally.ts";

function all(commands: readonly CommandDefinition[]): CommandDefinition[] {
  return commands.flatMap((command) => [command, ...all(command.subcommands ?? [])]);
}

describe("options", { timeout: 120_000 }, () => {
  it("have one long name for each letter and one letter for each long name, in all commands", () => {
    const byLetter = new Map<string, Set<string>>();
    const byName = new Map<string, Set<string>>();
    for (const { options } of all(COMMANDS)) {
      for (const { flags } of options) {
        const [, letter = "", name = ""] = /^(?:(-\w), )?(--[a-z-]+)/.exec(flags) ?? [];
        byName.set(name, (byName.get(name) ?? new Set()).add(letter));
        if (letter !== "") byLetter.set(letter, (byLetter.get(letter) ?? new Set()).add(name));
      }
    }
    const letters = [...byLetter].map(([letter, names]) => [letter, [...names]]);
    expect(letters.sort()).toEqual([
      ["-f", ["--force"]],
      ["-o", ["--output"]],
      ["-q", ["--quiet"]],
    ]);
    for (const [name, with_] of byName) expect([name, with_.size]).toEqual([name, 1]);
  });

  it.each([
    [["dem"]],
    [["demo", "--qui"]],
    [["demo", "--form", "csv"]],
    [["reference", "li"]],
    [["demo", "-qo", "x.csv", "more"]],
  ])("are not guessed from their beginnings: %j ends with 2", (words) => {
    const result = runJartally(words, { cwd: freshFolder() });
    expect([result.status, result.stdout]).toEqual([2, ""]);
  });

  it.each([
    [
      ["score", "s.csv", "--reference", "x", "--from", "metrics", "--target", "5"],
      ["--target", "--from metrics"],
    ],
    [
      ["subsample", "s.csv", "--target", "5", "--tray", "5x6"],
      ["--tray", "--by grid"],
    ],
    [
      ["demo", "--format", "xlsx"],
      ["--format", "csv, tsv, json, ndjson, table"],
    ],
    [
      ["demo", "--color", "sometimes"],
      ["--color", "auto, always, never"],
    ],
    [["demo", "--threads", "0"], ["--threads"]],
    [["demo", "--max-findings", "many"], ["--max-findings"]],
  ])("that contradict each other or cannot be are refused by name: %j", (words, names) => {
    const cwd = freshFolder();
    writeFileSync(join(cwd, "s.csv"), "sample_id,taxon,count\nS,Caenis,3\n");
    const result = runJartally(words, { cwd });
    expect([result.status, result.stdout]).toEqual([2, ""]);
    for (const name of names) expect(result.stderr).toContain(name);
  });

  it.each(["1e3", "0x10", "", "-1", "1.5", " 5", "5 ", "٥", "1,000", "9".repeat(400)])(
    "that are counts take whole numbers as people write them, not %j",
    (word) => {
      const cwd = demoFolder();
      for (const option of ["--target", "--draws"]) {
        const words = ["subsample", "bench-sheet.csv", "--target", "100", `${option}=${word}`];
        const result = runJartally(option === "--target" ? words.toSpliced(2, 2) : words, { cwd });
        expect([option, result.status, result.stdout]).toEqual([option, 2, ""]);
        expect(result.stderr).toContain(option);
      }
    },
  );
});

describe("warnings", () => {
  it("are counted, and are no failure until they are asked to be", () => {
    const cwd = freshFolder();
    writeFileSync(join(cwd, "s.csv"), "sample_id,taxon,count\nS,Caenis,3\n\nT,Caenis,3\n");
    const plain = runJartally(["check", "s.csv"], { cwd });
    expect([plain.status, plain.stderr.match(/^findings: .*$/m)?.[0]]).toEqual([0, "findings: 1 warning"]);
    const strict = runJartally(["check", "s.csv", "--strict"], { cwd });
    expect([strict.status, strict.stdout]).toEqual([1, plain.stdout]);
  });
});

describe("many files", () => {
  it("with a bad one among them give what the others hold, name the bad one and end with 3", () => {
    const cwd = freshFolder();
    writeFileSync(join(cwd, "good.csv"), "sample_id,taxon,count\nG,Baetidae,120\n");
    writeFileSync(join(cwd, "bad.csv"), "sample_id,taxon,count\nB,Baetidae,some\n");
    const words = ["score", "good.csv", "bad.csv", "--reference", "hilsenhoff-family-1988"];
    const result = runJartally(words, { cwd });
    expect(result.status).toBe(3);
    expect(result.stdout).toMatch(/^G,.*scored/m);
    expect(result.stdout).toMatch(/^B,.*refused/m);
    expect(result.stderr).toMatch(/^bad\.csv:2:3 error bad-count /m);
    const none = runJartally([...words, "--all-or-nothing", "-o", "out.csv"], { cwd });
    expect([none.status, none.stdout]).toEqual([3, ""]);
    // A file that is not there is known before any work.
    const missing = runJartally(["score", "good.csv", "gone.csv", ...words.slice(3)], { cwd });
    expect([missing.status, missing.stdout]).toEqual([4, ""]);
  });
});

describe("what is told beside the data", () => {
  it("says which file was written, and what comes next where the work goes on", () => {
    const cwd = freshFolder();
    const lab = runJartally(["init", "lab"], { cwd });
    expect([lab.status, lab.stdout]).toEqual([0, ""]);
    expect(lab.stderr).toMatch(/written to lab; next: /);
    expect(runJartally(["demo", "--into", "demo"], { cwd }).stderr).toMatch(
      /written to demo; next: cd demo && /,
    );
    expect(runJartally(["demo", "-o", "scores.csv"], { cwd }).stderr).toContain("written to scores.csv");
  });

  it("shows where in the program a file failed only when asked with --debug", () => {
    const cwd = freshFolder();
    const plain = runJartally(["check", "gone.csv"], { cwd });
    expect(plain).toEqual({ status: 4, stdout: "", stderr: "jartally: gone.csv: no such file or folder\n" });
    const debug = runJartally(["check", "gone.csv", "--debug"], { cwd });
    expect(debug.status).toBe(4);
    expect(debug.stderr).toMatch(/^jartally: gone\.csv: no such file or folder\n.*\n\s+at /s);
  });
});
