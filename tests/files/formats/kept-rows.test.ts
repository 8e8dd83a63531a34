import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { OutputColumn } from "../../../src/files/formats/define.ts";
import { KeptRows } from "../../../src/files/formats/kept-rows.ts";

const columns: readonly OutputColumn[] = [
  { name: "id", kind: "text" },
  { name: "low", kind: "number" },
  { name: "why", kind: "text" },
  { name: "high", kind: "number" },
];

describe("rows that are held", () => {
  it("come out as they went in, as often as they are asked for", () => {
    const number = fc.option(fc.double({ noNaN: true }));
    const row = fc.tuple(fc.string(), number, fc.string(), number);
    fc.assert(
      fc.property(fc.array(row, { maxLength: 10 }), fc.integer({ min: 0, max: 60 }), (some, times) => {
        const rows = Array.from({ length: times }, () => some).flat();
        const kept = new KeptRows(columns);
        for (const one of rows) kept.add(one);
        expect(kept.size).toBe(rows.length);
        expect([...kept]).toEqual(rows);
        expect([...kept]).toEqual(rows);
      }),
    );
  });

  it("have in each column what it is for", () => {
    const kept = new KeptRows(columns);
    expect(() => kept.add(["A", 1, 2, 3])).toThrow(new RangeError("column 3 does not hold such cells"));
    expect(() => new KeptRows(columns).add([null, 1, "", 3])).toThrow("column 1 does");
    expect(() => new KeptRows(columns).add(["A", "1", "", 3])).toThrow("column 2 does");
  });
});
