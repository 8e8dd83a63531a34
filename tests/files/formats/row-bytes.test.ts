import { stringify } from "csv-stringify/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Cell, OutputColumn, OutputRow, TextSink } from "../../../src/files/formats/define.ts";
import { delimitedWriter } from "../../../src/files/formats/delimited.ts";
import { KeptCells } from "../../../src/files/formats/kept-cells.ts";
import { RowBytes } from "../../../src/files/formats/row-bytes.ts";
import { withGuard } from "../../../src/files/formula-guard.ts";
import { numberText } from "../../../src/model/number-text.ts";

/** Characters that mean something to a writer, and some that only look so. */
const TELLING = [
  "'",
  '"',
  ",",
  "\t",
  ";",
  "\r",
  "\n",
  "\r\n",
  "=",
  "+",
  "-",
  "@",
  " ",
  "\u0000",
  "\u007f",
  "\ufeff",
];
const FOREIGN = ["é", "ß", "漢", "\u2028", "😀", "\ud83d", "\ude00", "\u0085", "\u00a0"];
const part = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom("Baetis", "a", "W000001", "2", "") },
  { weight: 2, arbitrary: fc.constantFrom(...TELLING) },
  { weight: 1, arbitrary: fc.constantFrom(...FOREIGN) },
  { weight: 1, arbitrary: fc.string({ unit: "binary", maxLength: 3 }) },
);
const plain = fc.constantFrom("", "Baetis", "larva", "W000001", "2018-08-09");
const mutated = fc.array(part, { maxLength: 4 }).map((parts) => parts.join(""));
const number = fc.oneof(
  fc.nat(),
  fc.integer(),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.constantFrom(0, -0, 1, 9, 10, 99, 100, 999_999_999, 1e9, 1e9 + 1, 4294967296, 0.5, 1e-300, 1e300, 1e21),
);
const cell: fc.Arbitrary<Cell> = fc.oneof(
  { weight: 4, arbitrary: plain },
  { weight: 1, arbitrary: mutated },
  { weight: 2, arbitrary: number },
  { weight: 1, arbitrary: fc.constant(null) },
);
const table = fc.integer({ min: 1, max: 6 }).chain((width) =>
  fc.record({
    kinds: fc.array(fc.constantFrom("text" as const, "number" as const), {
      minLength: width,
      maxLength: width,
    }),
    rows: fc.array(fc.array(cell, { minLength: width, maxLength: width }), { minLength: 1, maxLength: 6 }),
    delimiter: fc.constantFrom("," as const, "\t" as const),
  }),
);

/** What the library makes of the same rows. */
function byLibrary(
  rows: readonly OutputRow[],
  kinds: readonly OutputColumn["kind"][],
  delimiter: "," | "\t",
): Buffer {
  const texts = rows.map((row) =>
    row.map((one, at) => {
      if (one === null) return "";
      if (typeof one === "number") return numberText(one);
      return kinds[at] === "text" ? withGuard(one) : one;
    }),
  );
  const quoting = { quoted_match: /[\r\n]/, quoted_empty: kinds.length === 1 };
  return Buffer.from(stringify(texts, { delimiter, record_delimiter: "\n", ...quoting }), "utf8");
}

const columnsOf = (kinds: readonly OutputColumn["kind"][]): OutputColumn[] =>
  kinds.map((kind, at) => ({ name: `c${at}`, kind }));

/** A sink that keeps all it gets, and how often it was given something. */
function memory(takesBytes: boolean) {
  const pieces: Buffer[] = [];
  const sink: TextSink = {
    async write(text) {
      pieces.push(Buffer.from(text, "utf8"));
    },
    ...(takesBytes
      ? {
          async writeBytes(bytes: Uint8Array) {
            // Taken later than it was given, as a disk does.
            await Promise.resolve();
            pieces.push(Buffer.from(bytes));
          },
        }
      : {}),
  };
  return { sink, pieces };
}

