import { loadProgram } from "./load-program.ts";

/** Runs a command line with the built program. */
export function main(words: readonly string[]): Promise<void> {
  return loadProgram().main(words);
}
