import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { CommandDefinition } from "../../src/cli/define.ts";
import { COMMANDS } from "../../src/cli/registry.ts";
import { SettingsError } from "../../src/cli/settings.ts";
import { parseSettings } from "../../src/cli/settings-file.ts";
import { demoFolder, freshFolder, runJartally } from "../helpers/run-jartally.ts";

function read(text: string) {
  return parseSettings(new TextEncoder().encode(text), "jartally.json", COMMANDS);
}

/** What the settings say to a command, as words. */
function saidTo(text: string, ...path: string[]): Record<string, string> {
  return Object.fromEntries([...read(text).of(path)].map(([name, { word }]) => [name, word]));
}

/** "line:column message" of every fault. */
function faultsOf(text: string): string[] {
  try {
    read(text);
  } catch (error) {
    if (error instanceof SettingsError)
      return error.findings.map((one) => `${one.line}:${one.column} ${one.message}`);
    throw error;
  }
  return [];
}

describe("a settings file", () => {
  it("gives every command the options that it has", () => {
    const text = '{"samples": "log.csv", "seed": 7, "strict": true, "attributes": ["a", "b.csv"]}';
    expect(saidTo(text, "score")).toEqual({
      samples: "log.csv",
      seed: "7",
      strict: "",
      attributes: "a,b.csv",
    });
    expect(saidTo(text, "check")).toEqual({ samples: "log.csv", strict: "" });
    expect(saidTo(text, "qc", "choose")).toEqual({ seed: "7", strict: "" });
    expect(saidTo(text, "no", "such")).toEqual({});
  });

  it("gives one command its own section, which wins", () => {
    const text =
      '{"seed": 7, "strict": true, "qc choose": {"by": "lot", "seed": 8, "strict": false}, "score": {"layout": "long"}}';
    expect(saidTo(text, "qc", "choose")).toEqual({ by: "lot", seed: "8" });
    expect(saidTo(text, "score")).toEqual({ seed: "7", strict: "", layout: "long" });
  });

  it("says nothing to commands that must not hang on a folder", () => {
    for (const command of ["demo", "init", "rescore"]) {
      expect(saidTo('{"seed": 7, "reference": "x", "quiet": true}', command)).toEqual({});
      expect(faultsOf(`{"${command}": {"seed": 7}}`)).toEqual([`1:2 ${command} takes no settings`]);
    }
  });

  it.each([
    ["", ["1:1 it ends where a value belongs"]],
    ["[]", ['1:1 the file must hold an object, for instance {"samples": "sample-log.csv"}']],
    ['{\n  "refrence": "x"\n}', ['2:3 there is no option "refrence"; did you mean "reference"?']],
    ['{"--seed": 1}', ['1:2 there is no option "--seed"; did you mean "seed"?']],
    ['{"max_findings": 1}', ['1:2 there is no option "max_findings"; did you mean "max-findings"?']],
    ['{"scor": {}}', ['1:2 there is no command "scor"; did you mean "score"?']],
    ['{"qc": {"seed": 1}}', ['1:2 there is no command "qc"']],
    ['{"score": {"tray": "5x6"}}', ['1:12 score has no option "tray"']],
    ['{"seed": 1,\n "seed": 2}', ['2:2 the key "seed" stands twice in this object']],
    ['{"seed": null}', ['1:2 "seed" is a text or a number']],
    ['{"seed": [1]}', ['1:2 "seed" is a text or a number']],
    ['{"strict": "yes"}', ['1:2 "strict" is a switch: true or false']],
    ['{"force": true}', ['1:2 "force" belongs to one run and is given on the command line only']],
    ['{"output": "x"}', ['1:2 "output" belongs to one run and is given on the command line only']],
    [
      '{"score": {"output": "x.csv"}}',
      ['1:12 "output" belongs to one run and is given on the command line only'],
    ],
    [
      '{"__proto__": 1, "toString": "x"}',
      ['1:2 there is no option "__proto__"', '1:18 there is no option "toString"'],
    ],
    ['{"seed": 1,}', ["1:12 a key in quotes belongs here"]],
  ])("%j has the faults %j", (text, faults) => {
    expect(faultsOf(text)).toEqual(faults);
  });

  it("is told which command to name where an option means different things", () => {
    expect(faultsOf('{"by": "lot"}')).toEqual([
      expect.stringMatching(/^1:2 "by" means different things to .*qc choose/),
    ]);
  });

  it("may set every option of every command but those of one run", () => {
    const walk = (commands: readonly CommandDefinition[], before: readonly string[]): void => {
      for (const command of commands) {
        const path = [...before, command.name];
        walk(command.subcommands ?? [], path);
        if (command.run === undefined || command.ignoresSettings === true) continue;
        for (const { flags, isSwitch } of command.options) {
          const name = /--([a-z-]+)/.exec(flags)?.[1] ?? "";
          const text = JSON.stringify({ [path.join(" ")]: { [name]: isSwitch === true ? true : "x" } });
          const faults = faultsOf(text).map((fault) => fault.replace(/^.*" /, ""));
          // Nothing but the place of what is written, and what makes a run repeat or not, is left out.
          if (faults.length > 0)
            expect([flags, faults]).toEqual([
              flags,
              ["belongs to one run and is given on the command line only"],
            ]);
          else expect(saidTo(text, ...path)).toEqual({ [name]: isSwitch === true ? "" : "x" });
        }
      }
    };
    walk(COMMANDS, []);
  });
});

describe("settings on the command line", () => {
  function lab(settings: string) {
    const cwd = demoFolder();
    writeFileSync(join(cwd, "jartally.json"), settings);
    return (...words: string[]) => runJartally(words, { cwd });
  }
  const SETTINGS = '{"samples": "sample-log.csv", "names": "names.csv", "reference": "vennaloo-demo"}';
  const GIVEN = ["--samples", "sample-log.csv", "--names", "names.csv", "--reference", "vennaloo-demo"];

  it("do what the options do, and are named", () => {
    const run = lab(SETTINGS);
    const set = run("score", "bench-sheet.csv");
    const given = run("score", "bench-sheet.csv", "--no-settings", ...GIVEN);
    expect(set.stdout).toBe(given.stdout);
    expect(set.status).toBe(0);
    expect(set.stderr).toBe(`jartally.json sets ${GIVEN.join(" ")}\n${given.stderr}`);
    expect(run("score", "bench-sheet.csv", "--quiet").stderr).toBe("");
  });

  it("give way to the command line", () => {
    const run = lab(SETTINGS);
    const { stdout, stderr } = run("score", "bench-sheet.csv", "--reference", "hilsenhoff-family-1988");
    expect(stdout).toMatch(/\nU1-2023-06,.*,hilsenhoff-family-1988,/);
    expect(stderr).toMatch(/^jartally\.json sets --samples sample-log\.csv --names names\.csv\n/);
    expect(run("score", "bench-sheet.csv", "--no-settings").status).toBe(2);
  });

  it("do not contradict what is given: --from metrics, --log, a stored run", () => {
    const run = lab(SETTINGS.replace("}", ', "seed": 7}'));
    run("metrics", "bench-sheet.csv", "-o", "metrics.csv", "-q");
    expect(run("score", "metrics.csv", "--from", "metrics", "-q").stderr).toBe("");
    expect(run("score", "metrics.csv", "--from", "metrics", "--seed", "7").status).toBe(2);
    const sorting = run("qc", "sorting", "qc-sorting-check.csv", "--log", "qc-duplicates-log.csv");
    expect(sorting.status).not.toBe(2);
    run("score", "bench-sheet.csv", "--run", "r", "-o", "s.csv", "-q");
    expect(run("explain", "r", "--sample", "U1-2023-06", "-q").status).toBe(0);
  });

  it("that cannot be are wrong usage, each fault in a line with its place, and nothing is done", () => {
    const run = lab('{\n  "refrence": "x",\n  "seed": "7-"\n}');
    expect(run("score", "bench-sheet.csv", ...GIVEN)).toEqual({
      status: 2,
      stdout: "",
      stderr:
        'jartally.json:2:3 error bad-setting there is no option "refrence"; did you mean "reference"? (correct jartally.json, or leave it out this time with --no-settings)\n',
    });
    const values = lab('{"seed": "7-", "format": "xml"}')("score", "bench-sheet.csv", ...GIVEN);
    expect([values.status, values.stdout]).toEqual([2, ""]);
    expect(values.stderr.trimEnd().split("\n")).toEqual([
      expect.stringMatching(/^jartally\.json:1:2 error bad-setting seed: "7-" is not a seed/),
      expect.stringMatching(/^jartally\.json:1:16 error bad-setting format: "xml" is not one of csv, tsv/),
    ]);
  });

  it("are not read for help, version and the demo", () => {
    const run = lab("nonsense");
    expect(run("--version").status).toBe(0);
    expect(run("score", "--help").status).toBe(0);
    expect(run("demo", "--into", "d").status).toBe(0);
    expect(run("check", "bench-sheet.csv").status).toBe(2);
    expect(run("check", "bench-sheet.csv", "--no-settings").status).not.toBe(2);
  });

  it("that cannot be read end with 4", () => {
    const cwd = freshFolder();
    mkdirSync(join(cwd, "jartally.json"));
    const { status, stderr } = runJartally(["check", "x.csv"], { cwd });
    expect([status, stderr]).toEqual([4, "jartally: jartally.json: is a directory\n"]);
  });
});
