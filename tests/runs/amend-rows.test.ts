import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RowTable } from "../../src/model/rows.ts";
import { amendRows } from "../../src/runs/amend-rows.ts";
import type { Amendment } from "../../src/sheets/amendment.ts";

/** Baetis in three rows of one sample (5, 7 and 0 animals), Leuctra in one, and another sample. */
function rows(): RowTable {
  const table = new RowTable();
  table.startFile("sheet.csv");
  table.setNameColumn(2);
  const add = (sampleId: string, name: string, count: number, line: number) =>
    table.add({ sampleId, name, count, stage: "larva", flags: 0, line, column: 3, rare: { container: "1" } });
  add("S-1", "Baetis", 5, 2);
  add("S-1", "Leuctra", 2, 3);
  add("S-1", "BAETIS", 7, 4);
  add("S-1", "Baetis", 0, 5);
  add("S-2", "Baetis", 9, 6);
  return table;
}

function amendment(over: Partial<Amendment>): Amendment {
  return {
    sampleId: "S-1",
    taxon: "Baetis",
    oldCount: 12,
    newCount: 12,
    reason: "re-check",
    by: "TRV",
    on: "",
    place: { file: "amend.csv", line: 2, column: 4 },
    ...over,
  };
}

function contents(table: RowTable): string[] {
  return Array.from({ length: table.size }, (_, row) => row).map(
    (row) =>
      `${table.fileAt(row)}:${table.lineAt(row)} ${table.samples.textOf(table.sampleAt(row))} ${table.names.textOf(table.nameAt(row))} ${table.countAt(row)} ${table.stageAt(row)}`,
  );
}

describe("corrections", () => {
  it("bring more animals in as a row of their own, with the stage of the first row of the name", () => {
    const original = rows();
    const { table, findings } = amendRows(original, [amendment({ newCount: 15 })]);
    expect(findings).toEqual([]);
    expect(contents(table)).toEqual([...contents(original), "amend.csv:2 S-1 Baetis 3 larva"]);
  });

  it("take animals from the last rows of the name first, in any spelling of it", () => {
    const { table } = amendRows(rows(), [amendment({ taxon: "baetis", newCount: 4 })]);
    expect(contents(table)).toEqual([
      "sheet.csv:2 S-1 Baetis 4 larva",
      "sheet.csv:3 S-1 Leuctra 2 larva",
      "sheet.csv:4 S-1 BAETIS 0 larva",
      "sheet.csv:5 S-1 Baetis 0 larva",
      "sheet.csv:6 S-2 Baetis 9 larva",
    ]);
  });

  it("bring in a taxon that the sheet does not have", () => {
    const { table } = amendRows(rows(), [amendment({ taxon: "Gammarus", oldCount: 0, newCount: 6 })]);
    expect(contents(table).at(-1)).toBe("amend.csv:2 S-1 Gammarus 6 unknown");
  });

  it("are made one after the other, and leave the rows they came from alone", () => {
    const original = rows();
    const before = contents(original);
    const steps = [amendment({ newCount: 20 }), amendment({ oldCount: 20, newCount: 1 })];
    const { table, findings } = amendRows(original, steps);
    expect(findings).toEqual([]);
    expect(contents(table)[0]).toBe("sheet.csv:2 S-1 Baetis 1 larva");
    expect(table.size).toBe(original.size);
    expect(contents(original)).toEqual(before);
  });

  it.each([
    [{ oldCount: 11, newCount: 13 }, "sample S-1 has 12 Baetis, not 11"],
    [{ sampleId: "S-9" }, "the run has no sample S-9"],
    [{ taxon: "Gammarus", oldCount: 1 }, "sample S-1 has 0 Gammarus, not 1"],
  ])("that do not fit are said: %j", (over, message) => {
    const { findings } = amendRows(rows(), [amendment(over)]);
    expect(findings.map((one) => [one.code, one.line, one.message])).toEqual([
      ["amendment-does-not-fit", 2, message],
    ]);
  });

  it("give the new count exactly, whatever chain of corrections came before", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 1, maxLength: 8 }), (counts) => {
        const steps = counts.map((newCount, at) => amendment({ oldCount: counts[at - 1] ?? 12, newCount }));
        const { table, findings } = amendRows(rows(), steps);
        expect(findings).toEqual([]);
        const total = contents(table)
          .filter((text) => / S-1 baetis /i.test(text))
          .reduce((sum, text) => sum + Number(text.split(" ")[3]), 0);
        expect(total).toBe(counts.at(-1));
      }),
    );
  });
});