describe("rows as bytes", () => {
  it("are what csv-stringify makes of them, whatever stands in the cells", () => {
    fc.assert(
      fc.property(table, ({ kinds, rows, delimiter }) => {
        const made = new RowBytes(columnsOf(kinds), delimiter);
        for (const row of rows) made.add(row);
        expect(Buffer.from(made.take()).toString("latin1")).toBe(
          byLibrary(rows, kinds, delimiter).toString("latin1"),
        );
        expect(made.length).toBe(0);
      }),
      { numRuns: 2000 },
    );
  });

  it("are the same with any single character in any place of a plain row", () => {
    const kinds = ["text", "text", "number"] as const;
    for (let code = 0; code < 0x180; code++)
      for (const text of [
        String.fromCharCode(code),
        `${String.fromCharCode(code)}a`,
        `a${String.fromCharCode(code)}`,
      ])
        for (const delimiter of [",", "\t"] as const) {
          const rows: OutputRow[] = [
            ["S1", "Baetis", 1],
            [text, "Baetis", 1],
            ["S1", text, text],
          ];
          const made = new RowBytes(columnsOf(kinds), delimiter);
          for (const row of rows) made.add(row);
          expect(
            Buffer.from(made.take()).equals(byLibrary(rows, kinds, delimiter)),
            JSON.stringify(text),
          ).toBe(true);
        }
  });

  it("are the same from parts that are kept, in any mixture with others", () => {
    const texts = fc.array(fc.oneof(plain, mutated), { minLength: 1, maxLength: 3 });
    const parts = fc.record({
      delimiter: fc.constantFrom("," as const, "\t" as const),
      width: fc.tuple(fc.integer({ min: 1, max: 3 }), fc.integer({ min: 1, max: 3 })),
      rows: fc.array(fc.tuple(texts, fc.oneof(plain, mutated), number, texts, fc.boolean()), {
        minLength: 1,
        maxLength: 40,
      }),
    });
    fc.assert(
      fc.property(parts, ({ delimiter, width: [before, behind], rows }) => {
        const filled = (cells: readonly string[], length: number) =>
          Array.from({ length }, (_, at) => cells[at % cells.length] ?? "");
        const kinds = [...new Array(before + 1).fill("text"), "number", ...new Array(behind).fill("text")];
        const made = new RowBytes(columnsOf(kinds), delimiter);
        const [front, middle, back] = [
          new KeptCells(delimiter),
          new KeptCells(delimiter),
          new KeptCells(delimiter),
        ];
        const whole: OutputRow[] = [];
        for (const [first, name, count, last, isKept] of rows) {
          const row = [...filled(first, before), name, count, ...filled(last, behind)];
          whole.push(row);
          const own = [
            front.keep(filled(first, before), false),
            middle.keep([name], false),
            back.keep(filled(last, behind), true),
          ] as const;
          if (isKept) made.addKept(front, own[0], middle, own[1], count, back, own[2]);
          else made.add(row);
        }
        expect(Buffer.from(made.take()).toString("latin1")).toBe(
          byLibrary(whole, kinds, delimiter).toString("latin1"),
        );
      }),
      { numRuns: 1000 },
    );
  });

  it("hold kept parts that are longer than a page, and forget them when they are cleared", () => {
    const made = new RowBytes(columnsOf(["text", "text", "number", "text"]), ",");
    const cells = new KeptCells(",");
    for (const length of [0, 1, 2, 3, 4, 5, 131_060, 500_000]) {
      cells.clear();
      const [start, name, end] = [
        cells.keep(["S"], false),
        cells.keep(["ä".repeat(length)], false),
        cells.keep([7], true),
      ];
      expect([start, name]).toEqual([0, 2]);
      made.addKept(cells, start, cells, name, 1e300, cells, end);
      made.addKept(cells, start, cells, name, 999_999_999, cells, end);
      const text = (count: number) => `S,${"ä".repeat(length)},${numberText(count)},7\n`;
      expect(Buffer.from(made.take()).toString()).toBe(text(1e300) + text(999_999_999));
    }
  });

  it("hold texts and numbers that are longer than a page", () => {
    const kinds = ["text", "number", "text"] as const;
    const rows: OutputRow[] = [];
    for (const length of [65_530, 131_060, 131_071, 131_072, 131_073, 500_000])
      rows.push(["S1", 1e300, "a".repeat(length)], ["ä".repeat(length), 7, "x"], ["S2", 1e-300, ""]);
    const made = new RowBytes(columnsOf(kinds), ",");
    for (const row of rows) made.add(row);
    expect(Buffer.from(made.take()).equals(byLibrary(rows, kinds, ","))).toBe(true);
    made.add(["S3", 1, "y"]);
    expect(Buffer.from(made.take()).toString()).toBe("S3,1,y\n");
  });

  it("stay as they were when a row is refused", () => {
    const made = new RowBytes(columnsOf(["text", "number"]), ",");
    made.add(["S1", 1]);
    expect(() => made.add(["S2", Number.NaN])).toThrow(RangeError);
    expect(() => made.add(["S2", Number.POSITIVE_INFINITY])).toThrow(RangeError);
    expect(() => made.add(["S2", 1, "more"])).toThrow(new RangeError("a row has 3 cells, the header 2"));
    expect(() => made.add(["S2"])).toThrow(RangeError);
    const cells = new KeptCells(",");
    cells.keep(["S2"], false);
    const end = cells.keep([""], true);
    expect(() => made.addKept(cells, 0, cells, 0, Number.NaN, cells, end)).toThrow(RangeError);
    made.add(["S3", 3]);
    expect(Buffer.from(made.take()).toString()).toBe("S1,1\nS3,3\n");
  });

  it.each([true, false])(
    "reach a sink whole and in order, piece by piece (bytes: %s)",
    async (takesBytes) => {
      const kinds = ["text", "number"] as const;
      const rows: OutputRow[] = Array.from({ length: 60_000 }, (_, at) => [
        at % 1000 === 0 ? `ä,${at}` : `S${at}`,
        at,
      ]);
      const { sink, pieces } = memory(takesBytes);
      const writer = delimitedWriter(sink, columnsOf(kinds), ",");
      await writer.start();
      let waits = 0;
      for (const row of rows) {
        const taken = writer.row(row);
        if (taken === undefined) continue;
        waits++;
        await taken;
      }
      await writer.end();
      expect(
        Buffer.concat([Buffer.from("c0,c1\n"), byLibrary(rows, kinds, ",")]).equals(Buffer.concat(pieces)),
      ).toBe(true);
      // Nearly no row has to wait, and no piece is much larger than it has to be.
      expect(waits).toBe(pieces.length - 1);
      expect(waits).toBeGreaterThan(5);
      expect(Math.max(...pieces.map((piece) => piece.length))).toBeLessThan(70_000);
    },
  );
});
