import { stringify } from "csv-stringify/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { giveBytes } from "../../../src/files/formats/define.ts";
import { delimitedWriter } from "../../../src/files/formats/delimited.ts";
import { findFormat, OUTPUT_FORMATS } from "../../../src/files/formats/registry.ts";

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

describe("rows that are bytes already", () => {
  it("stand between the others in their order", async () => {
    const written: string[] = [];
    const sink = {
      async write(text: string) {
        written.push(text);
      },
    };
    const writer = findFormat("tsv").create(sink, [{ name: "a", kind: "text" }], { schema: "", inputs: [] });
    await writer.start();
    await writer.row(["1"]);
    await giveBytes(writer, Buffer.from("é\n"));
    await writer.row(["2"]);
    await giveBytes(writer, Buffer.from("4\n"));
    await writer.end();
    expect(written.join("")).toBe("a\n1\né\n2\n4\n");
  });

  it.each(OUTPUT_FORMATS.map(({ id }) => id))(
    "are taken as %s only where there is a delimiter",
    async (id) => {
      const format = findFormat(id);
      const sink = { async write() {} };
      const writer = format.create(sink, [{ name: "a", kind: "text" }], { schema: "", inputs: [] });
      await writer.start();
      const given = giveBytes(writer, Buffer.from("1\n"));
      if (format.delimiter === undefined) await expect(given).rejects.toThrow(RangeError);
      else await expect(given).resolves.toBeUndefined();
    },
  );
});
