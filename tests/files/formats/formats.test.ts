import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Envelope, OutputColumn, OutputRow, TableLook } from "../../../src/files/formats/define.ts";
import { findFormat, formatOfExtension, OUTPUT_FORMATS } from "../../../src/files/formats/registry.ts";
import { withoutGuard } from "../../../src/files/formula-guard.ts";

const COLUMNS: OutputColumn[] = [
  { name: "sample_id", kind: "text" },
  { name: "index", kind: "number" },
  { name: "note", kind: "text" },
];
const ENVELOPE: Envelope = {
  schema: "jartally/test@1",
  inputs: [{ file: "a.csv", sha256: "00" }],
  reference: { id: "demo", version: "1.0" },
  seed: "7",
};

async function write(
  id: string,
  rows: readonly OutputRow[],
  columns = COLUMNS,
  look?: TableLook,
  envelope = ENVELOPE,
): Promise<string> {
  let text = "";
  let flushed = false;
  const sink = {
    async write(piece: string) {
      text += piece;
    },
    async flush() {
      flushed = true;
    },
  };
  const writer = findFormat(id).create(sink, columns, envelope, look);
  await writer.start();
  for (const row of rows) await writer.row(row);
  await writer.end();
  expect(flushed).toBe(true);
  return text;
}

const text = fc.oneof(
  fc.string({ unit: "binary", maxLength: 8 }),
  fc.constantFrom(
    "",
    "=1+1",
    "-3",
    "+x",
    "@a",
    "'=",
    "''-",
    "a,b",
    'say "no"',
    "two\nlines",
    "\r",
    "\t",
    "é",
    "__proto__",
  ),
);
const number = fc.oneof(
  fc.constant(null),
  fc.integer(),
  fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e9, max: 1e9 }),
);

