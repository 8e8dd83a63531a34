import type { CommandDefinition } from "./define.ts";
import { commandHelp, programHelp } from "./help.ts";

/**
 * Help and version, straight from the registry.
 *
 * @returns the text, or undefined when the words are anything else
 */
export function quickAnswer(
  words: readonly string[],
  commands: readonly CommandDefinition[],
): string | undefined {
  if (words.length === 1 && words[0] === "--version") return `${JARTALLY_VERSION}\n`;
  const isHelp = (word: string | undefined) => word === "--help" || word === "-h";
  if (words.length === 1 && (isHelp(words[0]) || words[0] === "help")) return programHelp(commands);
  const path = words[0] === "help" ? words.slice(1) : isHelp(words.at(-1)) ? words.slice(0, -1) : undefined;
  if (path === undefined) return undefined;
  let below: readonly CommandDefinition[] = commands;
  let found: CommandDefinition | undefined;
  for (const word of path) {
    found = below.find((command) => command.name === word);
    if (found === undefined) return undefined;
    below = found.subcommands ?? [];
  }
  return found === undefined ? undefined : commandHelp(found, path);
}
