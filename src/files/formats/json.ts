import { defineFormat, type Envelope } from "./define.ts";
import { jsonRow } from "./json-row.ts";

/** One JSON document: an envelope that says where the rows come from, and the rows. */
export const jsonFormat = defineFormat({
  id: "json",
  extensions: [".json"],
  summary: "one JSON document with tool, inputs, reference set, seed and the rows",
  create: (sink, columns, envelope) => {
    let rows = 0;
    return {
      start: () => sink.write(opening(envelope)),
      row: (cells) => sink.write(`${rows++ === 0 ? "\n    " : ",\n    "}${jsonRow(columns, cells)}`),
      async end() {
        await sink.write(`${rows === 0 ? "" : "\n  "}]\n}\n`);
        await sink.flush?.();
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
