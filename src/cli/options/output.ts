import { defineOption, defineSwitch } from "../define.ts";

export const FORMAT_NAMES = ["csv", "tsv", "json", "ndjson", "table"] as const;
export type FormatName = (typeof FORMAT_NAMES)[number];

export const outputOption = defineOption<string>({
  flags: "-o, --output <file>",
  summary: "Write the data to this file, whole or not at all; its extension chooses the format.",
  group: "Output",
  defaultText: "standard output",
  parse: (word) => word,
});

export const formatOption = defineOption<FormatName>({
  flags: "--format <name>",
  summary: "Format of the data.",
  group: "Output",
  choices: () => FORMAT_NAMES,
  defaultText: "table on a terminal, csv otherwise",
  parse: (word) => FORMAT_NAMES.find((name) => name === word) ?? "csv",
});

export const forceOption = defineSwitch({
  flags: "-f, --force",
  summary: "Overwrite an existing output file.",
  group: "Output",
});

export const OUTPUT_OPTIONS = [outputOption, formatOption, forceOption];
