import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LogColumns, LogTexts } from "../../src/sheets/log-texts.ts";

describe("the texts of a row of a log", () => {
  it("are those that a map of the filled cells would have, in the order of the columns", () => {
    const names = fc.uniqueArray(fc.string({ maxLength: 5 }), { maxLength: 6 });
    fc.assert(
      fc.property(
        names,
        fc.infiniteStream(fc.constantFrom("", "x", "0", "__proto__")),
        fc.string(),
        (columns, cells, other) => {
          const texts = columns.map(() => cells.next().value ?? "");
          const map = new Map(
            columns.map((name, at) => [name, texts[at] ?? ""] as const).filter(([, text]) => text !== ""),
          );
          const row = new LogTexts(new LogColumns(columns), texts);
          expect([...row]).toEqual([...map]);
          expect([...row.keys()]).toEqual([...map.keys()]);
          for (const name of [...columns, other, "toString"]) {
            expect(row.get(name)).toBe(map.get(name));
            expect(row.has(name)).toBe(map.has(name));
          }
        },
      ),
    );
  });
});
