import { defineFormat } from "./define.ts";
import { jsonRow } from "./json-row.ts";

/** One JSON object a line, rows only. */
export const ndjsonFormat = defineFormat({
  id: "ndjson",
  extensions: [".ndjson", ".jsonl"],
  summary: "one JSON object a line, rows only",
  create: (sink, columns) => ({
    async start() {},
    row: (cells) => sink.write(`${jsonRow(columns, cells)}\n`),
    async end() {
      await sink.flush?.();
    },
  }),
});
