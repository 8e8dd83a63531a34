import type { CommandContext } from "./context.ts";
import { EXIT, type ExitCode } from "./exit-codes.ts";
import { programHelp } from "./help.ts";
import { quickAnswer } from "./quick-answer.ts";
import { COMMANDS } from "./registry.ts";
import { handleSignals } from "./signals.ts";
import { processContext } from "./standard-streams.ts";

/**
 * Runs a command line. The only place that sets the exit code, and it never ends the process itself: what was
 * written must first reach its reader.
 */
export async function main(words: readonly string[]): Promise<void> {
  const context = processContext();
  handleSignals(context.stderr);
  // Until the end is known: a process that stops before it, because nothing is left to wait for, has a bug.
  process.exitCode = EXIT.bug;
  process.exitCode = await runWords(words, context);
}

/** The exit code of a command line, for `main`. */
export async function runWords(words: readonly string[], context: CommandContext): Promise<ExitCode> {
  if (words.length === 0) {
    await context.stderr.write(programHelp(COMMANDS));
    return EXIT.usage;
  }
  const answer = quickAnswer(words, COMMANDS);
  if (answer !== undefined) {
    await context.stdout.write(answer);
    return EXIT.done;
  }
  // The parser is a large part of the start-up time, and neither help nor version needs it.
  const { runCommandLine } = await import("./run-command-line.ts");
  return runCommandLine(words, COMMANDS, context);
}
