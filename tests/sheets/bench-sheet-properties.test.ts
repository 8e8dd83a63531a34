import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { OutputColumn } from "../../src/files/formats/define.ts";
import { findFormat } from "../../src/files/formats/registry.ts";
import { inputFromBytes } from "../../src/files/input.ts";
import type { RowTable } from "../../src/model/rows.ts";
import { brief, readSheets } from "../helpers/reading.ts";
import { workbook } from "../helpers/workbook.ts";

/** Sheets of a batch: for each sample the counts of some taxa, none of them twice. */
const SAMPLES = ["VN-1", "VN-2", "=VN", "__proto__"];
const TAXA = ["Baetis", "Caenis", "Nais communis", "-Elmidae", "'Physa", 'Sp. "A"', "a,b"];
const batch = fc.array(
  fc.array(fc.integer({ min: 0, max: 999 }), { minLength: TAXA.length, maxLength: TAXA.length }),
  {
    minLength: 1,
    maxLength: SAMPLES.length,
  },
);

const COLUMNS: OutputColumn[] = ["sample_id", "taxon", "life_stage", "note"].map((name) => ({
  name,
  kind: "text",
}));
const LONG: OutputColumn[] = [...COLUMNS, { name: "count", kind: "number" }];

async function csv(
  columns: readonly OutputColumn[],
  rows: readonly (readonly (string | number | null)[])[],
  id = "csv",
) {
  let text = "";
  const writer = findFormat(id).create(
    {
      async write(piece) {
        text += piece;
      },
    },
    columns,
    { schema: "", inputs: [] },
  );
  await writer.start();
  for (const row of rows) await writer.row(row);
  await writer.end();
  return text;
}

type LongRow = [string, string, string, string, number];

function longRows(counts: readonly (readonly number[])[]): LongRow[] {
  return counts.flatMap((own, s) =>
    own.flatMap((count, t): LongRow[] =>
      count === 0 ? [] : [[SAMPLES[s] ?? "", TAXA[t] ?? "", t % 2 === 0 ? "L" : "", "", count]],
    ),
  );
}

/** What the rows of every sample say, apart from where they stand; samples and rows in code point order. */
function content(table: RowTable): Record<string, string[]> {
  const samples: [string, string[]][] = table.samples.texts.map((sampleId) => [sampleId, []]);
  for (let row = 0; row < table.size; row++) {
    const text = [
      table.names.textOf(table.nameAt(row)),
      table.countAt(row),
      table.stageAt(row),
      table.flagsAt(row),
      JSON.stringify(table.rareAt(row)),
    ].join("|");
    samples[table.sampleAt(row)]?.[1].push(text);
  }
  return Object.fromEntries(
    samples
      .filter(([, rows]) => rows.length > 0)
      .map(([id, rows]) => [id, rows.sort()])
      .sort(),
  );
}

