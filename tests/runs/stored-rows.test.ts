import { writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { RareFacts, RowInput } from "../../src/model/rows.ts";
import { RowTable } from "../../src/model/rows.ts";
import { readRows, writeRows } from "../../src/runs/stored-rows.ts";
import { freshFolder } from "../helpers/run-jartally.ts";

const FILES = ["a.csv", "b.csv"];
const word = fc.constantFrom("S-1", 'Bæ, "x"', "=1+1", "'quoted", "-3", "__proto__", "x;y", "ö");
const rare: fc.Arbitrary<RareFacts | undefined> = fc.option(
  fc.record(
    {
      grid: word,
      container: word,
      note: word,
      certainty: fc.integer({ min: 1, max: 5 }),
      mountFraction: fc.constant("1/3"),
    },
    { requiredKeys: ["grid"] },
  ),
  { nil: undefined },
);
const row: fc.Arbitrary<RowInput & { file: number }> = fc.record({
  sampleId: word,
  name: word,
  count: fc.integer({ min: 0, max: 1_000_000_000 }),
  stage: fc.constantFrom("unknown" as const, "larva" as const, "exuviae" as const),
  // A row cannot be both called distinct and not.
  flags: fc.integer({ min: 0, max: 31 }).filter((flags) => (flags & 12) !== 12),
  line: fc.integer({ min: 1, max: 4_000_000_000 }),
  column: fc.integer({ min: 1, max: 300 }),
  rare,
  file: fc.integer({ min: 0, max: 1 }),
});

function tableOf(rows: readonly (RowInput & { file: number })[]): RowTable {
  const table = new RowTable();
  for (const file of FILES) table.startFile(file);
  for (const { file, ...one } of rows) {
    table.continueFile(file);
    table.add(one);
  }
  return table;
}

async function textOf(table: RowTable): Promise<string> {
  const pieces: string[] = [];
  const sink = {
    async write(piece: string) {
      pieces.push(piece);
    },
  };
  await writeRows(sink, table, FILES);
  return pieces.join("");
}

describe("rows.csv", () => {
  it("gives back every row with everything it says, and then the same bytes", async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(row, { maxLength: 30 }), async (rows) => {
        const folder = freshFolder();
        const text = await textOf(tableOf(rows));
        writeFileSync(join(folder, "rows.csv"), text);
        const ids = [...new Set(rows.map((one) => one.sampleId))].sort();
        const sheets = FILES.map((file) => ({ file, nameField: 2 }));
        const table = await readRows({ path: folder, shownAs: "run" }, sheets, ids);
        expect(await textOf(table)).toBe(text);
        const said = (one: RowInput & { file: number }) => {
          const { sampleId, name, count, stage, flags, line, column, file } = one;
          return JSON.stringify([
            sampleId,
            name,
            count,
            stage,
            flags,
            line,
            column,
            FILES[file],
            { ...one.rare }.note,
          ]);
        };
        const back = Array.from({ length: table.size }, (_, at) => at).map((at) =>
          JSON.stringify([
            table.samples.textOf(table.sampleAt(at)),
            table.names.textOf(table.nameAt(at)),
            table.countAt(at),
            table.stageAt(at),
            table.flagsAt(at),
            table.lineAt(at),
            table.columnAt(at),
            table.fileAt(at),
            { ...table.rareAt(at) }.note,
          ]),
        );
        expect(back.sort()).toEqual(rows.map(said).sort());
      }),
      { numRuns: 60 },
    );
  });

  it("is the same for any order of the rows", async () => {
    const distinctPlaces = fc.uniqueArray(row, {
      maxLength: 30,
      selector: ({ file, line, column }) => `${file} ${line} ${column}`,
    });
    await fc.assert(
      fc.asyncProperty(
        distinctPlaces,
        fc.infiniteStream(fc.integer({ min: 0, max: 1000 })),
        async (rows, keys) => {
          const shuffled = rows
            .map((one) => ({ one, key: keys.next().value ?? 0 }))
            .sort((a, b) => a.key - b.key)
            .map(({ one }) => one);
          expect(await textOf(tableOf(shuffled))).toBe(await textOf(tableOf(rows)));
        },
      ),
      { numRuns: 40 },
    );
  });

  it("has the rows of a sample by file, then line, then field, with fields of one line side by side", async () => {
    const places = [0, 1].flatMap((file) =>
      [2, 10].flatMap((line) => [4, 11].map((column) => [file, line, column])),
    );
    await fc.assert(
      fc.asyncProperty(fc.shuffledSubarray(places), async (some) => {
        const rows = some.map(([file = 0, line = 0, column = 0]) => {
          return {
            sampleId: "S",
            name: "Baetis",
            count: 1,
            stage: "larva",
            flags: 0,
            file,
            line,
            column,
          } as const;
        });
        const lines = (await textOf(tableOf(rows))).split("\n").slice(1, -1);
        const expected = places.filter((place) => some.includes(place));
        expect(lines.map((line) => line.split(",").slice(-3).join())).toEqual(
          expected.map(([file = 0, line, column]) => `${FILES[file]},${line},${column}`),
        );
      }),
    );
  });

  it.each([
    [
      "a count that is none",
      "S-1,Baetis,1x,,,,,,,,,,,,,,,,,,a.csv,2,3",
      /line 2: "1x" is not a whole number/,
    ],
    ["a stage that is none", "S-1,Baetis,1,grub,,,,,,,,,,,,,,,,,a.csv,2,3", /line 2: "grub" is none of/],
    ["a file that is no input", "S-1,Baetis,1,,,,,,,,,,,,,,,,,,c.csv,2,3", /line 2: the file is none/],
    [
      "a sample that is not listed",
      "S-9,Baetis,1,,,,,,,,,,,,,,,,,,a.csv,2,3",
      /line 2: the sample is not in/,
    ],
    ["a cell too few", "S-1,Baetis,1,,,,,,,,,,,,,,,,,a.csv,2,3", /line 2: 22 fields where the header has 23/],
  ])("is not read with %s", async (_, line, message) => {
    const folder = freshFolder();
    writeFileSync(join(folder, "rows.csv"), `${await textOf(new RowTable())}${line}\n`);
    const reading = readRows({ path: folder, shownAs: "run" }, [{ file: "a.csv", nameField: 2 }], ["S-1"]);
    await expect(reading).rejects.toThrow(message);
  });
});
