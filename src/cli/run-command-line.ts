import { CommanderError } from "commander";
import { oneLine } from "../files/visible-text.ts";
import { didYouMean } from "../metrics/closest.ts";
import { buildProgram } from "./build-program.ts";
import type { CommandContext } from "./context.ts";
import type { CommandDefinition } from "./define.ts";
import { UsageError } from "./define.ts";
import { EXIT, type ExitCode } from "./exit-codes.ts";
import { SettingsError } from "./settings.ts";

/** Parses a command line, runs its command, and turns whatever is thrown into words and an exit code. */
export async function runCommandLine(
  words: readonly string[],
  commands: readonly CommandDefinition[],
  context: CommandContext,
): Promise<ExitCode> {
  let exit: ExitCode = EXIT.done;
  const program = buildProgram(commands, words[0], context, async ({ command, input }) => {
    exit = (await command.run?.(context, input)) ?? EXIT.done;
    return exit;
  });
  try {
    await program.parseAsync([...words], { from: "user" });
    return exit;
  } catch (error) {
    if (error instanceof CommanderError) {
      if (error.exitCode === 0) return EXIT.done;
      const [first = ""] = words;
      const late = commands.find(({ name }) => words.includes(name));
      if (error.code === "commander.unknownOption" && first.startsWith("-") && late !== undefined) {
        const where = `options stand behind the command: jartally ${late.name} ... ${first}`;
        return reportUsage(`${first} stands before a command`, where, words, commands, context);
      }
      const message =
        error.code === "commander.help"
          ? unknownTopic(words, commands)
          : error.code === "commander.missingArgument"
            ? missingOperand(sentence(error.message), words, commands)
            : sentence(error.message);
      return reportUsage(message, "", words, commands, context);
    }
    if (error instanceof UsageError) return reportUsage(error.message, error.hint, words, commands, context);
    if (error instanceof SettingsError) {
      const { findingLine } = await import("./messages.ts");
      await context.stderr.write(error.findings.map((one) => `${findingLine(one)}\n`).join(""));
      return EXIT.usage;
    }
    const { explainFailure } = await import("./failure.ts");
    const failure = explainFailure(error, words.includes("--debug"));
    await context.stderr.write(failure.text);
    return failure.exit;
  }
}

async function reportUsage(
  message: string,
  hint: string,
  words: readonly string[],
  commands: readonly CommandDefinition[],
  context: CommandContext,
): Promise<ExitCode> {
  const { path } = namedCommand(words, commands);
  const more = hint === "" ? `see jartally ${path.length === 0 ? "--help" : `help ${path.join(" ")}`}` : hint;
  await context.stderr.write(`jartally: ${oneLine(`${message} (${more})`)}\n`);
  return EXIT.usage;
}

/** Help was asked for and cannot be given: no command was named, or one that there is not. */
function unknownTopic(words: readonly string[], commands: readonly CommandDefinition[]): string {
  const topic = words[0] === "help" ? words.slice(1).join(" ") : "";
  if (topic === "") return "name a command";
  const names = commands.flatMap(({ name, subcommands = [] }) => [
    name,
    ...subcommands.map((sub) => `${name} ${sub.name}`),
  ]);
  return `there is no command "${topic}"${didYouMean(topic, names)}`;
}

/** The command that a line names, as far as it does. */
function namedCommand(
  words: readonly string[],
  commands: readonly CommandDefinition[],
): { readonly path: readonly string[]; readonly command: CommandDefinition | undefined } {
  const path: string[] = [];
  let below = commands;
  let command: CommandDefinition | undefined;
  for (const word of words) {
    const found = below.find((one) => one.name === word);
    if (found === undefined) break;
    path.push(word);
    command = found;
    below = found.subcommands ?? [];
  }
  return { path, command };
}

/** Says of the word that is missing what it is, from the command's own help. */
function missingOperand(
  message: string,
  words: readonly string[],
  commands: readonly CommandDefinition[],
): string {
  const name = /'(.+)'/.exec(message)?.[1];
  const operand = namedCommand(words, commands).command?.operands.find(
    (one) => one.name.replace(/[<>[\].]/g, "") === name,
  );
  return operand === undefined ? message : `${message}: ${operand.summary.replace(/\.$/, "")}`;
}

/** commander starts its messages with "error: " and puts suggestions in parentheses on a line of their own. */
function sentence(message: string): string {
  return message
    .replace(/^error: /, "")
    .replace(/(?<!\s)\s*\n\s*\(Did you mean (.*)\)$/, "; did you mean $1");
}
