import { parseIsoDate } from "../../sheets/values.ts";
import { defineOption, UsageError } from "../define.ts";

export const alertsOption = defineOption<string>({
  flags: "--alerts <list>",
  summary:
    "The lab's list of taxa to watch for (taxon, kind: protected or invasive, note); any that is in a sample, or one below it, stands at the top of the summary.",
  group: "Input",
  parse: (word) => word,
});

export const writeNamesOption = defineOption<string>({
  flags: "--write-names <file>",
  summary:
    "Write the names that a person has to decide to this file, each once; fill in accepted_name and give it back with --names. Decisions of --names follow below, so that it can take the place of that list.",
  group: "Output",
  parse: (word) => word,
});

export const todayOption = defineOption<string>({
  flags: "--today <date>",
  summary: "The day against which dates are checked.",
  group: "Method",
  defaultText: "today",
  parse: (word) => {
    const read = parseIsoDate(word);
    if ("hint" in read || read.date !== word)
      throw new UsageError(`"${word}" is no day: write year-month-day, for instance 2024-07-06`);
    return word;
  },
});
