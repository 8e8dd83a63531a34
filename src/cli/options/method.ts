import { defineOption, UsageError } from "../define.ts";

/** Attribute schemes and files, in the order given. */
export const attributesOption = defineOption<readonly string[]>({
  flags: "--attributes <table>",
  summary:
    "An attribute table in place of the set's own: a scheme of the reference tables, or a file of taxon,value (and attribute); several are joined by commas. Every score then says that it does not rest on the method's own list.",
  group: "Method",
  defaultText: "the set's own",
  parse: (word) => {
    const words = word.split(",").map((one) => one.trim());
    if (words.some((one) => one === ""))
      throw new UsageError(`"${word}" is not a list of schemes and files joined by commas`);
    return words;
  },
});

export const classesOption = defineOption<string>({
  flags: "--classes <classes>",
  summary: "Another class table of the set, where it has several (reference show lists them).",
  group: "Method",
  defaultText: "the set's first",
  parse: (word) => word,
});

/** What the tables given are. */
export const fromOption = defineOption<"counts" | "metrics">({
  flags: "--from <what>",
  summary:
    "What the tables hold: counts of animals, or metric values worked out elsewhere (sample_id,metric,value, or one column a metric).",
  group: "Input",
  choices: () => ["counts", "metrics"],
  defaultText: "counts",
  parse: (word) => (word === "metrics" ? "metrics" : "counts"),
});
