import { defineFormat, lazyWriter } from "./define.ts";

/** Columns for the eye: numbers to the right, text cut to the width of the terminal. */
export const tableFormat = defineFormat({
  id: "table",
  extensions: [],
  summary: "aligned columns for reading on a terminal",
  create: (sink, columns, _envelope, look = {}) =>
    lazyWriter(async () => (await import("./aligned.ts")).alignedWriter(sink, columns, look)),
});
