import { parseJson } from "../files/json.ts";
import type { Finding } from "../findings/finding.ts";
import { finding, wholeFile } from "../findings/finding.ts";
import { didYouMean } from "../metrics/closest.ts";
import { placeInJson } from "../reference/json-places.ts";
import type { CommandDefinition, OptionDefinition } from "./define.ts";
import type { Setting, Settings } from "./settings.ts";
import { SettingsError, settingName } from "./settings.ts";

/**
 * Options that belong to one run: a default for them would write where nobody thought of, show where protected
 * animals live, or keep the file itself from being read.
 */
const OF_ONE_RUN: ReadonlySet<string> = new Set([
  "output",
  "force",
  "findings",
  "run",
  "stamp",
  "report",
  "summary",
  "pages",
  "write-names",
  "exact-places",
  "into",
  "list",
  "today",
  "debug",
  "no-settings",
]);

/** A command that does work, with the words that call it. */
interface Leaf {
  readonly name: string;
  readonly options: ReadonlyMap<string, OptionDefinition<unknown>>;
  readonly ignoresSettings: boolean;
}

/** A settings file that was read without a fault. */
export interface ReadSettings {
  /** What it says for a command: its own section over what is said for all. */
  of(path: readonly string[]): Settings;
}

/**
 * Reads a settings file: an object of options by their long names, each the default of every command that has the
 * option, and of objects by command ("score", "qc sorting") with options for that command alone.
 *
 * @param file how findings name it
 * @throws SettingsError with every fault and its place
 */
export function parseSettings(
  bytes: Uint8Array,
  file: string,
  commands: readonly CommandDefinition[],
): ReadSettings {
  return new SettingsReader(textOf(bytes, file), file, leavesOf(commands)).read();
}

function textOf(bytes: Uint8Array, file: string): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw new SettingsError([
      finding("bad-setting", wholeFile(file), { message: "the file is not UTF-8 text" }),
    ]);
  }
}

function leavesOf(commands: readonly CommandDefinition[], before: readonly string[] = []): Leaf[] {
  return commands.flatMap((command) => {
    const path = [...before, command.name];
    const below = leavesOf(command.subcommands ?? [], path);
    if (command.run === undefined) return below;
    const options = new Map(command.options.map((option) => [settingName(option.flags), option]));
    return [{ name: path.join(" "), options, ignoresSettings: command.ignoresSettings === true }, ...below];
  });
}

type JsonObject = Readonly<Record<string, unknown>>;

function isObject(value: unknown): value is JsonObject {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** `off` takes a switch back that is on for all commands. */
type Said = Setting | "off";

class SettingsReader {
  readonly #text: string;
  readonly #file: string;
  readonly #leaves: readonly Leaf[];
  readonly #faults: Finding[] = [];
  readonly #forAll = new Map<string, Said>();
  readonly #sections = new Map<string, Map<string, Said>>();

  constructor(text: string, file: string, leaves: readonly Leaf[]) {
    this.#text = text;
    this.#file = file;
    this.#leaves = leaves;
  }

  read(): ReadSettings {
    const parsed = parseJson(this.#text);
    if ("fault" in parsed) {
      const { line, column, message } = parsed.fault;
      throw new SettingsError([finding("bad-setting", { file: this.#file, line, column }, { message })]);
    }
    if (isObject(parsed.value)) this.#root(parsed.value);
    else this.#fault([], 'the file must hold an object, for instance {"samples": "sample-log.csv"}');
    if (this.#faults.length > 0) throw new SettingsError(this.#faults);
    return { of: (path) => this.#of(path.join(" ")) };
  }

  #of(name: string): Settings {
    const leaf = this.#leaves.find((one) => one.name === name);
    const settings = new Map<string, Setting>();
    if (leaf === undefined || leaf.ignoresSettings) return settings;
    for (const option of leaf.options.keys()) {
      const said = this.#sections.get(name)?.get(option) ?? this.#forAll.get(option);
      if (said !== undefined && said !== "off") settings.set(option, said);
    }
    return settings;
  }

  #root(root: JsonObject): void {
    for (const [key, value] of Object.entries(root)) {
      if (isObject(value)) this.#section(key, value);
      else this.#optionForAll(key, value);
    }
  }

  #section(name: string, options: JsonObject): void {
    const leaf = this.#leaves.find((one) => one.name === name);
    if (leaf === undefined) {
      const near = didYouMean(
        name,
        this.#leaves.map((one) => one.name),
      );
      this.#fault([name], `there is no command "${name}"${near}`);
      return;
    }
    if (leaf.ignoresSettings) {
      this.#fault([name], `${name} takes no settings`);
      return;
    }
    const said = new Map<string, Said>();
    this.#sections.set(name, said);
    for (const [key, value] of Object.entries(options)) {
      const option = leaf.options.get(key);
      if (option === undefined)
        this.#fault([name, key], `${name} has no option "${key}"${near(key, leaf.options.keys())}`);
      else this.#option([name, key], key, option, value, said);
    }
  }

  #optionForAll(key: string, value: unknown): void {
    const leaves = this.#leaves.filter((leaf) => !leaf.ignoresSettings && leaf.options.has(key));
    const options = leaves.map((leaf) => leaf.options.get(key)).filter((option) => option !== undefined);
    const [first] = options;
    if (first === undefined) {
      const names = new Set(this.#leaves.flatMap((leaf) => [...leaf.options.keys()]));
      this.#fault([key], `there is no option "${key}"${near(key, names)}`);
      return;
    }
    // Options of one name that take other words mean other things.
    if (!OF_ONE_RUN.has(key) && options.some((option) => option.flags !== first.flags)) {
      const names = leaves.map((leaf) => leaf.name);
      const [example = ""] = names;
      this.#fault(
        [key],
        `"${key}" means different things to ${names.join(", ")}`,
        `set it for one command: {"${example}": {"${key}": ...}}`,
      );
      return;
    }
    this.#option([key], key, first, value, this.#forAll);
  }

  #option(
    path: readonly string[],
    key: string,
    option: OptionDefinition<unknown>,
    value: unknown,
    said: Map<string, Said>,
  ): void {
    const place = { file: this.#file, ...placeInJson(this.#text, path) };
    if (OF_ONE_RUN.has(key)) {
      this.#fault(path, `"${key}" belongs to one run and is given on the command line only`);
    } else if (option.isSwitch === true) {
      if (typeof value === "boolean") said.set(key, value ? { word: "", place } : "off");
      else this.#fault(path, `"${key}" is a switch: true or false`);
    } else if (typeof value === "string" || typeof value === "number") {
      said.set(key, { word: String(value), place });
    } else if (Array.isArray(value) && value.every((one) => typeof one === "string")) {
      said.set(key, { word: value.join(","), place });
    } else this.#fault(path, `"${key}" is a text or a number`);
  }

  #fault(path: readonly string[], message: string, hint?: string): void {
    const place = { file: this.#file, ...placeInJson(this.#text, path) };
    this.#faults.push(finding("bad-setting", place, { message, hint }));
  }
}

function near(key: string, names: Iterable<string>): string {
  const bare = key.replace(/^-+/, "").replaceAll("_", "-");
  return didYouMean(bare, names);
}
