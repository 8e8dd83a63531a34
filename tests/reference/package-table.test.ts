import { parse } from "csv-parse/sync";
import { stringify } from "csv-stringify/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FileError } from "../../src/files/file-error.ts";
import { packageRows, readPackageTable } from "../../src/reference/package-table.ts";

const cellsOf = (text: string, columns: readonly string[]) => {
  const { rows, cell } = readPackageTable("t.csv", text, columns);
  return rows.map((row) => columns.map((column) => cell(row, column)));
};

describe("a table of the package", () => {
  it("is read by the names of its columns, in any order, with any line ends and a mark in front", () => {
    expect(cellsOf("\ufeffb,a,x\r\n1,2,3\n4,,6\r7,8,9\r\n\r\n", ["a", "b"])).toEqual([
      ["2", "1"],
      ["", "4"],
      ["8", "7"],
    ]);
  });

  it("may have fields in quotation marks, over several lines too", () => {
    const text = 'a,b\n"x, y","say ""z"""\n,""\n1,2\n';
    expect(cellsOf(text, ["a", "b"])).toEqual([
      ["x, y", 'say "z"'],
      ["", ""],
      ["1", "2"],
    ]);
    expect(cellsOf('a,b\n"one\ntwo",3\n4,5\n', ["a", "b"])).toEqual([
      ["one\ntwo", "3"],
      ["4", "5"],
    ]);
  });

  it("tells the line of each record", () => {
    const lines = (text: string) => readPackageTable("t.csv", text, ["a"]).rows.map(({ line }) => line);
    expect(lines('a\n1\n\n"2"\n3\n')).toEqual([2, 4, 5]);
    expect(lines('a\n1\n"2\n2"\n3\n')).toEqual([2, 4, 5]);
  });

  it.each([
    ["a\n1\n", ["a", "b"], 't.csv: line 1: the column "b" is missing'],
    ["", ["a"], 't.csv: line 1: the column "a" is missing'],
    ["a,b\n1,2\n3\n", ["a"], "t.csv: line 3: 1 fields where the header has 2"],
    ["a,b\n1,2\n3,4,5\n", ["a"], "t.csv: line 3: 3 fields where the header has 2"],
  ])("%j is refused", (text, columns, message) => {
    expect(() => readPackageTable("t.csv", text, columns)).toThrow(new FileError("t.csv", message.slice(7)));
  });

  it.each(['a\n"open\n', 'a\nx"y\n', 'a\n"x"y\n'])("%j is refused with the parser's words", (text) => {
    expect(() => readPackageTable("t.csv", text, ["a"])).toThrow(/^t\.csv: not a CSV table: /);
  });

  it("is read row by row where that is wanted, and a fault is met when its row comes", () => {
    const { rows, fields } = packageRows("t.csv", 'b,a\n1,2\n\n3,"4\n5"\n6,7\n8\n9,10\n', ["a", "b"]);
    expect(fields).toEqual([1, 0]);
    const met: unknown[] = [];
    expect(() => {
      for (const row of rows) met.push(row);
    }).toThrow("line 7: 1 fields where the header has 2");
    expect(met).toEqual([
      { line: 2, cells: ["1", "2"] },
      { line: 5, cells: ["3", "4\n5"] },
      { line: 6, cells: ["6", "7"] },
    ]);
    expect(() => packageRows("t.csv", "", ["a"])).toThrow('line 1: the column "a" is missing');
  });

  it("is what the CSV parser reads, whatever is written into it", () => {
    const cell = fc.string({ unit: fc.constantFrom("a", ",", '"', " ", "é", "\n"), maxLength: 6 });
    const table = fc
      .integer({ min: 2, max: 4 })
      .chain((width) =>
        fc.array(fc.array(cell, { minLength: width, maxLength: width }), { minLength: 1, maxLength: 6 }),
      );
    fc.assert(
      fc.property(table, (rows) => {
        const header = (rows[0] ?? []).map((_, i) => `c${i}`);
        const text = stringify([header, ...rows]);
        const parsed = parse(text) as string[][];
        expect(cellsOf(text, header)).toEqual(parsed.slice(1));
      }),
    );
  });
});
