import { defineFormat, lazyWriter } from "./define.ts";

/** Comma-separated values. */
export const csvFormat = defineFormat({
  id: "csv",
  extensions: [".csv"],
  summary: "comma-separated, for spreadsheets and scripts",
  delimiter: ",",
  create: (sink, columns) =>
    lazyWriter(async () => (await import("./delimited.ts")).delimitedWriter(sink, columns, ",")),
});
