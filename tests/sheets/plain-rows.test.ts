import { readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mutate, numbers } from "../helpers/mutate.ts";
import { inPieces } from "../helpers/reading.ts";
import { REPOSITORY } from "../helpers/run-jartally.ts";
import { readLong } from "../helpers/two-ways.ts";

const HEADER = "sample_id,site_id,taxon,life_stage,part,note,count";
/** The first lines of a text are always read with care; behind these the quick way begins. */
const FIRST = Array.from({ length: 70 }, (_, at) => `S0,site,Baetis,larva,main,${"x".repeat(250)},${at + 1}`);

const sample = fc.constantFrom("S1", "S2", "S3", "", " S1", "S\u00a01", "Š4", "S\u200b5", "__proto__", "'=S");
const taxon = fc.oneof(
  fc.constantFrom(
    "Baetis",
    "Caenis",
    "Nais communis",
    "Total",
    "Richness",
    "",
    " ",
    "#REF!",
    "Ba\u0001etis",
    "constructor",
  ),
  fc.string({ unit: "binary", maxLength: 5 }),
);
const stage = fc.constantFrom("larva", "L", "", "adult", "grub", " pupa ");
const part = fc.constantFrom("", "main", "large-rare", "Large Rare", "other");
const note = fc.constantFrom(
  "",
  "plain",
  'a "quote"',
  '"quoted, with comma"',
  '"two\nlines"',
  "ü",
  "\r",
  '"',
);
const count = fc.oneof(
  fc.nat({ max: 2_000_000_000 }).map(String),
  fc.constantFrom("", "0", "007", "12,5", "-1", " 5", "1e3", "x", "1000000000", "10000000000", "٣"),
);
const row = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.tuple(
      fc.constantFrom("S1", "S2"),
      fc.constant("site"),
      fc.constantFrom("Baetis", "Caenis"),
      stage,
      part,
      fc.constantFrom("", "n"),
      fc.nat({ max: 999 }).map(String),
    ),
  },
  { weight: 2, arbitrary: fc.tuple(sample, note, taxon, stage, part, note, count) },
);
const line = fc.oneof(
  { weight: 12, arbitrary: row.map((cells) => cells.join(",")) },
  {
    weight: 1,
    arbitrary: fc.constantFrom(
      "",
      ",,,,,,",
      "S1",
      "S1,site,Baetis,larva,main,,4,,",
      "S1,site,Baetis,larva,main,,4,5",
      '"S1",site,"Baetis",larva,,,"3"',
      " ",
    ),
  },
);
const lineEnd = fc.constantFrom("\n", "\n", "\n", "\r\n", "\r");
const sheet = fc
  .tuple(fc.array(fc.tuple(line, lineEnd), { maxLength: 25 }), fc.boolean())
  .map(([lines, endsOpen]) => {
    const body = lines.map(([text, end]) => text + end).join("");
    return `${[HEADER, ...FIRST].join("\n")}\n${endsOpen ? body.replace(/[\r\n]+$/, "") : body}`;
  });

/** Leaves out what the two ways may differ in: how many rows went the quick way. */
const comparable = ({ quick: _, ...rest }: Awaited<ReturnType<typeof readLong>>) => rest;

async function expectSame(bytes: Uint8Array, piece: number, encoding?: string): Promise<number> {
  const quick = await readLong(inPieces(bytes, piece), "quick", encoding);
  const records = await readLong(inPieces(bytes, piece), "records", encoding);
  expect(comparable(quick)).toEqual(comparable(records));
  return quick.quick;
}