describe("formats of output", () => {
  it.each(OUTPUT_FORMATS.map((format) => [format.id, format] as const))(
    "%s is complete",
    async (id, format) => {
      expect(id).toMatch(/^[a-z]+$/);
      expect(format.summary.length).toBeGreaterThan(10);
      for (const extension of format.extensions) {
        expect(extension).toMatch(/^\.[a-z]+$/);
        expect(formatOfExtension(`OUT${extension.toUpperCase()}`)).toBe(id);
      }
      // Nothing to write is still a table: the same bytes, twice.
      expect(await write(id, [])).toBe(await write(id, []));
      await expect(write(id, [["too", 1]])).rejects.toThrow(RangeError);
    },
  );

  it("knows no format by another extension", () => {
    expect([formatOfExtension("a.xlsx"), formatOfExtension("csv")]).toEqual([undefined, undefined]);
    expect(() => findFormat("xml")).toThrow(RangeError);
  });

  it("csv has LF, quotes where they are needed, empty cells for what is missing and no header twice", async () => {
    expect(
      await write("csv", [
        ["S1", 3.5, 'a "b", c'],
        ["S2", null, ""],
        ["S3", -0, "x"],
      ]),
    ).toBe('sample_id,index,note\nS1,3.5,"a ""b"", c"\nS2,,\nS3,0,x\n');
    expect(await write("csv", [])).toBe("sample_id,index,note\n");
    expect(await write("tsv", [["S1", 1e-7, "a\tb"]])).toBe(
      'sample_id\tindex\tnote\nS1\t0.0000001\t"a\tb"\n',
    );
  });

  it("csv and tsv guard text against formulas and never numbers", async () => {
    const rows: OutputRow[] = ["=1+1", "+1", "-1", "@x", "'=1"].map((cell) => [cell, -1, cell]);
    const read: string[][] = parse(await write("csv", rows), { from_line: 2 });
    expect(read.map((row) => row[0])).toEqual(["'=1+1", "'+1", "'-1", "'@x", "''=1"]);
    expect(read.every((row) => row[1] === "-1")).toBe(true);
  });

  it.each(["csv", "tsv"])("%s gives every text and number back to a reader", async (id) => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.tuple(text, number, text), { maxLength: 5 }), async (rows) => {
        const read: string[][] = parse(await write(id, rows), {
          delimiter: id === "csv" ? "," : "\t",
          record_delimiter: ["\r\n", "\n", "\r"],
          from: 2,
        });
        expect(read.map((row) => [withoutGuard(row[0] ?? ""), withoutGuard(row[2] ?? "")])).toEqual(
          rows.map((row) => [row[0], row[2]]),
        );
        read.forEach((row, at) => {
          const value = rows[at]?.[1] ?? null;
          if (value === null) expect(row[1]).toBe("");
          else expect(Math.abs(Number(row[1]) - value)).toBeLessThanOrEqual(Math.abs(value) * 1e-11);
        });
      }),
    );
  });

  it("json is one document with an envelope, and agrees with ndjson and csv on every value", async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.tuple(text, number, text), { maxLength: 5 }), async (rows) => {
        const document = JSON.parse(await write("json", rows));
        expect(Object.keys(document)).toEqual(["schema", "tool", "inputs", "reference", "seed", "rows"]);
        const lines = (await write("ndjson", rows)).split("\n").slice(0, -1);
        expect(lines.map((line) => JSON.parse(line))).toEqual(document.rows);
        expect(document.rows.map((row: Record<string, unknown>) => [row.sample_id, row.note])).toEqual(
          rows.map((row) => [row[0], row[2]]),
        );
        const csv: string[][] = parse(await write("csv", rows), {
          record_delimiter: ["\r\n", "\n", "\r"],
          from: 2,
        });
        const numbers = document.rows.map((row: Record<string, unknown>) => row.index);
        expect(csv.map((row) => (row[1] === "" ? null : Number(row[1])))).toEqual(numbers);
      }),
    );
  });

  it("json says what is not known with null and keeps text that was made elsewhere as a number", async () => {
    const columns: OutputColumn[] = [{ name: "__proto__", kind: "number" }];
    const written = await write("json", [["12.25"], ["n/a"]], columns, undefined, {
      schema: "s@1",
      inputs: [],
    });
    expect(JSON.parse(written)).toMatchObject({ schema: "s@1", inputs: [], reference: null, seed: null });
    expect(written).toContain('{"__proto__":12.25},\n    {"__proto__":"n/a"}\n');
  });

  it("refuses a number that is none: such a value is missing and must be handed over as null", async () => {
    await expect(write("csv", [["S1", Number.NaN, ""]])).rejects.toThrow(RangeError);
  });

  it("table stands numbers to the right and text to the left, with a rule below the header", async () => {
    expect(
      await write("table", [
        ["S1", 3.5, "x"],
        ["Sample 2", 12, ""],
        ["S3", null, "yy"],
      ]),
    ).toBe(
      [
        "sample_id  index  note",
        "─────────  ─────  ────",
        "S1           3.5  x",
        "Sample 2      12",
        "S3             -  yy",
        "",
      ].join("\n"),
    );
  });

  it("table aligns wide and combining characters", async () => {
    const rows: OutputRow[] = [
      ["漢字", 1, ""],
      ["e\u0301te\u0301", 22, ""],
    ];
    const lines = (await write("table", rows)).split("\n");
    // Two columns for each Chinese character (Unicode Standard Annex 11), none for a combining accent.
    expect(lines.slice(2, 4)).toEqual(["漢字           1", "e\u0301te\u0301           22"]);
  });

  it("table shows control characters and escapes written out", async () => {
    const written = await write("table", [["\u001b[2J\u202eevil", 1, "a\nb"]]);
    expect(written).toContain("\\x1b[2J\\u202eevil");
    expect(written).toContain("a\\nb");
    // biome-ignore lint/suspicious/noControlCharactersInRegex: none of them may come through.
    expect(written).not.toMatch(/[\x00-\x09\x0b-\x1f\x7f]/);
  });

  it("table wraps text to the width of the terminal, and never breaks a number or the first column", async () => {
    const rows: OutputRow[] = [["S1", 123456.789, "a very long note that does not fit at all"]];
    const lines = (await write("table", rows, COLUMNS, { width: 40 })).split("\n");
    // 7 for sample_ over id, 10 for the number, two gaps of 2: 19 are left for the note.
    expect(lines.slice(3)).toEqual([
      "S1       123456.789  a very long note",
      "                     that does not fit",
      "                     at all",
      "",
    ]);
    for (const line of lines) expect([...line].length).toBeLessThanOrEqual(40);
  });

  it("table breaks a word that is longer than its column, behind a joint where there is one", async () => {
    const rows: OutputRow[] = [["S1", 1, "reference-tables/sets/abcdefghijklmnop"]];
    const lines = (await write("table", rows, COLUMNS, { width: 34 })).split("\n");
    const notes = lines.slice(3, -1).map((line) => line.slice(line.indexOf("  ", 4)).trim());
    expect(notes.join("").replaceAll("1  ", "")).toBe("reference-tables/sets/abcdefghijklmnop");
    expect(notes.length).toBeGreaterThan(1);
    for (const line of lines) expect([...line].length).toBeLessThanOrEqual(34);
  });

  it("table leaves out text columns with nothing in them before it wraps, and says which", async () => {
    const columns: OutputColumn[] = [
      { name: "sample_id", kind: "text" },
      { name: "flags", kind: "text" },
      { name: "index", kind: "number" },
      { name: "why", kind: "text" },
    ];
    const written = await write("table", [["S1", "", 3, "no"]], columns, { width: 22 });
    expect(written).toBe(
      "sample_id  index  why\n─────────  ─────  ───\nS1             3  no\nnothing in flags\n",
    );
    expect(await write("table", [["S1", "", 3, "no"]], columns, { width: 80 })).toContain("flags");
  });

  it("table becomes a list when it does not fit side by side", async () => {
    const rows: OutputRow[] = [
      ["S1", 123456.789, "a very long note that does not fit at all"],
      ["S2", 2, ""],
    ];
    expect(await write("table", rows, COLUMNS, { width: 22 })).toBe(
      [
        "sample_id  S1",
        "index      123456.789",
        "note       a very long note",
        "           that does not fit at",
        "           all",
        "",
        "sample_id  S2",
        "index      2",
        "",
      ].join("\n"),
    );
  });

  it("table rounds numbers for the eye when it is told to, and small ones to digits that count", async () => {
    const rows: OutputRow[] = [
      ["S1", 4.55614973262, ""],
      ["S2", 0.000123456, ""],
      ["S3", 123456.78949, ""],
      ["S4", -0.00001, ""],
    ];
    const shown = async (decimals?: number) =>
      (await write("table", rows, COLUMNS, { decimals }))
        .split("\n")
        .slice(2, -1)
        .map((line) => line.split(/ +/)[1]);
    expect(await shown(3)).toEqual(["4.556", "0.000123", "123456.789", "-0.00001"]);
    expect(await shown()).toEqual(["4.55614973262", "0.000123456", "123456.78949", "-0.00001"]);
  });

  it("table breaks long names at their underscores before it cuts anything", async () => {
    const columns: OutputColumn[] = [
      { name: "sample_id", kind: "text" },
      { name: "percent_dominant_taxon", kind: "number" },
      { name: "rating", kind: "text" },
    ];
    const lines = (await write("table", [["S1", 41.5, "good"]], columns, { width: 30 })).split("\n");
    expect(lines).toEqual([
      "            percent_",
      "           dominant_",
      "sample_id      taxon  rating",
      "─────────  ─────────  ──────",
      "S1              41.5  good",
      "",
    ]);
  });

  it("table paints cells with the functions it is given", async () => {
    const columns: OutputColumn[] = [{ name: "rating", kind: "text", paint: (cell) => `<${cell}>` }];
    const written = await write("table", [["good"], ["bad"]], columns, {
      paintHeader: (cell) => `[${cell}]`,
    });
    expect(written).toBe("[rating]\n──────\n<good>\n<bad>\n");
  });
});
