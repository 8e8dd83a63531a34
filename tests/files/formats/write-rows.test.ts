import { describe, expect, it } from "vitest";
import type { OutputRow, TableWriter } from "../../../src/files/formats/define.ts";
import { writeRows } from "../../../src/files/formats/write-rows.ts";

const ROWS: OutputRow[] = [["a"], ["b"], ["c"]];

/** A writer that makes every second row wait; a row before the one before it was taken is told. */
function slowWriter() {
  const taken: OutputRow[] = [];
  let isBusy = false;
  const writer: TableWriter = {
    async start() {},
    row(cells) {
      if (isBusy) throw new Error(`${cells} came too early`);
      taken.push(cells);
      if (taken.length % 2 === 0) return undefined;
      isBusy = true;
      return new Promise((resolve) =>
        setImmediate(() => {
          isBusy = false;
          resolve();
        }),
      );
    },
    async end() {},
  };
  return { writer, taken };
}

async function* slowly(rows: readonly OutputRow[]): AsyncGenerator<OutputRow> {
  for (const row of rows) yield row;
}

describe("writing rows", () => {
  it.each([
    ["a list", () => ROWS],
    ["rows that come later", () => slowly(ROWS)],
    ["rows that can be taken once", () => ROWS.values()],
  ])("takes %s one after the other and waits where the writer does", async (_, rows) => {
    const { writer, taken } = slowWriter();
    await writeRows(writer, rows());
    expect(taken).toEqual(ROWS);
  });

  it.each([ROWS, slowly(ROWS)])("tells of a failure of the writer", async (rows) => {
    const { writer } = slowWriter();
    await expect(
      writeRows({ ...writer, row: () => Promise.reject(new Error("full")) }, rows),
    ).rejects.toThrow("full");
  });
});
