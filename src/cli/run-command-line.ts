import { CommanderError } from "commander";
import { oneLine } from "../files/visible-text.ts";
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
  const program = buildProgram(commands, context, async ({ command, input }) => {
    exit = (await command.run?.(context, input)) ?? EXIT.done;
    return exit;
  });
  try {
    await program.parseAsync([...words], { from: "user" });
    return exit;
  } catch (error) {
    if (error instanceof CommanderError) {
      if (error.exitCode === 0) return EXIT.done;
      const message = error.code === "commander.help" ? unknownTopic(words) : sentence(error.message);
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
  const name = commands.find((command) => command.name === words[0])?.name;
  const more = hint === "" ? `see jartally ${name === undefined ? "--help" : `help ${name}`}` : hint;
  await context.stderr.write(`jartally: ${oneLine(`${message} (${more})`)}\n`);
  return EXIT.usage;
}

/** Help was asked for and cannot be given: no command was named, or one that there is not. */
function unknownTopic(words: readonly string[]): string {
  const topic = words[0] === "help" ? words.slice(1).join(" ") : "";
  return topic === "" ? "name a command" : `there is no command "${topic}"`;
}

/** commander starts its messages with "error: " and puts suggestions in parentheses on a line of their own. */
function sentence(message: string): string {
  return message
    .replace(/^error: /, "")
    .replace(/(?<!\s)\s*\n\s*\(Did you mean (.*)\)$/, "; did you mean $1");
}
