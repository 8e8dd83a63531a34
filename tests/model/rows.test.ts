import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LIFE_STAGES } from "../../src/model/life-stage.ts";
import { ROW_WORDS, restWord } from "../../src/model/row-words.ts";
import type { RowInput } from "../../src/model/rows.ts";
import { ROW_FLAGS, RowTable } from "../../src/model/rows.ts";

const row = (over: Partial<RowInput>): RowInput => ({
  sampleId: "S1",
  name: "Baetis",
  count: 1,
  stage: "larva",
  flags: 0,
  line: 2,
  column: 3,
  ...over,
});

describe("the table of rows", () => {
  it("gives back what was put in, over files and growth", () => {
    const anyRow = fc.record({
      sampleId: fc.constantFrom("S1", "S2", "__proto__", "constructor"),
      name: fc.constantFrom("Baetis", "Leuctra", "toString"),
      count: fc.integer({ min: 0, max: 1_000_000_000 }),
      stage: fc.constantFrom("larva" as const, "adult" as const, "case" as const),
      flags: fc.integer({ min: 0, max: 31 }),
      line: fc.integer({ min: 1, max: 4_000_000_000 }),
      column: fc.integer({ min: 1, max: 5000 }),
    });
    fc.assert(
      fc.property(
        fc.array(fc.array(anyRow, { maxLength: 1500 }), { minLength: 1, maxLength: 3 }),
        (files) => {
          const table = new RowTable();
          files.forEach((rows, index) => {
            table.startFile(`file${index}.csv`);
            for (const one of rows) table.add(one);
          });
          const expected = files.flatMap((rows, index) =>
            rows.map((one) => ({ ...one, file: `file${index}.csv` })),
          );
          expect(table.size).toBe(expected.length);
          const got = expected.map((_, at) => ({
            sampleId: table.samples.textOf(table.sampleAt(at)),
            name: table.names.textOf(table.nameAt(at)),
            count: table.countAt(at),
            stage: table.stageAt(at),
            flags: table.flagsAt(at),
            line: table.lineAt(at),
            column: table.columnAt(at),
            file: table.fileAt(at),
          }));
          expect(got).toEqual(expected);
        },
      ),
      { numRuns: 25 },
    );
  });

  it("takes many rows at once as it takes them one by one", () => {
    const run = fc.record({
      rows: fc.integer({ min: 0, max: 9000 }),
      line: fc.constantFrom(2, 2, 3, 100_000),
      column: fc.constantFrom(4, 4, 4, 5),
      isAtOnce: fc.boolean(),
      file: fc.constantFrom(0, 1),
    });
    fc.assert(
      fc.property(fc.array(run, { maxLength: 6 }), (runs) => {
        const tables = [new RowTable(), new RowTable()];
        for (const table of tables) {
          for (const file of ["a.csv", "b.csv"]) table.startFile(file);
          for (const text of ["S1", "S2", "S3"]) table.samples.add(text);
        }
        const [one, other] = tables as [RowTable, RowTable];
        let line = 0;
        for (const { rows, line: gap, column, isAtOnce, file } of runs) {
          line += gap;
          for (const table of tables) table.continueFile(file);
          const facts = { stage: 3, flags: 2, column };
          const words = new Uint32Array(rows * ROW_WORDS + 7);
          for (let row = 0; row < rows; row++) {
            words.set([row % 3, row % 5, row, restWord(file, facts)], row * ROW_WORDS);
            one.addNumbered(row % 3, row % 5, row, line + row, facts);
            if (!isAtOnce) other.addNumbered(row % 3, row % 5, row, line + row, facts);
          }
          if (isAtOnce) other.addRows(words, rows, line, column);
          line += rows;
        }
        expect(other.size).toBe(one.size);
        const { order, starts } = one.bySample();
        expect(other.bySample()).toEqual({ order, starts });
        for (let row = 0; row < one.size; row += 7) {
          const of = (table: RowTable) => [
            table.sampleAt(row),
            table.nameAt(row),
            table.countAt(row),
            table.stageAt(row),
            table.flagsAt(row),
            table.fileAt(row),
            table.lineAt(row),
            table.columnAt(row),
          ];
          expect(of(other)).toEqual(of(one));
        }
      }),
      { numRuns: 40 },
    );
  });

  it("says which names have which stages, over pages", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(4), fc.nat(LIFE_STAGES.length - 1)), { maxLength: 30 }),
        fc.constantFrom(1, 1, 2000),
        (pairs, times) => {
          const table = new RowTable();
          table.startFile("a.csv");
          for (const name of ["A", "B", "C", "D", "E"]) table.names.add(name);
          table.samples.add("S");
          const rows = Array.from({ length: times }, () => pairs).flat();
          rows.forEach(([name, stage], row) => {
            table.addNumbered(0, name, 1, row + 2, { stage, flags: 31, column: 4 });
          });
          const places = rows.map(([name, stage]) => name * LIFE_STAGES.length + stage);
          expect(places.map((_, row) => table.nameAndStageAt(row))).toEqual(places);
          const met = new Uint8Array(5 * LIFE_STAGES.length);
          for (const place of places) met[place] = 1;
          expect(table.namesByStage()).toEqual(met);
        },
      ),
      { numRuns: 60 },
    );
  });

  it("gives names and stages sample by sample, of few names and of many", () => {
    for (const [names, form] of [
      [7, Uint16Array],
      [8000, Uint32Array],
    ] as const) {
      const table = new RowTable();
      table.startFile("a.csv");
      for (let at = 0; at < 40_000; at++)
        table.add(
          row({
            sampleId: `S${(at * 7) % 11}`,
            name: `N${(at * 31) % names}`,
            stage: LIFE_STAGES[at % 5] ?? "larva",
            line: at,
          }),
        );
      const { order } = table.bySample();
      const kinds = table.namesAndStagesBySample();
      expect(kinds).toBeInstanceOf(form);
      expect([...kinds]).toEqual([...order].map((row) => table.nameAndStageAt(row)));
    }
  });

  it("keeps what few rows say", () => {
    const table = new RowTable();
    expect(() => table.currentFile).toThrow(new RangeError("a row came before its file"));
    table.startFile("a.csv");
    table.addRows(Uint32Array.of(0, 0, 5, 0, 0, 0, 6, 0), 2, 2, 3);
    expect(table.hasRare).toBe(false);
    table.setRare(1, { grid: "7" });
    expect([table.rareAt(0), table.rareAt(1)]).toEqual([undefined, { grid: "7" }]);
  });

  it("gives back the rows of a long sheet, with columns that differ late", () => {
    const table = new RowTable();
    table.startFile("a.csv");
    table.startFile("b.csv");
    // A page holds 16,384 rows; the first row whose column differs stands on the third page.
    const rows = Array.from({ length: 40_000 }, (_, i) => ({
      file: i % 3 === 0 ? 0 : 1,
      count: i,
      line: i + 2,
      column: i < 35_000 ? (i % 3 === 0 ? 4 : 6) : (i % 5) + 1,
    }));
    for (const { file, ...own } of rows) {
      table.continueFile(file);
      table.add(row({ sampleId: `S${own.count % 7}`, ...own }));
    }
    const got = rows.map((_, at) => ({
      file: table.fileNumberAt(at),
      count: table.countAt(at),
      line: table.lineAt(at),
      column: table.columnAt(at),
    }));
    expect(got).toEqual(rows);
    const { order, starts } = table.bySample();
    // 40,000 is 7 times 5,714 and 2.
    expect([...starts]).toEqual([0, 5715, 11_430, 17_144, 22_858, 28_572, 34_286, 40_000]);
    expect([...order.slice(0, 3)]).toEqual([0, 7, 14]);
    expect(new Set(order).size).toBe(40_000);
  });

  it("sorts its rows by sample once, and again when there are more rows or samples", () => {
    const table = new RowTable();
    table.startFile("a.csv");
    expect(table.bySample()).toEqual({ order: Uint32Array.of(), starts: Uint32Array.of(0) });
    table.add(row({ sampleId: "A" }));
    const first = table.bySample();
    expect(first.starts).toEqual(Uint32Array.of(0, 1));
    expect(table.bySample()).toBe(first);
    // A sample that is met in a log has no row.
    table.samples.add("B");
    const second = table.bySample();
    expect(second.starts).toEqual(Uint32Array.of(0, 1, 1));
    expect(table.bySample()).toBe(second);
    table.add(row({ sampleId: "A" }));
    expect(table.bySample()).toEqual({ order: Uint32Array.of(0, 1), starts: Uint32Array.of(0, 2, 2) });
  });

  it("does not know the column of the names before it is told", () => {
    const table = new RowTable();
    table.startFile("a.csv");
    table.add(row({}));
    expect(table.nameColumnAt(0)).toBe(0);
    table.setNameColumn(4);
    expect(table.nameColumnAt(0)).toBe(4);
  });

  it("keeps the line of every row, whether one follows the other or not", () => {
    const table = new RowTable();
    const lines: number[] = [];
    // Three pages that are all plain, plain but for a gap, and in any order.
    for (let at = 0; at < 3 * 16_384 + 5; at++) {
      const page = at >> 14;
      lines.push(page === 0 ? at + 2 : page === 1 ? at + (at < 20_000 ? 2 : 7) : (at * 7919) % 1_000_003);
    }
    table.startFile("a.csv");
    for (const line of lines) table.add(row({ line }));
    expect(lines.map((_, at) => table.lineAt(at))).toEqual(lines);
  });

  it("lists the rows of each sample in the order of the file", () => {
    const table = new RowTable();
    table.startFile("a.csv");
    for (const sampleId of ["B", "A", "B", "C", "A", "B"]) table.add(row({ sampleId }));
    const { order, starts } = table.bySample();
    const rowsOf = (id: string) => {
      const sample = table.samples.numberOf(id) ?? -1;
      return [...order.slice(starts[sample], starts[sample + 1])];
    };
    expect(rowsOf("B")).toEqual([0, 2, 5]);
    expect(rowsOf("A")).toEqual([1, 4]);
    expect(rowsOf("C")).toEqual([3]);
  });

  it("keeps the facts that few sheets have", () => {
    const table = new RowTable();
    table.startFile("a.csv");
    table.add(row({}));
    expect([table.hasRare, table.rareAt(0)]).toEqual([false, undefined]);
    table.add(
      row({ flags: ROW_FLAGS.largeRare | ROW_FLAGS.released, rare: { grid: "7", container: "1 of 2" } }),
    );
    expect(table.hasRare).toBe(true);
    expect(table.rareAt(0)).toBeUndefined();
    expect(table.rareAt(1)).toEqual({ grid: "7", container: "1 of 2" });
    expect(table.flagsAt(1) & ROW_FLAGS.released).toBe(ROW_FLAGS.released);
  });

  it("takes rows of its files in any mixture", () => {
    const table = new RowTable();
    table.startFile("a.csv");
    table.setNameColumn(2);
    table.startFile("b.csv");
    table.setNameColumn(5);
    for (const [file, line, column] of [
      [1, 7, 3],
      [0, 4, 3],
      [1, 8, 9],
    ] as const) {
      table.continueFile(file);
      table.add(row({ line, column }));
    }
    const places = [0, 1, 2].map((at) => [
      table.fileAt(at),
      table.lineAt(at),
      table.columnAt(at),
      table.nameColumnAt(at),
    ]);
    expect(places).toEqual([
      ["b.csv", 7, 3, 5],
      ["a.csv", 4, 3, 2],
      ["b.csv", 8, 9, 5],
    ]);
    expect(() => table.continueFile(2)).toThrow(new RangeError("no file has the number 2"));
  });

  it("refuses a row before its file", () => {
    expect(() => new RowTable().add(row({}))).toThrow(new RangeError("a row came before its file"));
  });
});
