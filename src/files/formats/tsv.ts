import { defineFormat } from "./define.ts";
import { delimitedWriter } from "./delimited.ts";

/** Tab-separated values. */
export const tsvFormat = defineFormat({
  id: "tsv",
  extensions: [".tsv", ".txt"],
  summary: "tab-separated",
  create: (sink, columns) => delimitedWriter(sink, columns, "\t"),
});
