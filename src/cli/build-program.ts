import { Command, Option } from "commander";
import { oneLine } from "../files/visible-text.ts";
import type { Finding } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { CommandContext } from "./context.ts";
import type { CommandDefinition, CommandInput, OptionDefinition, OptionValues } from "./define.ts";
import { UsageError } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import { commandHelp, programHelp } from "./help.ts";
import { quietOption } from "./options/messages.ts";
import type { Settings } from "./settings.ts";
import { SETTINGS_FILE, SettingsError, settingName, settingsFor } from "./settings.ts";

/** What a parsed command line comes down to. */
export interface Invocation {
  readonly command: CommandDefinition;
  readonly input: CommandInput;
}

/**
 * Builds the parser from the registry. `invoke` is called with the command chosen and what it was given.
 *
 * @param first the first word of the line: where it names a command, the parser needs to know no other
 */
export function buildProgram(
  commands: readonly CommandDefinition[],
  first: string | undefined,
  context: CommandContext,
  invoke: (invocation: Invocation) => Promise<ExitCode>,
): Command {
  const program = new Command("jartally");
  program.version(JARTALLY_VERSION, "--version");
  program.helpInformation = () => programHelp(commands);
  settle(program, context);
  program.enablePositionalOptions();
  const settingsOf = (path: readonly string[]) => settingsFor(path, commands, context.cwd);
  const named = commands.filter(({ name }) => name === first);
  for (const definition of named.length > 0 ? named : commands)
    addCommand(program, definition, [definition.name], context, settingsOf, invoke);
  program.helpCommand("help [command]");
  return program;
}

function addCommand(
  parent: Command,
  definition: CommandDefinition,
  path: readonly string[],
  context: CommandContext,
  settingsOf: (path: readonly string[]) => Promise<Settings>,
  invoke: (invocation: Invocation) => Promise<ExitCode>,
): void {
  const command = parent.command(definition.name);
  command.helpInformation = () => commandHelp(definition, path);
  settle(command, context);
  for (const sub of definition.subcommands ?? [])
    addCommand(command, sub, [...path, sub.name], context, settingsOf, invoke);
  if (definition.run === undefined) return;
  // A command with work of its own may not take the options that stand behind the name of one below it.
  if (definition.subcommands !== undefined) command.enablePositionalOptions();
  for (const operand of definition.operands) command.argument(operand.name);
  for (const option of definition.options) command.addOption(parserOption(option));
  command.action(async () => {
    refuseLostOptions(parent, definition.name);
    const given = command.opts();
    const isAlone = definition.ignoresSettings === true || given.settings === false;
    const settings = isAlone ? NO_SETTINGS : await settingsOf(path);
    const { values: options, used } = readOptions(definition.options, given, settings);
    if (used.length > 0 && options.get(quietOption) !== true)
      await context.stderr.write(`${oneLine(`${SETTINGS_FILE} sets ${used.join(" ")}`)}\n`);
    await invoke({ command: definition, input: { operands: command.args, options } });
  });
}

/** The option as the parser knows it. Of one given twice the parser would take the last and drop the other silently. */
function parserOption({ flags, isSwitch }: OptionDefinition<unknown>): Option {
  const option = new Option(flags);
  if (isSwitch === true) return option;
  return option.argParser((word: string, earlier: string | undefined) => {
    // A value that was forgotten would take the next option as its own.
    if (/^--[a-z]/.test(word))
      throw new UsageError(
        `${option.long ?? flags} lacks its value: "${word}" follows it`,
        `write ${flags.replace(/^-\w, /, "")}`,
      );
    if (earlier === undefined || earlier === word) return word;
    throw new UsageError(`${option.long ?? flags} is given twice, as "${earlier}" and "${word}"`);
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

const NO_SETTINGS: Settings = new Map();

/** Options as the command line gives them, and where it does not as the settings file does. */
function readOptions(
  definitions: readonly OptionDefinition<unknown>[],
  given: Readonly<Record<string, unknown>>,
  settings: Settings,
): { readonly values: OptionValues; readonly used: readonly string[] } {
  const values = new Map<OptionDefinition<unknown>, unknown>();
  const fromLine = new Set<OptionDefinition<unknown>>();
  const faults: Finding[] = [];
  const used: string[] = [];
  for (const definition of definitions) {
    const option = new Option(definition.flags);
    const word = given[option.attributeName()];
    const name = settingName(definition.flags);
    if (word !== undefined && !(option.negate && word === true)) {
      fromLine.add(definition);
      values.set(definition, parseWord(definition, `--${name}`, typeof word === "string" ? word : ""));
      continue;
    }
    const setting = settings.get(name);
    if (setting === undefined) continue;
    try {
      values.set(definition, parseWord(definition, name, setting.word));
    } catch (error) {
      if (!(error instanceof UsageError)) throw error;
      faults.push(finding("bad-setting", setting.place, { message: error.message }));
    }
    if (definition.group !== "Messages" && definition.group !== "Running")
      used.push(`--${name} ${setting.word}`.trim());
  }
  if (faults.length > 0) throw new SettingsError(faults);
  return {
    values: {
      // The values were read by the very definitions they are asked for with.
      get: <T>(definition: OptionDefinition<T>) => values.get(definition) as T | undefined,
      isGiven: (definition) => fromLine.has(definition),
    },
    used,
  };
}

/** @param name how messages call the option @throws UsageError for a word it does not take */
function parseWord(definition: OptionDefinition<unknown>, name: string, word: string): unknown {
  if (definition.isSwitch !== true && definition.choices?.().includes(word) === false)
    throw new UsageError(`${name}: "${word}" is not one of ${definition.choices().join(", ")}`);
  try {
    return definition.parse(word);
  } catch (error) {
    if (error instanceof UsageError) throw new UsageError(`${name}: ${error.message}`, error.hint);
    throw error;
  }
}
