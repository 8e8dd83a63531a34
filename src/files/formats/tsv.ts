import { defineFormat, lazyWriter } from "./define.ts";

/** Tab-separated values. */
export const tsvFormat = defineFormat({
  id: "tsv",
  extensions: [".tsv", ".txt"],
  summary: "tab-separated",
  delimiter: "\t",
  create: (sink, columns) =>
    lazyWriter(async () => (await import("./delimited.ts")).delimitedWriter(sink, columns, "\t")),
});
