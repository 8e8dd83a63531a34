import type { ColourChoice } from "../colour.ts";
import { defineOption, defineSwitch, UsageError } from "../define.ts";
import { noSettingsOption } from "./settings.ts";

export const quietOption = defineSwitch({
  flags: "-q, --quiet",
  summary: "Print errors only.",
  group: "Messages",
});

export const colourOption = defineOption<ColourChoice>({
  flags: "--color <when>",
  summary: "Colour on the terminal.",
  group: "Messages",
  choices: () => ["auto", "always", "never"],
  defaultText: "auto",
  parse: (word) => (word === "always" || word === "never" ? word : "auto"),
});

export const noProgressOption = defineSwitch({
  flags: "--no-progress",
  summary: "No progress line, also on a terminal.",
  group: "Messages",
});

export const debugOption = defineSwitch({
  flags: "--debug",
  summary: "Show where in the program a failure happened.",
  group: "Messages",
});

export const findingsOption = defineOption<string>({
  flags: "--findings <file>",
  summary: "Write every finding to this file as CSV.",
  group: "Messages",
  parse: (word) => word,
});

export const maxFindingsOption = defineOption<number>({
  flags: "--max-findings <n>",
  summary: "Print at most this many findings of each code.",
  group: "Messages",
  defaultText: "5",
  parse: parseWholeNumber,
});

export const strictOption = defineSwitch({
  flags: "--strict",
  summary: "Warnings count: exit code 1 when there is one.",
  group: "Messages",
});

export const threadsOption = defineOption<number>({
  flags: "--threads <n>",
  summary:
    "Threads that may be used: many resamples (score --resamples) are shared out to them, and a large run is hashed in one while another reads it. No result depends on it; everything else uses one.",
  group: "Running",
  defaultText: "as many as the machine has, 8 at most",
  parse: (word) => {
    const threads = parseWholeNumber(word);
    if (threads < 1 || threads > 256)
      throw new UsageError(`"${word}" is not a number of threads from 1 to 256`);
    return threads;
  },
});

/** Options that every command has. */
export const MESSAGE_OPTIONS = [
  noSettingsOption,
  threadsOption,
  findingsOption,
  maxFindingsOption,
  strictOption,
  quietOption,
  colourOption,
  noProgressOption,
  debugOption,
];

/** Reads a whole number in plain digits. @throws UsageError for anything else */
export function parseWholeNumber(word: string): number {
  if (!/^(0|[1-9]\d{0,15})$/.test(word) || !Number.isSafeInteger(Number(word))) {
    throw new UsageError(`"${word}" is not a whole number in plain digits`);
  }
  return Number(word);
}
