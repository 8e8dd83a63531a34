import { stringify } from "csv-stringify/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { delimitedWriter } from "../../../src/files/formats/delimited.ts";

const cell = fc.oneof(
  fc.constantFrom("", "a", "b c", 'say "so"', "x,y", "tab\there", "two\nlines", "cr\rhere", "'", "ä"),
  fc.string({ unit: "binary", maxLength: 4 }).filter((text) => !/^'*[=+\-@\t\r]/.test(text)),
);

describe("rows of delimited text", () => {
  it("are what csv-stringify makes of them, joined or not", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc
          .integer({ min: 1, max: 4 })
          .chain((width) =>
            fc.array(fc.array(cell, { minLength: width, maxLength: width }), { minLength: 1, maxLength: 8 }),
          ),
        fc.constantFrom("," as const, "\t" as const),
        async (rows, delimiter) => {
          const usable = rows.map((row) => row.filter((text) => !/^'*[=+\-@\t\r]/.test(text)));
          fc.pre(usable.every((row, at) => row.length === rows[at]?.length));
          const width = rows[0]?.length ?? 0;
          const columns = Array.from({ length: width }, (_, at) => ({
            name: `c${at}`,
            kind: "text" as const,
          }));
          let written = "";
          const sink = {
            async write(text: string) {
              written += text;
            },
          };
          const writer = delimitedWriter(sink, columns, delimiter);
          await writer.start();
          for (const row of rows) await writer.row(row);
          await writer.end();
          const expected = stringify([columns.map(({ name }) => name), ...rows], {
            delimiter,
            record_delimiter: "\n",
            quoted_match: /[\r\n]/,
            quoted_empty: width === 1,
          });
          expect(written).toBe(expected);
        },
      ),
      { numRuns: 400 },
    );
  });
});
