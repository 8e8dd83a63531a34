import { spawnSync } from "node:child_process";
import { chmodSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { delimiter, join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { freshFolder, REPOSITORY } from "../helpers/run-jartally.ts";

/**
 * Every `console` block of the README is run, line by line, in one fresh folder with `jartally` on the path, and
 * what it prints is compared. A line with only "…" stands for any lines. UPDATE_DOCS=1 rewrites the output of
 * blocks that hold no "…"; it is refused under CI.
 */
const README = join(REPOSITORY, "README.md");

/** Commands that install: `.ci/run` executes them, since a test cannot install the tree it runs in. */
const RUN_BY_CI = ["npm ci", "npm run check"];

interface Step {
  readonly command: string;
  readonly expected: string;
}

function consoleBlocks(markdown: string): string[] {
  return [...markdown.matchAll(/^```console\n([\s\S]*?)^```/gm)].map((match) => match[1] ?? "");
}

function stepsOf(block: string): Step[] {
  return block
    .split(/^\$ /m)
    .slice(1)
    .map((part) => {
      const end = part.indexOf("\n");
      return { command: part.slice(0, end), expected: part.slice(end + 1) };
    });
}

/** Whether the output is the expected text, in which a line "…" stands for any number of lines. */
function fits(output: string, expected: string): boolean {
  const pattern = expected
    .split("\n")
    .map((line) => (line === "…" ? "[\\s\\S]*?" : line.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")))
    .join("\n")
    .replaceAll("\n[\\s\\S]*?\n", "\n(?:[\\s\\S]*?\n)?");
  return new RegExp(`^${pattern}$`).test(output);
}

function shell(command: string, cwd: string, bin: string): string {
  const env = { PATH: `${bin}${delimiter}${process.env.PATH ?? ""}`, TZ: "UTC", LC_ALL: "C.UTF-8" };
  const result = spawnSync("sh", ["-c", `${command} 2>&1`], { cwd, env, encoding: "utf8", timeout: 60_000 });
  return result.stdout;
}

const markdown = readFileSync(README, "utf8");
const blocks = consoleBlocks(markdown);

describe("the README", () => {
  it("starts with the job and two commands for a fresh machine, which .ci/run executes", () => {
    const [, first = ""] = markdown.split(/^# .*\n+/m);
    expect(first.split("\n\n")[0]).toMatch(/freshwater.*index/s);
    const installing = blocks.flatMap(stepsOf).filter((step) => step.command.startsWith("npm ci"));
    expect(installing.map((step) => step.command)).toEqual([
      "npm ci && node bin/jartally.js demo",
      "npm ci && npm run check",
    ]);
    const ci = readFileSync(join(REPOSITORY, ".ci/run"), "utf8");
    for (const command of RUN_BY_CI) expect(ci.split("\n")).toContain(command);
  });

  it("shows commands that print what it says", () => {
    const home = freshFolder();
    const bin = join(home, "bin");
    mkdirSync(bin);
    writeFileSync(
      join(bin, "jartally"),
      `#!/bin/sh\nexec "${process.execPath}" "${join(REPOSITORY, "bin/jartally.js")}" "$@"\n`,
    );
    chmodSync(join(bin, "jartally"), 0o755);
    let cwd = home;
    let updated = markdown;
    for (const block of blocks) {
      let fresh = "";
      for (const { command, expected } of stepsOf(block)) {
        const [last = ""] = command.split(" && ").slice(-1);
        if (RUN_BY_CI.includes(last)) {
          fresh += `$ ${command}\n${expected}`;
          continue;
        }
        if (command.startsWith("cd ")) {
          cwd = resolve(cwd, command.slice(3));
          expect(existsSync(cwd)).toBe(true);
          fresh += `$ ${command}\n`;
          continue;
        }
        const inRepository = command.startsWith("npm ci && ");
        const output = shell(inRepository ? last : command, inRepository ? REPOSITORY : cwd, bin);
        const keeps = expected.split("\n").includes("…");
        fresh += `$ ${command}\n${keeps ? expected : output}`;
        if (process.env.UPDATE_DOCS !== "1" && !fits(output, expected)) expect(output).toBe(expected);
        if (keeps && !fits(output, expected)) expect(output).toBe(expected);
      }
      updated = updated.replace(block, () => fresh);
    }
    if (process.env.UPDATE_DOCS === "1" && process.env.CI === undefined) writeFileSync(README, updated);
  }, 300_000);
});
