import { quickAnswer } from "./quick-answer.ts";
import { COMMANDS } from "./registry.ts";
import { processContext } from "./standard-streams.ts";

/**
 * Runs a command line that asks for help or the version. Built into a single small file, because loading the
 * shared chunks of the program would take longer than the answer; whatever is no such question goes to the program.
 */
export async function main(words: readonly string[]): Promise<void> {
  const answer = quickAnswer(words, COMMANDS);
  if (answer !== undefined) {
    await processContext().stdout.write(answer);
    return;
  }
  const program = await import("./main.ts");
  await program.main(words);
}
