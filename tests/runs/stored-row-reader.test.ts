import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FileError } from "../../src/files/file-error.ts";
import { withoutGuard } from "../../src/files/formula-guard.ts";
import { LIFE_STAGES } from "../../src/model/life-stage.ts";
import { LARGEST_COUNT, ROW_FLAGS, RowTable } from "../../src/model/rows.ts";
import { NUMBER_FACTS, STORED_ROW_COLUMNS, TEXT_FACTS } from "../../src/runs/stored-row-columns.ts";
import { StoredRowReader } from "../../src/runs/stored-row-reader.ts";
import { readRows } from "../../src/runs/stored-rows.ts";
import { freshFolder } from "../helpers/run-jartally.ts";

const HEADER = `${STORED_ROW_COLUMNS.join(",")}\n`;
const FILES = ["a.csv", "b.csv"];
// The second as it stands in a run means the third.
const SAMPLES = ["S-1", "'=S", "=S", "S-2", "S,3"];
const shown = "run/rows.csv";

function emptyTable(): { table: RowTable; numbers: Map<string, number> } {
  const table = new RowTable();
  for (const file of FILES) table.startFile(file);
  for (const id of SAMPLES) table.samples.add(id);
  return { table, numbers: new Map(FILES.map((file, at) => [file, at])) };
}

/** Rows as plain lists, for comparing. */
function said(table: RowTable): string[] {
  return Array.from({ length: table.size }, (_, row) =>
    JSON.stringify([
      table.samples.textOf(table.sampleAt(row)),
      table.names.textOf(table.nameAt(row)),
      table.countAt(row),
      table.stageAt(row),
      table.flagsAt(row),
      table.lineAt(row),
      table.columnAt(row),
      table.fileAt(row),
      table.rareAt(row) ?? null,
    ]),
  );
}

function quick(text: string, pieces = 1): RowTable {
  const { table, numbers } = emptyTable();
  const reader = new StoredRowReader(table, shown, numbers);
  const lines = text.split(/(?<=\n)/);
  const size = Math.max(1, Math.ceil(lines.length / pieces));
  for (let at = 0; at < lines.length; at += size)
    reader.take(new TextEncoder().encode(lines.slice(at, at + size).join("")));
  reader.end();
  return table;
}

/** The same by csv-parse and one cell after the other, as plainly as can be; undefined for what is no table of a run. */
function plainly(text: string): RowTable | undefined {
  const { table, numbers } = emptyTable();
  let records: string[][];
  try {
    records = parse(text, { record_delimiter: "\n", skip_empty_lines: true, relax_column_count: true });
  } catch {
    return undefined;
  }
  const whole = (cell: string | undefined) =>
    cell !== undefined && /^(0|[1-9]\d{0,9})$/.test(cell) ? Number(cell) : undefined;
  for (const cells of records) {
    if (cells.length !== STORED_ROW_COLUMNS.length) return undefined;
    const cell = (column: string) => cells[STORED_ROW_COLUMNS.indexOf(column as never)] ?? "";
    const count = whole(cell("count"));
    const line = whole(cell("line"));
    const column = whole(cell("field"));
    const file = numbers.get(withoutGuard(cell("file")));
    const stage =
      cell("life_stage") === "" ? "unknown" : LIFE_STAGES.find((one) => one === cell("life_stage"));
    const flags = [
      ["part", { "": 0, "large-rare": ROW_FLAGS.largeRare }],
      ["distinct", { "": 0, yes: ROW_FLAGS.distinctYes, no: ROW_FLAGS.distinctNo }],
      ["disposition", { "": 0, released: ROW_FLAGS.released }],
      ["count_basis", { "": 0, expanded: ROW_FLAGS.expanded }],
    ] as const;
    const bits = flags.map(([name, words]) => new Map<string, number>(Object.entries(words)).get(cell(name)));
    if (count === undefined || line === undefined || column === undefined || count > LARGEST_COUNT)
      return undefined;
    if (file === undefined || stage === undefined || bits.includes(undefined)) return undefined;
    const sampleId = withoutGuard(cell("sample_id"));
    if (!SAMPLES.includes(sampleId)) return undefined;
    const rare: Record<string, string | number> = {};
    for (const [name, key] of NUMBER_FACTS) {
      if (cell(name) === "") continue;
      const number = whole(cell(name));
      if (number === undefined) return undefined;
      rare[key] = number;
    }
    for (const [name, key] of TEXT_FACTS)
      if (withoutGuard(cell(name)) !== "") rare[key] = withoutGuard(cell(name));
    table.continueFile(file);
    table.add({
      sampleId,
      name: withoutGuard(cell("taxon")),
      count,
      stage,
      flags: bits.reduce<number>((all, bit) => all | (bit ?? 0), 0),
      line,
      column,
      rare: Object.keys(rare).length === 0 ? undefined : rare,
    });
  }
  return table;
}

