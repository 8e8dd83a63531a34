import type { CommandDefinition, CommandExample, OptionDefinition } from "./define.ts";
import { EXIT_CODE_TEXT } from "./exit-codes.ts";
import { definitionList, wrap } from "./wrap.ts";

const WIDTH = 80;
const GROUPS = ["Input", "Method", "Output", "Running", "Messages"] as const;

/** Help of the program as a whole. */
export function programHelp(commands: readonly CommandDefinition[]): string {
  const first = commands.find((command) => command.name === "score")?.examples[0];
  return `${[
    "jartally takes a freshwater lab from preserved jars to a defensible biotic\nindex score per site.",
    "Usage: jartally COMMAND [options] [FILE...]",
    ...(first === undefined ? [] : [section("Example", exampleText(first))]),
    section(
      "Commands",
      definitionList(
        commands.map((command) => [command.name, command.summary]),
        WIDTH,
      ),
    ),
    `${indented("jartally help COMMAND explains a command; jartally demo shows the main job.", 0)}`,
    exitStatus(),
    environment(),
    wrap(
      "A score is no legal determination unless the responsible agency's method was followed by qualified people. To report a bug, give the command line, the version and the first lines of the files.",
      WIDTH,
    ).join("\n"),
  ].join("\n\n")}\n`;
}

/** Help of one command. `path` is its words after `jartally`, for instance ["reference", "list"]. */
export function commandHelp(command: CommandDefinition, path: readonly string[]): string {
  const words = ["jartally", ...path].join(" ");
  const operands = command.operands.map((operand) => operand.name).join(" ");
  const always = (command.required ?? []).filter(({ unless }) => unless === undefined);
  const needed = always.map(({ option }) => `${longFlag(option)} `).join("");
  const usage = [
    ...(command.run === undefined ? [] : [`${words} ${needed}[options] ${operands}`.trim()]),
    ...(command.subcommands === undefined ? [] : [`${words} COMMAND [options]`]),
  ];
  const parts = [
    `${wrap(`${words}: ${command.summary}`, WIDTH).join("\n")}`,
    `Usage: ${usage.join("\n       ")}`,
  ];
  parts.push(wrap(command.description, WIDTH).join("\n"));
  if (command.examples.length > 0) {
    const lines = command.examples.map(exampleText);
    parts.push(section(command.examples.length === 1 ? "Example" : "Examples", lines.join("\n")));
  }
  if (command.subcommands !== undefined) {
    const rows = command.subcommands.map((sub) => [sub.name, sub.summary] as const);
    parts.push(section("Commands", definitionList(rows, WIDTH)));
  }
  if (command.operands.length > 0) {
    const rows = command.operands.map((operand) => [operand.name, operand.summary] as const);
    parts.push(section("Files", definitionList(rows, WIDTH)));
  }
  for (const group of GROUPS) {
    const options = command.options.filter((option) => option.group === group);
    if (options.length > 0)
      parts.push(
        section(
          group,
          definitionList(
            options.map((option) => optionRow(option, command)),
            WIDTH,
          ),
        ),
      );
  }
  parts.push("Exit status and environment: see jartally --help.");
  return `${parts.join("\n\n")}\n`;
}

/** A command line that is too long goes on behind a backslash, as it can be typed. */
function exampleText(example: CommandExample): string {
  const lines = wrap(example.line, WIDTH - 10).map(
    (line, at, all) => `${line}${at < all.length - 1 ? " \\" : ""}`,
  );
  return `  $ ${lines.join("\n      ")}\n${indented(example.explains, 4)}`;
}

/** "--output <dir>" of "-o, --output <dir>". */
function longFlag({ flags }: OptionDefinition<unknown>): string {
  return flags.replace(/^-\w, /, "");
}

function optionRow(option: OptionDefinition<unknown>, command: CommandDefinition): readonly [string, string] {
  const choices = option.choices === undefined ? "" : ` One of: ${option.choices().join(", ")}.`;
  const fallback = option.defaultText === undefined ? "" : ` Default: ${option.defaultText}.`;
  const rule = command.required?.find((one) => one.option === option);
  const needed =
    rule === undefined ? "" : rule.unless === undefined ? " Required." : ` Required, but not ${rule.unless}.`;
  return [option.flags, `${option.summary}${choices}${fallback}${needed}`];
}

function exitStatus(): string {
  const rows = EXIT_CODE_TEXT.map(([code, text]) => [String(code), text] as const);
  return section("Exit status", definitionList(rows, WIDTH));
}

function environment(): string {
  return section(
    "Environment",
    definitionList(
      [
        ["NO_COLOR", "no colour when set and not empty (--color always wins)"],
        ["FORCE_COLOR", "colour also in a pipe"],
        ["TERM", "'dumb' means no colour"],
      ],
      WIDTH,
    ),
  );
}

function section(title: string, body: string): string {
  return `${title}\n${body}`;
}

function indented(text: string, by: number): string {
  return wrap(text, WIDTH - by)
    .map((line) => " ".repeat(by) + line)
    .join("\n");
}
