import { defineFormat } from "./define.ts";
import { jsonRows } from "./json-row.ts";
import { TextPieces } from "./text-pieces.ts";

/** One JSON object a line, rows only. */
export const ndjsonFormat = defineFormat({
  id: "ndjson",
  extensions: [".ndjson", ".jsonl"],
  summary: "one JSON object a line, rows only",
  create: (sink, columns) => {
    const pieces = new TextPieces(sink);
    const textOf = jsonRows(columns);
    return {
      async start() {},
      row: (cells) => pieces.add(`${textOf(cells)}\n`),
      end: () => pieces.end(),
    };
  },
});
