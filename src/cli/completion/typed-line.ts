import type { CommandDefinition, OptionDefinition } from "../define.ts";
import { optionFlags } from "./option-flags.ts";

/** What a command line says so far, up to the word that is being typed. */
export interface TypedLine {
  /** The command named; undefined before there is one. */
  readonly command: CommandDefinition | undefined;
  /** Its words, for instance ["qc", "sorting"]. */
  readonly path: readonly string[];
  /** Commands that may be named next. */
  readonly below: readonly CommandDefinition[];
  /** Words of options by their long flag; a switch has the empty text. */
  readonly given: ReadonlyMap<string, string>;
  readonly operands: readonly string[];
  /** The option whose value is being typed. */
  readonly open: OptionDefinition<unknown> | undefined;
  /** The word being typed, without the flag and the equals sign in front of an option's value. */
  readonly current: string;
  /** What stands before `current` in its word: "--format=". */
  readonly prefix: string;
  /** Whether options may follow: not behind `--`. */
  readonly takesOptions: boolean;
}

/**
 * Reads a command line that is not finished. Nothing in it is an error: whoever is still typing has to be helped.
 *
 * @param words the words behind the program's name; the last is being typed and may be empty
 */
export function readTypedLine(words: readonly string[], commands: readonly CommandDefinition[]): TypedLine {
  let command: CommandDefinition | undefined;
  let below = commands;
  let open: OptionDefinition<unknown> | undefined;
  let takesOptions = true;
  const path: string[] = [];
  const given = new Map<string, string>();
  const operands: string[] = [];
  const optionOf = (flag: string) =>
    command?.options.find((option) => {
      const { long, short } = optionFlags(option);
      return flag === long || flag === short;
    });
  for (const word of words.slice(0, -1)) {
    if (open !== undefined) {
      given.set(optionFlags(open).long, word);
      open = undefined;
    } else if (takesOptions && word === "--") takesOptions = false;
    else if (takesOptions && /^-./.test(word)) {
      const at = word.indexOf("=");
      const option = optionOf(at < 0 ? word : word.slice(0, at));
      if (option === undefined) continue;
      if (at < 0 && option.isSwitch !== true) open = option;
      else given.set(optionFlags(option).long, at < 0 ? "" : word.slice(at + 1));
    } else {
      const next = operands.length === 0 ? below.find((one) => one.name === word) : undefined;
      if (next === undefined) operands.push(word);
      else {
        command = next;
        below = next.subcommands ?? [];
        path.push(word);
      }
    }
  }
  const current = words.at(-1) ?? "";
  const line = { command, path, below, given, operands, takesOptions };
  const at = current.indexOf("=");
  if (open === undefined && takesOptions && current.startsWith("--") && at > 0) {
    const option = optionOf(current.slice(0, at));
    if (option !== undefined && option.isSwitch !== true)
      return { ...line, open: option, current: current.slice(at + 1), prefix: current.slice(0, at + 1) };
  }
  return { ...line, open, current, prefix: "" };
}
