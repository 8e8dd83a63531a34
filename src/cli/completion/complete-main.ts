import { COMMANDS } from "../registry.ts";
import { processContext } from "../standard-streams.ts";
import { answerText } from "./answer-text.ts";
import { offersFor } from "./offers.ts";

/**
 * Answers a shell that completes a command line: `__complete WORD...`, the words behind the program's name up to
 * the one being typed. Built into a single small file like help, because it runs at every press of the tab key;
 * what looks into files and tables is a second file, loaded when it is asked for. Whatever goes wrong, the shell
 * gets no words and the person no message in the middle of a line.
 */
export async function main(words: readonly string[]): Promise<void> {
  const context = processContext();
  const [, ...typed] = words;
  const text = await offersFor(typed, COMMANDS, async (kind, line) => {
    const { valuesOf } = await import("./values.ts");
    return valuesOf(kind, line, context.cwd);
  }).then(answerText, () => "none\n");
  await context.stdout.write(text);
}
