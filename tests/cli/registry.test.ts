import { describe, expect, it } from "vitest";
import type { CommandDefinition } from "../../src/cli/define.ts";
import { commandHelp, programHelp } from "../../src/cli/help.ts";
import { COMMANDS } from "../../src/cli/registry.ts";
import { demoFolder, runJartally } from "../helpers/run-jartally.ts";

function all(
  commands: readonly CommandDefinition[],
  path: readonly string[] = [],
): [string, CommandDefinition, string[]][] {
  return commands.flatMap((command) => {
    const own = [...path, command.name];
    return [
      [own.join(" "), command, own] as [string, CommandDefinition, string[]],
      ...all(command.subcommands ?? [], own),
    ];
  });
}

const EVERY = all(COMMANDS);

describe("every command", () => {
  it.each(EVERY)("%s is complete", (_, command, path) => {
    expect(command.name).toMatch(/^[a-z]+(-[a-z]+)*$/);
    expect(command.summary.length).toBeGreaterThan(10);
    expect(command.summary).not.toMatch(/\.$/);
    expect(command.description).toMatch(/\.$/);
    if (command.run === undefined) expect(command.subcommands?.length).toBeGreaterThan(0);
    const below = command.subcommands?.map((sub) => sub.name) ?? [];
    expect(new Set(below).size).toBe(below.length);
    if (command.run !== undefined) expect(command.examples.length).toBeGreaterThan(0);
    const names = command.options.map((option) => option.flags);
    expect(new Set(names).size).toBe(names.length);
    for (const option of command.options) {
      expect(option.summary, option.flags).toMatch(/^[A-Z].*\.$/s);
      expect(option.flags).toMatch(/^(-\w, )?--[a-z]+(-[a-z]+)*( [<[][a-z|0-9.]+[>\]])?$/);
      expect(option.flags.includes(" <") || option.flags.includes(" [")).toBe(option.isSwitch !== true);
    }
    for (const { option } of command.required ?? []) {
      expect(command.options).toContain(option);
      expect(commandHelp(command, path)).toMatch(/\bRequired\b/);
    }
    for (const line of commandHelp(command, path).split("\n"))
      expect(line.length, line).toBeLessThanOrEqual(80);
  });

  it.each(EVERY)("%s explains itself with --help, as with help, on standard output", (_, command, path) => {
    const asked = runJartally([...path, "--help"]);
    expect(asked).toEqual({ status: 0, stdout: commandHelp(command, path), stderr: "" });
    if (path.length === 1) expect(runJartally(["help", ...path])).toEqual(asked);
  });

  it.each(
    EVERY.flatMap(([name, command, path]) =>
      (command.required ?? [])
        .filter(({ unless }) => unless === undefined)
        .map(({ option }) => [name, option.flags.replace(/^-\w, | <.*$/g, ""), command, path] as const),
    ),
  )("%s without the required %s is wrong usage that names it", (_, flag, command, path) => {
    const cwd = demoFolder();
    const [, ...words] = command.examples[0]?.line.split(" ") ?? [];
    const at = words.findIndex((word) => word === flag || (flag === "--output" && word === "-o"));
    expect(at).toBeGreaterThan(0);
    for (const earlier of command.examples[0]?.after ?? []) runJartally(earlier.split(" ").slice(1), { cwd });
    const result = runJartally([...words.slice(0, at), ...words.slice(at + 2)], { cwd });
    expect([result.status, result.stderr.includes(flag)], result.stderr).toEqual([2, true]);
    expect(path.length).toBeGreaterThan(0);
  });

  const examples = EVERY.flatMap(([name, command]) =>
    command.examples.map((example) => [name, example.line, example.after ?? []] as const),
  );
  it.each(examples)("%s: the example runs: %s", (_, line, after) => {
    const [program, ...words] = line.split(" ");
    expect(program).toBe("jartally");
    const cwd = demoFolder();
    for (const earlier of after) expect(runJartally(earlier.split(" ").slice(1), { cwd }).status).toBe(0);
    const result = runJartally(words, { cwd });
    expect([0, 1], result.stderr).toContain(result.status);
    expect(result.stderr).not.toMatch(/ error /);
  });
});

describe("the program", () => {
  it("lists every command in its help, within 80 columns", () => {
    const help = programHelp(COMMANDS);
    for (const command of COMMANDS) expect(help).toMatch(new RegExp(`^  ${command.name} {2,}\\S`, "m"));
    for (const line of help.split("\n")) expect(line.length, line).toBeLessThanOrEqual(80);
    expect(help).toContain("Exit status");
    expect(help).toContain("Environment");
    expect(help).toContain("To report a bug");
  });
});
