import { defineFormat } from "./define.ts";
import { delimitedWriter } from "./delimited.ts";

/** Comma-separated values. */
export const csvFormat = defineFormat({
  id: "csv",
  extensions: [".csv"],
  summary: "comma-separated, for spreadsheets and scripts",
  create: (sink, columns) => delimitedWriter(sink, columns, ","),
});