describe("bench sheets of one batch", () => {
  it("say the same as a long sheet, as a cross-tab and as a workbook", async () => {
    await fc.assert(
      fc.asyncProperty(batch, async (counts) => {
        const long = await readSheets([await csv(LONG, longRows(counts))]);
        const header = ["taxon", "life_stage", ...SAMPLES.slice(0, counts.length)];
        const cross = TAXA.map((taxon, t) => [
          taxon,
          t % 2 === 0 ? "larva" : "",
          ...counts.map((own) => (own[t] === 0 && t % 3 === 0 ? null : (own[t] ?? 0))),
        ]);
        const columns = header.map((name, at): OutputColumn => ({ name, kind: at < 2 ? "text" : "number" }));
        const crossTab = await readSheets([await csv(columns, cross)]);
        const book = await readSheets([
          inputFromBytes("b.xlsx", workbook([{ name: "Bench", rows: [header, ...cross] }])),
        ]);
        expect(content(crossTab.sheets.table)).toEqual(content(long.sheets.table));
        expect(content(book.sheets.table)).toEqual(content(long.sheets.table));
        expect([...long.findings, ...crossTab.findings, ...book.findings].map((found) => found.code)).toEqual(
          longRows(counts).length === 0 ? ["no-rows"] : [],
        );
      }),
      { numRuns: 60 },
    );
  });

  it("say the same however the rows are ordered and spread over files", async () => {
    await fc.assert(
      fc.asyncProperty(
        batch,
        fc.infiniteStream(fc.integer({ min: 0, max: 1e6 })),
        async (counts, numbers) => {
          const rows = longRows(counts).map((row): LongRow => [row[0], row[1], row[2], "n", row[4]]);
          const whole = await readSheets([await csv(LONG, rows)]);
          const shuffled = rows
            .map((row) => ({ row, key: numbers.next().value }))
            .sort((a, b) => a.key - b.key);
          const files: LongRow[][] = [[], [], []];
          for (const { row, key } of shuffled) files[key % 3]?.push(row);
          const texts = await Promise.all(files.map((file, at) => csv(LONG, file, at === 1 ? "tsv" : "csv")));
          const parts = await readSheets(texts);
          expect(content(parts.sheets.table)).toEqual(content(whole.sheets.table));
          expect(parts.findings.filter((found) => found.code !== "no-rows")).toEqual([]);
        },
      ),
      { numRuns: 60 },
    );
  });

  it("read back as they were written", async () => {
    // Texts as the reader leaves them: composed, single blanks within, none at the ends.
    const word = fc
      .string({ unit: "grapheme", maxLength: 8 })
      .map((text) => `x${text}`.normalize("NFC").replace(/\s+/g, " ").trim())
      .chain((text) => fc.constantFrom(text, `=${text}`, `'-${text}`, `''@${text}`, `"${text}"`, `${text},;`))
      .filter((text) => text === text.normalize("NFC").replace(/\s+/g, " ").trim());
    await fc.assert(
      fc.asyncProperty(
        fc.uniqueArray(fc.tuple(word, word, word, fc.integer({ min: 0, max: 1e9 })), {
          maxLength: 6,
          selector: (row) => `${row[0]}\n${row[1]}`,
        }),
        fc.constantFrom("csv", "tsv"),
        async (rows, id) => {
          const written = rows.map(([sample, name, note, count]): LongRow => [sample, name, "", note, count]);
          const { sheets, findings } = await readSheets([await csv(LONG, written, id)]);
          const { table } = sheets;
          const read = Array.from({ length: table.size }, (_, row) => [
            table.samples.textOf(table.sampleAt(row)),
            table.names.textOf(table.nameAt(row)),
            "",
            table.rareAt(row)?.note,
            table.countAt(row),
          ]);
          const seen = findings.filter((found) => !["no-rows", "invisible-character"].includes(found.code));
          // A character nobody can see is dropped, with a warning; all else comes back.
          if (!findings.some((found) => found.code === "invisible-character")) {
            expect(read).toEqual(written.map((row) => [row[0], row[1], "", row[3], row[4]]));
            expect(seen.map(brief)).toEqual([]);
          }
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe("the same sheet given twice", () => {
  const sheet = "sample_id,taxon,count\nS1,Baetis,3\nS1,Caenis,4\nS2,Nais,1\n";

  it("is an error for every sample, also as CSV and workbook, and whatever the order of the rows", async () => {
    const book = workbook([
      {
        name: "Bench",
        rows: [
          ["taxon", "S1", "S2"],
          ["Caenis", 4, 0],
          ["Nais", null, 1],
          ["Baetis", 3, null],
        ],
      },
    ]);
    for (const second of [sheet, inputFromBytes("b.xlsx", book)]) {
      const { findings, refused } = await readSheets([sheet, second]);
      const errors = findings.filter((found) => found.severity === "error");
      expect(errors.map((found) => `${found.code} ${found.sampleId} ${found.message}`)).toEqual([
        "repeated-sheet S1 the 2 rows of this sample are the same as in a.csv from line 2",
        "repeated-sheet S2 the row of this sample is the same as in a.csv from line 4",
      ]);
      expect(refused).toEqual({ S1: ["repeated-sheet"], S2: ["repeated-sheet"] });
      expect(findings.length).toBe(2);
    }
  });

  it("is found for a sample of it among others", async () => {
    const { refused } = await readSheets([
      sheet,
      "sample_id,taxon,count\nS3,Nais,7\nS1,Caenis,4\nS1,Baetis,3\n",
    ]);
    expect(refused).toEqual({ S1: ["repeated-sheet"] });
  });

  it("is found when one of the files is a part of the other, in either order", async () => {
    const part = "sample_id,taxon,count\nS2,Nais,1\n";
    for (const files of [
      [part, sheet],
      [sheet, part],
    ])
      expect((await readSheets(files)).refused).toEqual({ S2: ["repeated-sheet"] });
  });

  it("is not seen in two jars, nor in one animal that two files share", async () => {
    const jars = await readSheets([
      "sample_id,taxon,count,container\nS1,Baetis,3,1 of 2\nS1,Caenis,4,1 of 2\n",
      "sample_id,taxon,count,container\nS1,Baetis,3,2 of 2\nS1,Caenis,4,2 of 2\n",
    ]);
    expect([jars.refused, jars.findings]).toEqual([{}, []]);
    const shared = await readSheets([
      "sample_id,taxon,count\nS1,Baetis,1\nS2,Nais,2\n",
      "sample_id,taxon,count\nS1,Baetis,1\nS3,Nais,2\n",
    ]);
    expect(shared.refused).toEqual({});
    expect(shared.findings.map((found) => `${found.file}:${brief(found)} ${found.message}`)).toEqual([
      'b.csv:2:2 note repeated-taxon "Baetis" stands in a.csv:2 already; the counts are summed',
    ]);
  });
});
