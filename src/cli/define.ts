import type { CommandContext } from "./context.ts";
import type { ExitCode } from "./exit-codes.ts";

/** A word the user got wrong; ends in exit code 2 with the message and no stack. */
export class UsageError extends Error {
  readonly hint: string;

  constructor(message: string, hint = "") {
    super(message);
    this.hint = hint;
  }
}

/** One option of a command. `T` is what its value is read into. */
export interface OptionDefinition<T> {
  /** As commander writes them: "-o, --output <file>". */
  readonly flags: string;
  readonly summary: string;
  /** Heading under which help lists it. */
  readonly group: "Input" | "Method" | "Output" | "Running" | "Messages";
  /** Reads the word given. @throws UsageError that says what is allowed */
  readonly parse: (word: string) => T;
  /** What holds when the option is not given, in words, for help. */
  readonly defaultText?: string;
  /** The words allowed, for help, suggestions and completion. */
  readonly choices?: () => readonly string[];
  /** A switch takes no value; `parse` is then given the empty text. */
  readonly isSwitch?: boolean;
}

/** Keeps the type of the value. */
export function defineOption<T>(option: OptionDefinition<T>): OptionDefinition<T> {
  return option;
}

/** A switch: true when given. */
export function defineSwitch(
  option: Pick<OptionDefinition<boolean>, "flags" | "summary" | "group">,
): OptionDefinition<boolean> {
  return { ...option, parse: () => true, isSwitch: true };
}

/** The options the user gave. */
export interface OptionValues {
  /** The value from the command line, or else from the settings file; undefined when neither gives it. */
  get<T>(option: OptionDefinition<T>): T | undefined;
  /** Whether the command line itself gives the option: a default of the lab contradicts nothing. */
  isGiven(option: OptionDefinition<unknown>): boolean;
}

export interface OperandDefinition {
  /** As commander writes them: "<sheet...>" or "[dir]". */
  readonly name: string;
  readonly summary: string;
  /** The words allowed, for completion. */
  readonly choices?: () => readonly string[];
}

export interface RequiredOption {
  // biome-ignore lint/suspicious/noExplicitAny: as in the list of options
  readonly option: OptionDefinition<any>;
  /** When it is not needed, in words: "with --list". */
  readonly unless?: string;
}

export interface CommandExample {
  /** A whole command line that works in a folder holding a copy of the demo data. */
  readonly line: string;
  readonly explains: string;
  /** Command lines that make what the example reads, for those who try it out; help leaves them out. */
  readonly after?: readonly string[];
}

/** What a command is given when it runs. */
export interface CommandInput {
  readonly operands: readonly string[];
  readonly options: OptionValues;
}

/**
 * A command: one declarative object in a file of its own, and one line in the registry. Help, choices and
 * documentation derive from it. Heavy parts are imported inside `run`, so that help stays quick.
 */
export interface CommandDefinition {
  readonly name: string;
  /** One line for the list of commands. */
  readonly summary: string;
  /** A short paragraph or two that teach. */
  readonly description: string;
  readonly operands: readonly OperandDefinition[];
  // biome-ignore lint/suspicious/noExplicitAny: options of different types stand in one list; each is read with its own type
  readonly options: readonly OptionDefinition<any>[];
  /** Options without which the command does nothing. Help says so; `run` refuses a line without them. */
  readonly required?: readonly RequiredOption[];
  readonly examples: readonly CommandExample[];
  /** Commands below this one, for instance `reference list`; one with `run` too does its own work without them. */
  readonly subcommands?: readonly CommandDefinition[];
  /** What it does must not hang on the folder it is called in, so that the settings file says nothing to it. */
  readonly ignoresSettings?: boolean;
  /** Absent only when there are subcommands. */
  readonly run?: (context: CommandContext, input: CommandInput) => Promise<ExitCode>;
}

export function defineCommand(command: CommandDefinition): CommandDefinition {
  return command;
}
