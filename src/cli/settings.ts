import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { asFileError } from "../files/file-error.ts";
import type { Finding, Place } from "../findings/finding.ts";
import type { CommandDefinition } from "./define.ts";

/** The settings file, looked for in the working folder and nowhere else. */
export const SETTINGS_FILE = "jartally.json";

/** The settings file says something that cannot be: wrong usage, exit code 2, each fault with its place. */
export class SettingsError extends Error {
  readonly findings: readonly Finding[];

  constructor(findings: readonly Finding[]) {
    super(findings.map((one) => one.message).join("; "));
    this.findings = findings;
  }
}

/** What the settings file says of one option. */
export interface Setting {
  /** As it would stand on the command line; empty for a switch. */
  readonly word: string;
  readonly place: Place;
}

/** Settings of one command, by the name of the option without dashes. */
export type Settings = ReadonlyMap<string, Setting>;

const NONE: Settings = new Map();

/**
 * The defaults that the settings file of the working folder gives a command; none when there is no such file.
 *
 * @param path words of the command, for instance ["qc", "sorting"]
 * @throws SettingsError when the file says something that cannot be, FileError when it cannot be read
 */
export async function settingsFor(
  path: readonly string[],
  commands: readonly CommandDefinition[],
  cwd: string,
): Promise<Settings> {
  let bytes: Uint8Array;
  try {
    bytes = await readFile(join(cwd, SETTINGS_FILE));
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return NONE;
    throw asFileError(SETTINGS_FILE, error);
  }
  const { parseSettings } = await import("./settings-file.ts");
  return parseSettings(bytes, SETTINGS_FILE, commands).of(path);
}

/** The name of an option as settings write it: its long flag without dashes. */
export function settingName(flags: string): string {
  return /--([a-z][a-z-]*)/.exec(flags)?.[1] ?? flags;
}
