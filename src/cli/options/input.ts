import { knownEncoding } from "../../files/text/encoding.ts";
import { defineOption, UsageError } from "../define.ts";

export const samplesOption = defineOption<string>({
  flags: "--samples <log>",
  summary: "The sample log: one row a sample with site, date, stratum, jars and whatever else the set needs.",
  group: "Input",
  parse: (word) => word,
});

export const namesOption = defineOption<string>({
  flags: "--names <list>",
  summary: "The lab's own list of names (sheet_name, accepted_name); it wins over the shipped synonyms.",
  group: "Input",
  parse: (word) => word,
});

export const encodingOption = defineOption<string>({
  flags: "--encoding <name>",
  summary: "Encoding of text files that are not UTF-8 or UTF-16, for instance windows-1252.",
  group: "Input",
  defaultText: "found by looking",
  parse: (word) => {
    const encoding = knownEncoding(word);
    if (encoding === undefined)
      throw new UsageError(
        `"${word}" is not the name of an encoding`,
        "usual ones are utf-8, windows-1252, iso-8859-1, iso-8859-2, macintosh, utf-16le",
      );
    return encoding;
  },
});

export const referenceOption = defineOption<string>({
  flags: "--reference <set>",
  summary: "The reference set: an id that reference list shows, or a path to a set folder.",
  group: "Method",
  parse: (word) => word,
});

export const stratumOption = defineOption<string>({
  flags: "--stratum <stratum>",
  summary: "The stratum of every sample, in place of the sample log's.",
  group: "Method",
  parse: (word) => word,
});