const cellOf = (text: string) => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
const line = fc
  .record({
    sample: fc.constantFrom(...SAMPLES, "S-1", "S-1"),
    taxon: fc.constantFrom("Baetis", "Baetis sp.", "'=1+1", 'a "b"', "c, d", "ö", ""),
    count: fc.constantFrom("0", "1", "12", "1000000000"),
    stage: fc.constantFrom("", "larva", "larva", "pupa"),
    grid: fc.constantFrom("", "", "7", "two\nlines", '"'),
    file: fc.constantFrom(...FILES),
    number: fc.integer({ min: 0, max: 4_000_000_000 }),
    field: fc.constantFrom("3", "3", "3", "4"),
  })
  .map(({ sample, taxon, count, stage, grid, file, number, field }) =>
    [
      sample,
      taxon,
      count,
      stage,
      "",
      "",
      "",
      "",
      "",
      "",
      grid,
      "",
      "",
      "",
      "",
      "",
      "",
      "",
      "",
      "",
      file,
      number,
      field,
    ]
      .map((cell) => cellOf(String(cell)))
      .join(","),
  );
const text = fc.array(line, { maxLength: 40 }).map((lines) => lines.map((one) => `${one}\n`).join(""));

describe("reading the rows of a run", () => {
  it("gives what csv-parse and plain reading give, in however many pieces the lines come", () => {
    fc.assert(
      fc.property(text, fc.integer({ min: 1, max: 5 }), (rows, pieces) => {
        const expected = plainly(rows);
        expect(expected).toBeDefined();
        if (expected !== undefined) expect(said(quick(rows, pieces))).toEqual(said(expected));
      }),
      { numRuns: 300 },
    );
  });

  it("takes and refuses the same texts when characters of them are changed", () => {
    const change = fc.tuple(
      fc.nat(),
      fc.constantFrom('"', ",", "\n", "\r", "0", "x", "", "é", "'", " ", "99999999999"),
    );
    fc.assert(
      fc.property(text, fc.array(change, { minLength: 1, maxLength: 3 }), (rows, changes) => {
        let changed = rows;
        for (const [place, into] of changes) {
          const at = place % (changed.length + 1);
          changed = changed.slice(0, at) + into + changed.slice(at + 1);
        }
        const expected = plainly(changed);
        if (expected === undefined) expect(() => quick(changed)).toThrow(FileError);
        else expect(said(quick(changed))).toEqual(said(expected));
      }),
      { numRuns: 2000 },
    );
  });

  const row = (sample: string, taxon: string, count: string, rest = "a.csv,2,3") =>
    `${sample},${taxon},${count}${",".repeat(18)}${rest}\n`;

  it.each([
    ["in a row like the one before", row("S-1", "Baetis", "1x"), 'line 4: "1x" is not a whole number'],
    ["in a row of another sample", row("S-9", "Baetis", "1"), "line 4: the sample is not in samples.csv"],
    ["in a row in quotation marks", row('"S-1"', "Baetis", "01"), 'line 4: "01" is not a whole number'],
    [
      "of a row that lacks a cell",
      row("S-1", "Baetis", "1", "2,3"),
      "line 4: 22 fields where the header has 23",
    ],
    ["of a count too large", row("S-1", "Baetis", "1000000001"), "line 4: the count is too large"],
    ["of a number of eleven digits", row("S-1", "Baetis", "1", "a.csv,12345678901,3"), "line 4: "],
    ["of a stray quotation mark", row("S-1", 'Bae"tis"', "1"), "not a CSV table: line 4: "],
    ["of a quotation mark that is not closed", row("S-1", '"Baetis', "1"), "not a CSV table: line 5: "],
  ])("names the line of a fault %s", (_, faulty, message) => {
    const before = row("S-1", "Baetis", "1") + row("S-1", "Epeorus", "2", "a.csv,3,3");
    const after = row("S-1", "Caenis", "3", "a.csv,5,3");
    expect(() => quick(before + faulty + after)).toThrow(message);
  });

  it("gives the same of rows that stand line by line below each other, more than are taken together", () => {
    const lines = Array.from({ length: 3000 }, (_, at) => {
      const sample = at < 700 ? "S-1" : at % 50 < 25 ? "'=S" : "S-2";
      const rest = `${at > 2000 && at < 2600 ? "b" : "a"}.csv,${at + (at < 1300 ? 2 : 900)},3`;
      const line = row(sample, ["Baetis", "Epeorus", `new ${at}`][at % 3] ?? "", String(at % 7), rest);
      const note = at > 1500 && at < 2100 ? "damp" : "";
      return at === 1600 ? line.replace("S-2", '"S-2"') : line.replace(/,([ab])\.csv/, `${note},$1.csv`);
    });
    const text = lines.join("");
    const expected = plainly(text);
    if (expected === undefined) throw new Error("not read");
    expect(expected.rareAt(1700)).toEqual({ note: "damp" });
    for (const pieces of [1, 7]) expect(said(quick(text, pieces))).toEqual(said(expected));
  });

  it("names the line of a sample that the run does not have behind many lines that are alike", () => {
    const alike = (sample: string, at: number) => row(sample, "Baetis", "1", `a.csv,${at},3`);
    const lines = Array.from({ length: 1200 }, (_, at) => alike("S-1", at + 2));
    expect(() => quick(lines.join("") + alike("S-9", 1202))).toThrow(
      "line 1202: the sample is not in samples.csv",
    );
  });

  it("reads more rows that say something of their own than are looked up again", () => {
    const lines = Array.from({ length: 70_000 }, (_, at) =>
      row("S-1", "Baetis", "1", `a.csv,${at + 2},3`).replace(/,a\.csv/, `note ${at},a.csv`),
    );
    const table = quick(lines.join(""));
    expect(table.size).toBe(70_000);
    expect(table.rareAt(69_999)).toEqual({ note: "note 69999" });
    expect(table.rareAt(0)).toEqual({ note: "note 0" });
  });

  it("gives up on a quotation mark that no line closes, after as many lines as no record has", () => {
    const row = `S-1,Baetis,1,larva${",".repeat(17)}a.csv,2,3\n`;
    const rows = 200_000;
    expect(() => quick(`${row}"${row.repeat(rows)}`)).toThrow(
      /^run\/rows\.csv: line \d+: a quotation mark is not closed$/,
    );
    // A record of many lines that is closed is one all the same.
    const note = "line\n".repeat(1000);
    const cells = STORED_ROW_COLUMNS.map(() => "");
    for (const [column, text] of [
      ["sample_id", "S-1"],
      ["taxon", "Baetis"],
      ["count", "1"],
      ["note", `"${note}"`],
      ["file", "a.csv"],
      ["line", "2"],
      ["field", "3"],
    ] as const)
      cells[STORED_ROW_COLUMNS.indexOf(column)] = text;
    const table = quick(`${cells.join(",")}\n`);
    expect([table.size, table.rareAt(0)?.note]).toEqual([1, note]);
  });

  it("reads a line longer than a block of the file", async () => {
    const folder = freshFolder();
    const note = "n".repeat(3_000_000);
    const long = row("S-1", "Baetis", "5").replace(/,a\.csv/, `${note},a.csv`);
    writeFileSync(
      join(folder, "rows.csv"),
      HEADER + row("S-1", "Epeorus", "1") + long + row("S-2", "Caenis", "2"),
    );
    const sheets = FILES.map((file) => ({ file, nameField: 2 }));
    const table = await readRows({ path: folder, shownAs: "run" }, sheets, SAMPLES);
    expect(table.size).toBe(3);
    expect(table.rareAt(1)).toEqual({ note });
  });

  it.each([
    [
      "bytes that are no UTF-8",
      Buffer.concat([Buffer.from(HEADER), Buffer.from([0x53, 0xff, 0x0a])]),
      "is not UTF-8 text",
    ],
    ["an empty file", Buffer.from(""), "line 1: the header is not that of a run"],
    ["another header", Buffer.from("sample_id,taxon\n"), "line 1: the header is not that of a run"],
  ])("refuses %s", async (_, bytes, message) => {
    const folder = freshFolder();
    writeFileSync(join(folder, "rows.csv"), bytes);
    await expect(readRows({ path: folder, shownAs: "run" }, [], [])).rejects.toThrow(
      `run/rows.csv: ${message}`,
    );
  });
});
