import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LogRows } from "../../src/sheets/log-rows.ts";

describe("the rows of a log", () => {
  it("have the texts that a map of the filled cells would have, in the order of the columns", () => {
    const names = fc.uniqueArray(fc.string({ maxLength: 5 }), { maxLength: 6 });
    const cells = fc.infiniteStream(fc.constantFrom("", "x", "0", "__proto__"));
    fc.assert(
      fc.property(
        names,
        cells,
        fc.string(),
        fc.integer({ min: 1, max: 5 }),
        (columns, stream, other, count) => {
          const fields = new Map(columns.map((name, at) => [name, at + 1]));
          const rows = new LogRows({ names: columns, fields, file: "log.csv" });
          const added = Array.from({ length: count }, (_, line) => {
            const texts = columns.map(() => stream.next().value ?? "");
            return { texts, facts: rows.add(`S${line}`, texts, line + 2) };
          });
          for (const [line, { texts, facts }] of added.entries()) {
            const filled = columns
              .map((name, at) => [name, texts[at] ?? ""] as const)
              .filter(([, text]) => text !== "");
            const map = new Map(filled);
            expect([...facts.texts]).toEqual([...map]);
            expect([...facts.texts.keys()]).toEqual([...map.keys()]);
            for (const name of [...columns, other, "toString"]) {
              expect(facts.texts.get(name)).toBe(map.get(name));
              expect(facts.texts.has(name)).toBe(map.has(name));
            }
            expect([facts.sampleId, facts.line, facts.file]).toEqual([`S${line}`, line + 2, "log.csv"]);
            expect(facts.columns).toBe(fields);
          }
        },
      ),
    );
  });
});
