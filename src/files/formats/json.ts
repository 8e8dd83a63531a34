import { defineFormat, type Envelope } from "./define.ts";
import { jsonRows } from "./json-row.ts";
import { TextPieces } from "./text-pieces.ts";

/** One JSON document: an envelope that says where the rows come from, and the rows. */
export const jsonFormat = defineFormat({
  id: "json",
  extensions: [".json"],
  summary: "one JSON document with tool, inputs, reference set, seed and the rows",
  create: (sink, columns, envelope) => {
    const pieces = new TextPieces(sink);
    const textOf = jsonRows(columns);
    let rows = 0;
    return {
      async start() {
        await pieces.add(opening(envelope));
      },
      row: (cells) => pieces.add(`${rows++ === 0 ? "\n    " : ",\n    "}${textOf(cells)}`),
      async end() {
        await pieces.add(`${rows === 0 ? "" : "\n  "}]\n}\n`);
        await pieces.end();
      },
    };
  },
});

function opening(envelope: Envelope): string {
  const members = {
    schema: envelope.schema,
    tool: { name: "jartally", version: JARTALLY_VERSION },
    inputs: envelope.inputs.map(({ file, sha256 }) => ({ file, sha256 })),
    reference: envelope.reference ?? null,
    seed: envelope.seed ?? null,
  };
  const text = JSON.stringify(members, undefined, 2);
  return `${text.slice(0, -2)},\n  "rows": [`;
}
