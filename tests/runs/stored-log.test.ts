import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { withGuard, withoutGuard } from "../../src/files/formula-guard.ts";
import { plainLog } from "../../src/runs/plain-log.ts";
import { readLog } from "../../src/runs/stored-log.ts";
import { LogRows } from "../../src/sheets/log-rows.ts";
import type { SampleLog } from "../../src/sheets/sample-log.ts";
import { freshFolder } from "../helpers/run-jartally.ts";

const COLUMNS = ["site_id", "sample_id", "line"];
const FIELDS = COLUMNS.map((column, at) => ({ column, field: at + 2 }));
const INPUT = { role: "sample-log", file: "log.csv", sha256: "", bytes: 0, rows: 0 } as const;
const HEADER = `line,${COLUMNS.join(",")}\n`;

async function read(text: string | Uint8Array, ids: readonly string[] = []): Promise<SampleLog> {
  const folder = freshFolder();
  writeFileSync(join(folder, "sample-log.csv"), text);
  return readLog({ path: folder, shownAs: "run" }, FIELDS, INPUT, { ids, byLog: new Map() });
}

function plainly(text: string, ids: readonly string[] = []) {
  const form = {
    names: COLUMNS,
    fields: new Map(FIELDS.map((one) => [one.column, one.field])),
    file: "log.csv",
  };
  return plainLog(Buffer.from(text), new LogRows(form), ids);
}

const said = ({ samples }: Pick<SampleLog, "samples">) =>
  [...samples].map(([id, facts]) => [id, facts.sampleId, facts.line, [...facts.texts]]);

const cellOf = (text: string) => (/[",\n\r]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
const word = fc.constantFrom(
  "",
  "P1",
  "P2",
  "'x",
  "=1",
  "'=1",
  "a  b",
  "ö",
  "x,y",
  'q"q',
  "two\nlines",
  "c\rr",
);
const plainWord = fc.constantFrom("", "P1", "P2", "'x", "=1", "'=1", "a  b", "ö");
const rowsOf = (cell: fc.Arbitrary<string>) =>
  fc.uniqueArray(fc.tuple(fc.integer({ min: 0, max: 4_000_000_000 }), cell, cell, cell), {
    selector: ([, , id]) => id,
    maxLength: 8,
  });
const textOf = (rows: readonly (readonly [number, string, string, string])[]) =>
  HEADER +
  rows
    .map(([line, ...cells]) => `${[String(line), ...cells.map((one) => cellOf(withGuard(one)))]}\n`)
    .join("");

describe("the log of a run", () => {
  it("is read as csv-parse reads it, whatever stands in it", async () => {
    await fc.assert(
      fc.asyncProperty(fc.oneof(rowsOf(word), rowsOf(plainWord)), async (rows) => {
        const text = textOf(rows);
        const log = await read(text, ["P1", "P2"]);
        const records: string[][] = parse(text, { record_delimiter: "\n", from: 2 });
        expect(said(log)).toEqual(
          records.map(([line, ...cells]) => {
            const texts = cells.map(withoutGuard);
            const given = COLUMNS.map((column, at) => [column, texts[at]]).filter(([, one]) => one !== "");
            return [texts[1], texts[1], Number(line), given];
          }),
        );
        const inOrder = [...rows].sort(([a], [b]) => a - b).map(([, , id]) => id);
        expect(log.order).toEqual(inOrder);
      }),
    );
  });

  it("is read from its bytes where every line is plain, with the ids of the run or without", async () => {
    await fc.assert(
      fc.asyncProperty(rowsOf(plainWord), async (rows) => {
        const text = textOf(rows);
        const ids = rows.map(([, , id]) => id);
        const [own, run] = [plainly(text), plainly(text, ids)];
        if (own === undefined || run === undefined) throw new Error("not read");
        expect(said({ samples: run })).toEqual(said({ samples: own }));
        expect(said({ samples: own })).toEqual(said(await read(text)));
      }),
    );
  });

  it.each([
    ["a quotation mark", `${HEADER}2,P1,"S-1",\n`],
    ["a carriage return", `${HEADER}2,P1,S-1,\r\n`],
    ["a blank line", `${HEADER}\n2,P1,S-1,\n`],
    ["a missing cell", `${HEADER}2,P1,S-1\n`],
    ["no number", `${HEADER}02,P1,S-1,\n`],
    ["a sample twice", `${HEADER}2,P1,S-1,\n3,P1,S-1,\n`],
    ["another header", "line,sample_id,site_id,line\n2,P1,S-1,\n"],
    ["a mark in front", `\ufeff${HEADER}2,P1,S-1,\n`],
  ])("is left to the reader of tables for %s", (_, text) => {
    expect(plainly(text)).toBeUndefined();
  });

  it("is refused, with the line, where it cannot be used", async () => {
    await expect(read(`${HEADER}2,P1,S-1\n`)).rejects.toThrow("run/sample-log.csv: line 2: 3 fields");
    await expect(read(`${HEADER}x,P1,S-1,\n`)).rejects.toThrow('line 2: "x" is not a whole number');
    await expect(read(`${HEADER}2,P1,S-1,\n3,P2,S-1,\n`)).rejects.toThrow(
      "line 3: the sample is there already",
    );
    await expect(read(Buffer.from([0x61, 0xff, 0x0a]))).rejects.toThrow(
      "run/sample-log.csv: is not UTF-8 text",
    );
    await expect(read("line,site_id\n")).rejects.toThrow('the column "sample_id" is missing');
  });
});
