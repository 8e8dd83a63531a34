import { Command, Option } from "commander";
import type { CommandContext } from "./context.ts";
import type { CommandDefinition, CommandInput, OptionDefinition, OptionValues } from "./define.ts";
import { UsageError } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import { commandHelp, programHelp } from "./help.ts";

/** What a parsed command line comes down to. */
export interface Invocation {
  readonly command: CommandDefinition;
  readonly input: CommandInput;
}

/** Builds the parser from the registry. `invoke` is called with the command chosen and what it was given. */
export function buildProgram(
  commands: readonly CommandDefinition[],
  context: CommandContext,
  invoke: (invocation: Invocation) => Promise<ExitCode>,
): Command {
  const program = new Command("jartally");
  program.version(JARTALLY_VERSION, "--version");
  program.helpInformation = () => programHelp(commands);
  settle(program, context);
  program.enablePositionalOptions();
  for (const definition of commands) addCommand(program, definition, [definition.name], context, invoke);
  program.helpCommand("help [command]");
  return program;
}

function addCommand(
  parent: Command,
  definition: CommandDefinition,
  path: readonly string[],
  context: CommandContext,
  invoke: (invocation: Invocation) => Promise<ExitCode>,
): void {
  const command = parent.command(definition.name);
  command.helpInformation = () => commandHelp(definition, path);
  settle(command, context);
  for (const sub of definition.subcommands ?? [])
    addCommand(command, sub, [...path, sub.name], context, invoke);
  if (definition.run === undefined) return;
  // A command with work of its own may not take the options that stand behind the name of one below it.
  if (definition.subcommands !== undefined) command.enablePositionalOptions();
  for (const operand of definition.operands) command.argument(operand.name);
  for (const option of definition.options) command.addOption(new Option(option.flags));
  command.action(async () => {
    refuseLostOptions(parent, definition.name);
    await invoke({
      command: definition,
      input: { operands: command.args, options: readOptions(definition.options, command.opts()) },
    });
  });
}

/** An option before the name of a command below would be read and then do nothing. */
function refuseLostOptions(parent: Command, name: string): void {
  const lost = Object.keys(parent.opts()).find((key) => parent.getOptionValueSource(key) === "cli");
  const option = parent.options.find((one) => one.attributeName() === lost);
  if (option === undefined || option.long === "--version") return;
  throw new UsageError(`${option.long ?? option.flags} stands before ${name}; write options behind it`);
}

/** Errors come back as exceptions, and nothing is printed but help and version. */
function settle(command: Command, context: CommandContext): void {
  command.exitOverride();
  command.allowExcessArguments(false);
  command.showSuggestionAfterError(true);
  command.configureOutput({
    writeOut: (text) => void context.stdout.write(text),
    writeErr: () => undefined,
  });
}

function readOptions(
  definitions: readonly OptionDefinition<unknown>[],
  given: Readonly<Record<string, unknown>>,
): OptionValues {
  const values = new Map<OptionDefinition<unknown>, unknown>();
  for (const definition of definitions) {
    const option = new Option(definition.flags);
    const word = given[option.attributeName()];
    if (word === undefined || (option.negate && word === true)) continue;
    const name = definition.flags.replace(/^-\w, /, "").split(" ")[0] ?? definition.flags;
    if (typeof word === "string" && definition.choices?.().includes(word) === false) {
      throw new UsageError(`${name}: "${word}" is not one of ${definition.choices().join(", ")}`);
    }
    values.set(definition, parseWord(definition, name, typeof word === "string" ? word : ""));
  }
  // The values were read by the very definitions they are asked for with.
  return { get: <T>(definition: OptionDefinition<T>) => values.get(definition) as T | undefined };
}

function parseWord(definition: OptionDefinition<unknown>, name: string, word: string): unknown {
  try {
    return definition.parse(word);
  } catch (error) {
    if (error instanceof UsageError) throw new UsageError(`${name}: ${error.message}`, error.hint);
    throw error;
  }
}
