import type { FormatId } from "../../files/formats/registry.ts";
import { OUTPUT_FORMATS } from "../../files/formats/registry.ts";
import { defineOption, defineSwitch } from "../define.ts";

export const outputOption = defineOption<string>({
  flags: "-o, --output <file>",
  summary: "Write the data to this file, whole or not at all; its extension chooses the format.",
  group: "Output",
  defaultText: "standard output",
  parse: (word) => word,
});

export const formatOption = defineOption<FormatId>({
  flags: "--format <name>",
  summary: "Format of the data.",
  group: "Output",
  choices: () => OUTPUT_FORMATS.map(({ id }) => id),
  defaultText: "table on a terminal, csv otherwise",
  parse: (word) => OUTPUT_FORMATS.find(({ id }) => id === word)?.id ?? "csv",
});

export const forceOption = defineSwitch({
  flags: "-f, --force",
  summary: "Overwrite an existing output file.",
  group: "Output",
});

export const OUTPUT_OPTIONS = [outputOption, formatOption, forceOption];
