import type { CommandDefinition, OperandDefinition } from "../define.ts";
import { optionFlags } from "./option-flags.ts";
import { readTypedLine, type TypedLine } from "./typed-line.ts";
import { kindOfValue, type ValueKind } from "./value-kinds.ts";

/** A word that may stand next. */
export interface Offer {
  readonly word: string;
  /** A few words about it; empty where there is nothing to say. */
  readonly about: string;
}

/** What may stand in the place of the word being typed. */
export interface Offers {
  readonly words: readonly Offer[];
  /** Whether the shell adds names of files or folders. */
  readonly paths: "none" | "files" | "folders";
}

/** Looks up words that are not in the registry: sets, metrics, samples of the files named. */
export type ValueSource = (kind: ValueKind, line: TypedLine) => Promise<readonly Offer[]>;

const NOTHING: Offers = { words: [], paths: "none" };
const HELP: readonly Offer[] = [{ word: "--help", about: "show help" }];

/**
 * What may stand next on a command line, straight from the registry; `values` is asked only for what the registry
 * cannot know.
 *
 * @param words the words behind the program's name; the last is being typed and may be empty
 */
export async function offersFor(
  words: readonly string[],
  commands: readonly CommandDefinition[],
  values: ValueSource,
): Promise<Offers> {
  if (words.length > 1 && words[0] === "help") return helpTopics(words.slice(1), commands);
  const line = readTypedLine(words, commands);
  const { open, current } = line;
  if (open !== undefined) {
    const about = optionFlags(open).value ?? "";
    return valueOffers(kindOfValue(about), open.choices?.(), line, values);
  }
  if (line.takesOptions && current.startsWith("-")) return starting(current, optionOffers(line));
  if (line.operands.length === 0 && line.below.length > 0) {
    const own = line.command === undefined ? [{ word: "help", about: "explain a command" }] : [];
    return starting(current, [...commandOffers(line.below), ...own]);
  }
  const operand = operandAt(line);
  if (operand === undefined)
    return line.command !== undefined && line.takesOptions && current === ""
      ? starting(current, optionOffers(line))
      : NOTHING;
  const isMetricList = line.command?.name === "metrics" && line.given.has("--list");
  return valueOffers(isMetricList ? "metrics" : kindOfValue(operand.name), operand.choices?.(), line, values);
}

function starting(current: string, offers: readonly Offer[]): Offers {
  return { words: offers.filter(({ word }) => word.startsWith(current)), paths: "none" };
}

function commandOffers(commands: readonly CommandDefinition[]): Offer[] {
  return commands.map(({ name, summary }) => ({ word: name, about: summary }));
}

/** `help` takes the words of a command and nothing else. */
function helpTopics(words: readonly string[], commands: readonly CommandDefinition[]): Offers {
  const { below, operands, current } = readTypedLine(words, commands);
  return operands.length > 0 ? NOTHING : starting(current, commandOffers(below));
}

/** Every option that was not given yet. */
function optionOffers({ command, given }: TypedLine): Offer[] {
  const program = command === undefined ? [{ word: "--version", about: "show the version" }] : [];
  const options = (command?.options ?? []).map((option) => ({
    word: optionFlags(option).long,
    about: option.summary,
  }));
  return [...options.filter(({ word }) => !given.has(word)), ...HELP, ...program];
}

function operandAt({ command, operands }: TypedLine): OperandDefinition | undefined {
  const known = command?.operands ?? [];
  const last = known.at(-1);
  return known[operands.length] ?? (last?.name.includes("...") === true ? last : undefined);
}

async function valueOffers(
  kind: ValueKind,
  choices: readonly string[] | undefined,
  line: TypedLine,
  values: ValueSource,
): Promise<Offers> {
  const { current, prefix } = line;
  if (kind === "files" || kind === "folders") return { words: [], paths: kind };
  const known = choices?.map((word) => ({ word, about: "" })) ?? (await knownValues(kind, line, values));
  // A list joined by commas: its last word is being typed, and none is offered twice.
  const isList = kind === "schemes" || line.open?.flags.includes("<metrics>") === true;
  const cut = isList ? current.lastIndexOf(",") + 1 : 0;
  const before = current.slice(0, cut);
  const taken = new Set(before.split(","));
  const words = known
    .filter(({ word }) => word.startsWith(current.slice(cut)) && !(isList && taken.has(word)))
    .map(({ word, about }) => ({ word: `${prefix}${before}${word}`, about }));
  if (kind === "schemes") return { words, paths: "files" };
  return { words, paths: kind === "sets" && (words.length === 0 || current === "") ? "folders" : "none" };
}

async function knownValues(kind: ValueKind, line: TypedLine, values: ValueSource): Promise<readonly Offer[]> {
  return kind === "nothing" ? [] : values(kind, line);
}