describe("plain rows from bytes", () => {
  it("give what the reader of records gives, for every sheet in any pieces", {
    timeout: 120_000,
  }, async () => {
    let quick = 0;
    await fc.assert(
      fc.asyncProperty(
        sheet,
        fc.integer({ min: 1, max: 3000 }),
        fc.boolean(),
        async (text, piece, isLatin) => {
          const bytes = Buffer.from(text, isLatin ? "latin1" : "utf8");
          quick += await expectSame(
            bytes,
            piece + (piece % 7 === 0 ? 40_000 : 0),
            isLatin ? "windows-1252" : undefined,
          );
        },
      ),
      { numRuns: 600 },
    );
    // Or the test would compare a thing with itself.
    expect(quick).toBeGreaterThan(2000);
  });

  it("are told from the rows above them in any order of columns", { timeout: 120_000 }, async () => {
    // Cells that begin as others do, end within them, are empty, or say the same with more behind it.
    const often = (usual: readonly string[], seldom: readonly string[]) =>
      fc.oneof(
        { weight: 40, arbitrary: fc.constantFrom(...usual) },
        { weight: 1, arbitrary: fc.constantFrom(...seldom) },
      );
    const cells: Record<string, fc.Arbitrary<string>> = {
      sample_id: often(["S1", "S1", "S1", "S", "S11"], ["S1 ", "S1,", "S1\r", ""]),
      taxon: often(["Baetis", "Baetis sp.", "B", "Caenis", "liquid", "costarring"], [""]),
      count: often(["1", "1", "11", "111111111", "0"], ["1111111111", "01", ""]),
      life_stage: often(["larva", "larva", "larva", "L", "", "adult"], ["larvae", 'larva"']),
      part: often(["", "main", "main", "large-rare"], ["Main "]),
      grid: often(["1", "1", "11", ""], [" "]),
      "": often([""], ["x"]),
      site: often(["a", "a", "aa", "a".repeat(300), ""], ["\u00e4", '"a"']),
    };
    const some = fc.shuffledSubarray(["life_stage", "part", "grid", "", "site"]);
    const asked = some
      .chain((more) =>
        fc.shuffledSubarray(["sample_id", "taxon", "count", ...more], { minLength: 3 + more.length }),
      )
      .chain((columns) =>
        fc.tuple(
          fc.constant(columns),
          fc.array(fc.tuple(...columns.map((column) => cells[column] as fc.Arbitrary<string>)), {
            maxLength: 30,
          }),
          fc.constantFrom("\n", "\n", "\r\n"),
          fc.boolean(),
          fc.integer({ min: 1, max: 400 }),
        ),
      );
    let quick = 0;
    await fc.assert(
      fc.asyncProperty(asked, async ([columns, rows, end, endsOpen, piece]) => {
        const first = columns.map((column) => ({ sample_id: "S0", taxon: "Nais", count: "3" })[column] ?? "");
        const ahead = Array.from({ length: 70 }, () => first.join(","));
        ahead.push(`${first.join(",")},${"".padEnd(20_000, " ")}`);
        const text = [columns.join(","), ...ahead, ...rows.map((row) => row.join(","))].join(end);
        quick += await expectSame(Buffer.from(endsOpen ? text : text + end), piece * 100);
      }),
      { numRuns: 500 },
    );
    expect(quick).toBeGreaterThan(1000);
  });

  it("are handed on whole where there are more of them than are held together", async () => {
    for (const rows of [511, 512, 513, 1024, 1025]) {
      const body = Array.from({ length: rows }, (_, at) => `S${at >> 7},s,Baetis,L,,,${at}`);
      const text = Buffer.from([HEADER, ...FIRST, ...body, ""].join("\n"));
      expect(await expectSame(text, 1 << 18)).toBeGreaterThan(rows - 1);
    }
  });

  it("give the rows and lines that csv-parse gives", { timeout: 60_000 }, async () => {
    const cell = fc.constantFrom("x", "", 'say ""so""', "with, comma", "two\nlines", "ä");
    const good = fc.tuple(
      fc.constantFrom("S1", "S2", "S3"),
      cell,
      fc.constantFrom("Baetis", "Caenis", "Nais"),
      cell,
      fc.nat({ max: 5000 }),
    );
    await fc.assert(
      fc.asyncProperty(
        fc.array(good, { minLength: 1, maxLength: 30 }),
        fc.constantFrom("\n", "\r\n"),
        async (rows, end) => {
          const written = rows.map(([id, site, name, text, number]) =>
            [id, quoteIfNeeded(site), name, "larva", "", quoteIfNeeded(text), number].join(","),
          );
          const text = [HEADER, ...FIRST, ...written, ""].join(end);
          const { rows: read, findings } = await readLong(inPieces(text, 1 << 16), "quick");
          const records: { record: string[]; lines: number }[] = [];
          parse(text, {
            on_record: (record: string[], { lines }) => {
              records.push({ record, lines });
              return null;
            },
          });
          let startsOn = 1;
          const expected = records.map(({ record, lines }) => {
            const from = startsOn;
            startsOn = lines + 1;
            return [record[0], record[2], Number(record[6]), from];
          });
          expect(read.map(([id, name, number, , , at]) => [id, name, number, at])).toEqual(expected.slice(1));
          expect(findings).toEqual([]);
        },
      ),
      { numRuns: 200 },
    );
  });

  it("give what the reader of records gives for damaged sheets", { timeout: 240_000 }, async () => {
    const demo = readFileSync(join(REPOSITORY, "demo-data", "bench-sheet.csv"));
    const semicolons = Buffer.from(
      `\ufeff${demo.toString("utf8").replaceAll(",", ";").replaceAll("\n", "\r\n")}`,
    );
    const next = numbers(20240607);
    let quick = 0;
    for (let turn = 0; turn < 400; turn++) {
      const damaged = mutate(turn % 3 === 0 ? semicolons : demo, next);
      quick += await expectSame(damaged, 1000 + next(60_000), turn % 5 === 0 ? "windows-1252" : undefined);
    }
    expect(quick).toBeGreaterThan(100_000);
  });

  it("stop where a packed sheet is cut off, at the same place", async () => {
    const text = [
      HEADER,
      ...FIRST,
      ...Array.from({ length: 20_000 }, (_, at) => `S${at % 40},s,Baetis,L,,,${at}`),
    ].join("\n");
    const packed = gzipSync(text);
    for (const length of [packed.length, packed.length - 1, packed.length >> 1, packed.length - 300]) {
      const quick = await readLong(inPieces(packed.subarray(0, length), 5000), "quick");
      const records = await readLong(inPieces(packed.subarray(0, length), 5000), "records");
      expect(comparable(quick)).toEqual(comparable(records));
    }
  });

  it("go back to the quick way behind a row that needs a second look", async () => {
    const body = Array.from({ length: 3000 }, (_, at) =>
      at % 500 === 7 ? `S1,s,"Baetis",L,,"a ""note""\nof two lines",${at}` : `S1,s,Baetis,L,,,${at}`,
    );
    const read = await readLong(inPieces([HEADER, ...FIRST, ...body, ""].join("\n"), 1 << 18), "quick");
    expect(read.rowCount).toBe(3070);
    expect(read.quick).toBeGreaterThan(2900);
    expect(read.rows.at(-1)?.slice(0, 6)).toEqual(["S1", "Baetis", 2999, "larva", 0, 3077]);
  });

  it("are taken where nameless columns stay empty, and reported where one does not", async () => {
    const body = Array.from({ length: 300 }, (_, at) => `S1,Baetis,${at},${at === 250 ? "?" : ""}`);
    const text = ["sample_id,taxon,count,", ...FIRST.map(() => `S0,${"Caenis"},1,`), ...body].join("\n");
    const read = await readLong(inPieces(`${text}\n`, 1 << 18), "quick");
    expect(read.findings).toMatchObject([{ code: "nameless-column", column: 4, line: 1 }]);
    expect(read.rowCount).toBe(370);
  });
});

function quoteIfNeeded(text: string): string {
  return /[",\n]/.test(text) ? `"${text}"` : text;
}
