import { spawnSync } from "node:child_process";
import { chmodSync, mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { delimiter, join } from "node:path";
import { describe, expect, it } from "vitest";
import { offersFor } from "../../src/cli/completion/offers.ts";
import { optionFlags } from "../../src/cli/completion/option-flags.ts";
import { COMPLETION_SCRIPTS } from "../../src/cli/completion/scripts.ts";
import { SHELLS } from "../../src/cli/completion/shells.ts";
import { kindOfValue } from "../../src/cli/completion/value-kinds.ts";
import { valuesOf } from "../../src/cli/completion/values.ts";
import type { CommandDefinition } from "../../src/cli/define.ts";
import { COMMANDS } from "../../src/cli/registry.ts";
import { METRICS } from "../../src/metrics/registry.ts";
import { demoFolder, freshFolder, REPOSITORY, runJartally } from "../helpers/run-jartally.ts";

function all(
  commands: readonly CommandDefinition[],
  before: readonly string[] = [],
): [string[], CommandDefinition][] {
  return commands.flatMap((command) => {
    const path = [...before, command.name];
    return [[path, command] as [string[], CommandDefinition], ...all(command.subcommands ?? [], path)];
  });
}

const EVERY = all(COMMANDS);
const NAMED = EVERY.map(([path, command]) => [path.join(" "), path, command] as const);

async function offered(words: readonly string[], cwd = REPOSITORY) {
  const { words: offers, paths } = await offersFor(words, COMMANDS, (kind, line) =>
    valuesOf(kind, line, cwd),
  );
  return { words: offers.map(({ word }) => word), paths };
}

/** Values that a person types and nobody can offer; a new kind of value is put here or among the kinds. */
const TYPED = [
  "n",
  "k",
  "percent",
  "families",
  "seed",
  "share",
  "shape",
  "grids",
  "text",
  "date",
  "groups",
  "rank",
  "name",
];

describe("every command", () => {
  it("is offered, with help, and nothing that does not start with what was typed", async () => {
    expect((await offered([""])).words).toEqual([...COMMANDS.map(({ name }) => name), "help"]);
    expect((await offered(["re"])).words).toEqual(
      COMMANDS.map(({ name }) => name).filter((name) => name.startsWith("re")),
    );
    expect((await offered(["help", ""])).words).toEqual(COMMANDS.map(({ name }) => name));
    expect((await offered(["help", "qc", ""])).words).toContain("sorting");
    expect(await offered(["no-such-command", ""])).toEqual({ words: [], paths: "none" });
  });

  it.each(NAMED)("%s: every option and every command below is offered", async (_, path, command) => {
    const { words } = await offered([...path, "-"]);
    expect(words).toEqual([...command.options.map((option) => optionFlags(option).long), "--help"]);
    if (command.subcommands !== undefined)
      expect((await offered([...path, ""])).words).toEqual(command.subcommands.map(({ name }) => name));
  });

  it.each(NAMED)("%s: every choice of every option is offered, in both forms", async (_, path, command) => {
    for (const option of command.options) {
      const { long, short, value } = optionFlags(option);
      if (value === undefined) continue;
      const choices = option.choices?.();
      if (choices === undefined) {
        const isKnown = kindOfValue(value) !== "nothing" || TYPED.includes(value);
        expect(isKnown, `${path.join(" ")} ${long} <${value}>`).toBe(true);
        continue;
      }
      expect((await offered([...path, long, ""])).words).toEqual(choices);
      if (short !== undefined) expect((await offered([...path, short, ""])).words).toEqual(choices);
      expect((await offered([...path, `${long}=`])).words).toEqual(
        choices.map((choice) => `${long}=${choice}`),
      );
    }
  });

  it.each(NAMED)("%s: every operand is one that can be completed", (_, __, command) => {
    for (const operand of command.operands)
      expect(operand.choices !== undefined || kindOfValue(operand.name) !== "nothing", operand.name).toBe(
        true,
      );
  });
});

describe("the words of options", () => {
  it("are offered once each, and not behind --", async () => {
    const { words } = await offered(["score", "--samples", "log.csv", "-q", "--s"]);
    const flags =
      COMMANDS.find(({ name }) => name === "score")?.options.map((one) => optionFlags(one).long) ?? [];
    expect(words).toEqual(flags.filter((flag) => flag.startsWith("--s") && flag !== "--samples"));
    expect(words).toContain("--stratum");
    expect(await offered(["score", "--", "--s"])).toEqual({ words: [], paths: "files" });
  });

  it("are files for files, folders for folders", async () => {
    expect(await offered(["score", "--samples", ""])).toEqual({ words: [], paths: "files" });
    expect(await offered(["score", "-o", ""])).toEqual({ words: [], paths: "files" });
    expect(await offered(["score", "--run="])).toEqual({ words: [], paths: "folders" });
    expect(await offered(["score", ""])).toEqual({ words: [], paths: "files" });
    expect(await offered(["verify", "one", ""])).toEqual({ words: [], paths: "folders" });
    expect(await offered(["score", "--title", ""])).toEqual({ words: [], paths: "files" });
  });

  it("are reference sets: the package's and those of the folder", async () => {
    const cwd = freshFolder();
    mkdirSync(join(cwd, "reference-tables/sets/our-set"), { recursive: true });
    writeFileSync(join(cwd, "reference-tables/sets/our-set/set.json"), '{"id":"our-set","title":"Ours"}');
    const shipped = readdirSync(join(REPOSITORY, "reference-tables/sets"));
    const expected = [...shipped, "our-set"].sort();
    expect(await offered(["score", "--reference", ""], cwd)).toEqual({ words: expected, paths: "folders" });
    expect((await offered(["reference", "compare", "vennaloo-demo", "our"], cwd)).words).toEqual(["our-set"]);
    // What is no id is a path.
    expect(await offered(["score", "--reference", "./"], cwd)).toEqual({ words: [], paths: "folders" });
  });

  it("are metrics, in a list too, and those of the set first", async () => {
    expect((await offered(["metrics", "--only", ""])).words).toEqual(METRICS.map(({ id }) => id));
    expect((await offered(["metrics", "--only", "ept_richness,ept_r"])).words).not.toContain(
      "ept_richness,ept_richness",
    );
    expect((await offered(["metrics", "--only", "a,taxa_ri"])).words).toEqual(["a,taxa_richness"]);
    expect((await offered(["metrics", "--list", "shannon_diversity_e"])).words).toEqual([
      "shannon_diversity_e",
    ]);
    const words = ["explain", "x.csv", "--reference", "virginia-family-2003", "--metric", ""];
    expect((await offered(words)).words.slice(0, 2)).toEqual(["total_families", "ept_families"]);
  });

  it("are strata and class tables of the set named, also by the settings file", async () => {
    const expected = ["upland", "valley", "lowland"];
    expect((await offered(["score", "--reference", "vennaloo-demo", "--stratum", ""])).words).toEqual(
      expected,
    );
    const cwd = freshFolder();
    expect((await offered(["score", "--stratum", ""], cwd)).words).toEqual([]);
    writeFileSync(
      join(cwd, "jartally.json"),
      '{"reference": "virginia-family-2003", "score": {"reference": "vennaloo-demo"}}',
    );
    expect((await offered(["score", "--stratum", ""], cwd)).words).toEqual(expected);
    expect((await offered(["score", "--no-settings", "--stratum", ""], cwd)).words).toEqual([]);
    const classes = await offered(["score", "--reference", "pennsylvania-freestone-2012", "--classes", ""]);
    const set: unknown = JSON.parse(
      readFileSync(join(REPOSITORY, "reference-tables/sets/pennsylvania-freestone-2012/set.json"), "utf8"),
    );
    const ids = [...JSON.stringify(set).matchAll(/"other_ratings":\[\{"id":"([^"]+)"/g)].map(
      (match) => match[1],
    );
    expect(classes.words).toEqual(expect.arrayContaining(ids));
  });
});

describe("sample ids", () => {
  const explain = (...before: string[]) => ["explain", ...before, "--sample", ""];

  it("are those of the sheet on the line, in its order", async () => {
    const cwd = demoFolder();
    const { words } = await offered(explain("bench-sheet.csv"), cwd);
    expect(words).toHaveLength(37);
    expect(words.slice(0, 2)).toEqual(["U1-2023-06", "U2-2023-06"]);
    expect((await offered(["explain", "bench-sheet.csv", "--sample=V3-2023-09-"], cwd)).words).toEqual([
      "--sample=V3-2023-09-D",
    ]);
  });

  it("are those of the log when there is no sheet yet, also by the settings file", async () => {
    const cwd = demoFolder();
    expect((await offered(explain("--samples", "sample-log.csv"), cwd)).words).toHaveLength(37);
    writeFileSync(join(cwd, "jartally.json"), '{"samples": "sample-log.csv"}');
    expect((await offered(explain(), cwd)).words).toHaveLength(37);
  });

  it.each([
    ["semicolons", "Sample ID;taxon;count\r\nA;Baetis;1\r\nB;Baetis;1\r\n", ["A", "B"]],
    ["quotes", 'sample_id,taxon,count\n"A, 1",x,1\n"say ""B""",x,1\n', ["A, 1", 'say "B"']],
    ["a cross-tab", "taxon\tfamily\tA\tB\nBaetis\tBaetidae\t1\t2\n", ["A", "B"]],
    ["a mark", "\ufeffsample_id,count,taxon\nÄ 1,1,x\n", ["Ä 1"]],
    ["control characters", "sample_id,taxon\nA\u001b[31m,x\nB,x\n", ["B"]],
    ["no header that is known", "a,b\n1,2\n", []],
    ["bytes of a program", "\0\0\0\n", []],
    ["nothing", "", []],
  ])("of a file with %s", async (_, text, expected) => {
    const cwd = freshFolder();
    writeFileSync(join(cwd, "x.csv"), text);
    const answer = runJartally(["__complete", ...explain("x.csv")], { cwd });
    expect(answer).toEqual({ status: 0, stdout: ["none", ...expected, ""].join("\n"), stderr: "" });
  });

  it("of a folder of sheets and of a run folder", async () => {
    const cwd = freshFolder();
    mkdirSync(join(cwd, "sheets"));
    writeFileSync(join(cwd, "sheets/b.csv"), "sample_id,taxon,count\nB,x,1\n");
    writeFileSync(join(cwd, "sheets/a.csv"), "sample_id,taxon,count\nA,x,1\nB,x,1\n");
    expect((await offered(explain("sheets"), cwd)).words).toEqual(["A", "B"]);
    writeFileSync(join(cwd, "sheets/run.json"), "{}");
    writeFileSync(join(cwd, "sheets/scores.csv"), "sample_id,index\nC,1\n");
    expect((await offered(explain("sheets"), cwd)).words).toEqual(["C"]);
    expect((await offered(["rescore", "sheets", "--why", ""], cwd)).words).toEqual(["C"]);
  });

  it("of a large sheet come from its first part", async () => {
    const cwd = freshFolder();
    const rows = Array.from({ length: 200_000 }, (_, row) => `S${row >> 10},Baetis tricaudatus,1`);
    writeFileSync(join(cwd, "x.csv"), `sample_id,taxon,count\n${rows.join("\n")}\n`);
    const { words } = await offered(explain("x.csv"), cwd);
    expect(words.length).toBeGreaterThan(50);
    expect(words.length).toBeLessThan(200);
    expect(words.every((word) => /^S\d+$/.test(word))).toBe(true);
  });
});

describe("the answer to a tab key", () => {
  it("says what paths the shell adds, then each word with what it is", () => {
    expect(runJartally(["__complete", "sco"]).stdout).toBe(
      "none\nscore\tmetric values, scores, an index and a rating for every sample\n",
    );
    expect(runJartally(["__complete", "score", "--samples", ""]).stdout).toBe("files\n");
    expect(runJartally(["__complete"]).stdout).toContain("\nscore\t");
    expect(runJartally(["__complete", "score", "--help", "--fo"]).stdout).toMatch(/^none\n--format\t/);
  });

  it("is given by small files that load nothing but what Node has, least of all zod or the reader of CSV", () => {
    for (const file of ["complete.cjs", "complete-values.cjs"]) {
      const code = readFileSync(join(REPOSITORY, "dist", file), "utf8");
      // What waits until it is called (in a promise) is left out of them or is the third file.
      const imports = [...code.matchAll(/(?<!\(\) ?=> ?__toESM\()\brequire\("([^"]+)"\)/g)].map(
        (match) => match[1] ?? "",
      );
      expect(imports.length).toBeGreaterThan(0);
      expect(imports.filter((name) => !name.startsWith("node:"))).toEqual([]);
      expect(code).not.toMatch(/ZodError|csv-parse|CSV_INVALID/);
    }
    expect(readFileSync(join(REPOSITORY, "dist/complete.cjs"), "utf8").length).toBeLessThan(150_000);
  });
});

describe("completion", () => {
  it.each(SHELLS)("prints the script for %s", (shell) => {
    const answer = runJartally(["completion", shell]);
    expect(answer).toEqual({ status: 0, stdout: COMPLETION_SCRIPTS[shell], stderr: "" });
    expect(answer.stdout).toContain("__complete");
    expect(answer.stdout).not.toContain("undefined");
  });

  it("knows no other shell", () => {
    expect(runJartally(["completion", "tcsh"])).toEqual({
      status: 2,
      stdout: "",
      stderr: 'jartally: "tcsh" is no shell that can be completed (it is one of bash, zsh, fish)\n',
    });
  });

  it("closes every block that the script for fish opens", () => {
    const lines = COMPLETION_SCRIPTS.fish.split("\n").map((line) => line.trim());
    const opened = lines.filter((line) => /^(function|for|if|switch|while|begin)\b/.test(line)).length;
    expect(lines.filter((line) => line === "end")).toHaveLength(opened);
  });

  it("balances brackets and quotes in the script for zsh", () => {
    const code = COMPLETION_SCRIPTS.zsh.replace(/^\s*#.*$/gm, "");
    // A pattern of case closes a round bracket that nothing opened.
    for (const pair of ["{}", "[]"])
      expect(code.split(pair.charAt(0)).length, pair).toBe(code.split(pair.charAt(1)).length);
    expect(code.split('"').length % 2).toBe(1);
    expect(code.split("'").length % 2).toBe(1);
  });
});

describe("in bash", () => {
  const cwd = freshFolder();
  const bin = join(cwd, "bin");
  mkdirSync(bin);
  symlinkSync(join(REPOSITORY, "bin/jartally.js"), join(bin, "jartally"));
  chmodSync(join(REPOSITORY, "bin/jartally.js"), 0o755);
  mkdirSync(join(cwd, "our sheets"));
  writeFileSync(join(cwd, "our sheets/a b.csv"), "");
  writeFileSync(join(cwd, "odd.csv"), 'sample_id,taxon,count\n"S 1",x,1\nS:2,x,1\nS$3,x,1\n"S""4",x,1\n');
  writeFileSync(join(cwd, "script"), COMPLETION_SCRIPTS.bash);

  function completed(...words: string[]): string[] {
    const code = `source ./script; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _jartally; printf '%s\\n' "\${COMPREPLY[@]}"`;
    const env = { PATH: `${bin}${delimiter}${process.env.PATH ?? ""}`, HOME: cwd };
    const answer = spawnSync("bash", ["--norc", "-c", code, "bash", "jartally", ...words], {
      cwd,
      env,
      encoding: "utf8",
    });
    expect(answer.stderr.replace(/.*compopt: .*\n/g, "")).toBe("");
    return answer.stdout.split("\n").filter((line) => line !== "");
  }

  // bash hands over the words of the line as they are written, cut at = and at : as well.
  it.each([
    ["a command", ["sc"], ["score"]],
    ["options", ["score", "--fo"], ["--format", "--force"]],
    ["a choice", ["score", "--format", "j"], ["json"]],
    ["a choice behind =", ["score", "--format", "=", "j"], ["json"]],
    ["choices right behind =", ["score", "--layout", "="], ["wide", "long"]],
    ["a set", ["score", "x", "--reference", "ven"], ["vennaloo-demo"]],
    [
      "sample ids, quoted for the shell",
      ["explain", "odd.csv", "--sample", "S"],
      ["S\\ 1", "S:2", "S\\$3", 'S\\"4'],
    ],
    ["a sample id with a backslash", ["explain", "odd.csv", "--sample", "S\\ "], ["S\\ 1"]],
    ["sample ids in open quotes", ["explain", "odd.csv", "--sample", '"S'], ["S 1", "S:2"]],
    ["a sample id with a colon", ["explain", "odd.csv", "--sample", "S", ":"], ["2"]],
    ["a folder", ["score", "our"], ["our sheets"]],
    ["a file in a folder with a blank", ["score", "our\\ sheets/"], ["our sheets/a b.csv"]],
    ["a file from the home folder", ["score", "~/od"], [`${cwd}/odd.csv`]],
    ["a file behind =", ["score", "--samples", "=", "odd"], ["odd.csv"]],
    ["folders only", ["verify", ""], ["bin", "our sheets"]],
    ["nothing", ["score", "--seed", ""], []],
  ])("completes %s", (_, words, expected) => {
    expect(completed(...words).sort()).toEqual([...expected].sort());
  });
});
