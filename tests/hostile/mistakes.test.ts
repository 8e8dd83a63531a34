import { spawnSync } from "node:child_process";
import { chmodSync, cpSync, existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { freshFolder, REPOSITORY } from "../helpers/run-jartally.ts";

/**
 * Ordinary mistakes of people in a hurry, each in a folder: `command.txt` (what went wrong, then the command),
 * `files` (the folder it was typed in) and `expected.txt` (exit code and standard error, whole). What is printed
 * has to make the next step plain, so every change of it is to be read by a person: UPDATE_DOCS=1 rewrites the
 * expected texts; it is refused under CI.
 */
const MISTAKES = join(import.meta.dirname, "mistakes");
const NAMES = readdirSync(MISTAKES).sort();
const IS_UPDATE = process.env.UPDATE_DOCS === "1";

/** Files that nobody may read; Git does not keep that. */
const UNREADABLE: ReadonlyMap<string, string> = new Map([["no-rights", "bench-sheet.csv"]]);

interface Case {
  readonly command: readonly string[];
  readonly cwd: string;
}

function caseOf(name: string): Case {
  const text = readFileSync(join(MISTAKES, name, "command.txt"), "utf8");
  const [, line = ""] = /^\$ jartally (.*)$/m.exec(text) ?? [];
  const cwd = freshFolder();
  cpSync(join(MISTAKES, name, "files"), cwd, { recursive: true });
  const unreadable = UNREADABLE.get(name);
  if (unreadable !== undefined) chmodSync(join(cwd, unreadable), 0);
  return { command: line.split(" "), cwd };
}

/** Runs the program as a person without the rights of an administrator, who may read everything. */
function run({ command, cwd }: Case, needsRights: boolean): string {
  const program = [process.execPath, join(REPOSITORY, "bin/jartally.js"), ...command];
  const isAdministrator = process.getuid?.() === 0 && needsRights;
  const drop = ["setpriv", "--bounding-set=-dac_override,-dac_read_search", "--inh-caps=-all", "--"];
  const hasDrop = isAdministrator && spawnSync("setpriv", ["--version"]).status === 0;
  const [file = "", ...words] = hasDrop ? [...drop, ...program] : program;
  const env = { PATH: process.env.PATH ?? "", TZ: "UTC", LC_ALL: "C" };
  const who = isAdministrator && !hasDrop ? { uid: 65_534, gid: 65_534 } : {};
  if (isAdministrator) chmodSync(cwd, 0o755);
  const { status, stderr } = spawnSync(file, words, {
    cwd,
    env,
    encoding: "utf8",
    input: "",
    timeout: 60_000,
    ...who,
  });
  return `exit ${status}\n${stderr}`;
}

describe("an ordinary mistake", () => {
  it("is kept in at least twenty forms", () => {
    expect(NAMES.length).toBeGreaterThanOrEqual(20);
    expect(IS_UPDATE && process.env.CI !== undefined).toBe(false);
  });

  it.each(NAMES)("%s is answered in words that say what to do next", (name) => {
    const found = run(caseOf(name), UNREADABLE.has(name));
    const path = join(MISTAKES, name, "expected.txt");
    if (IS_UPDATE && process.env.CI === undefined) writeFileSync(path, found);
    expect(existsSync(path)).toBe(true);
    expect(found).toBe(readFileSync(path, "utf8"));
    expect(found).toMatch(/^exit [0-4]\n/);
    expect(found).not.toMatch(/undefined|\bat .*\.js:\d|internal error|\[object/);
  });

  it.each(NAMES)("%s: no line ends without a word of what to do", (name) => {
    const lines = readFileSync(join(MISTAKES, name, "expected.txt"), "utf8").split("\n");
    for (const line of lines.filter((one) => / (error|warning) [a-z]+(-[a-z]+)* /.test(one)))
      expect(line).toMatch(/\(.{8,}\)$/);
  });
});
