import { CommanderError } from "commander";
import { buildProgram } from "./build-program.ts";
import type { CommandContext } from "./context.ts";
import { UsageError } from "./define.ts";
import { EXIT, type ExitCode } from "./exit-codes.ts";
import { programHelp } from "./help.ts";
import { COMMANDS } from "./registry.ts";
import { handleSignals } from "./signals.ts";
import { processContext } from "./standard-streams.ts";

/**
 * Runs a command line. The only place that sets the exit code, and it never ends the process itself: what was
 * written must first reach its reader.
 */
export async function main(words: readonly string[]): Promise<void> {
  const context = processContext();
  handleSignals();
  process.exitCode = await runWords(words, context);
}

/** The exit code of a command line, for `main`. */
export async function runWords(words: readonly string[], context: CommandContext): Promise<ExitCode> {
  if (words.length === 0) {
    await context.stderr.write(programHelp(COMMANDS));
    return EXIT.usage;
  }
  let exit: ExitCode = EXIT.done;
  const program = buildProgram(COMMANDS, context, async ({ command, input }) => {
    exit = (await command.run?.(context, input)) ?? EXIT.done;
    return exit;
  });
  try {
    await program.parseAsync([...words], { from: "user" });
    return exit;
  } catch (error) {
    return await reportFailure(error, words, context);
  }
}

async function reportFailure(
  error: unknown,
  words: readonly string[],
  context: CommandContext,
): Promise<ExitCode> {
  if (error instanceof CommanderError) {
    if (error.exitCode === 0) return EXIT.done;
    return reportUsage(
      error.code === "commander.help" ? "name a command" : sentence(error.message),
      words,
      context,
    );
  }
  if (error instanceof UsageError) return reportUsage(error.message, words, context, error.hint);
  const { explainFailure } = await import("./failure.ts");
  const failure = explainFailure(error, words.includes("--debug"));
  await context.stderr.write(failure.text);
  return failure.exit;
}

async function reportUsage(
  message: string,
  words: readonly string[],
  context: CommandContext,
  hint = "",
): Promise<ExitCode> {
  const name = COMMANDS.find((command) => command.name === words[0])?.name;
  const more = hint === "" ? `see jartally ${name === undefined ? "--help" : `help ${name}`}` : hint;
  await context.stderr.write(`jartally: ${message} (${more})\n`);
  return EXIT.usage;
}

/** commander starts its messages with "error: " and puts suggestions on a line of their own. */
function sentence(message: string): string {
  return message.replace(/^error: /, "").replace(/\s*\n\s*/g, " ");
}
