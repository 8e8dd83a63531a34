import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RowBytes } from "../../../src/files/formats/row-bytes.ts";
import { LIFE_STAGES } from "../../../src/model/life-stage.ts";
import { RowTable } from "../../../src/model/rows.ts";
import { drawBatch } from "../../../src/pipeline/subsample/draw-batch.ts";
import type { DrawnSample } from "../../../src/pipeline/subsample/drawn-sample.ts";
import { KeptTable, keptKind } from "../../../src/pipeline/subsample/kept-table.ts";
import { SheetBytes } from "../../../src/pipeline/subsample/sheet-bytes.ts";
import type { SheetShape } from "../../../src/pipeline/subsample/sheet-rows.ts";
import { sheetColumns, sheetRows } from "../../../src/pipeline/subsample/sheet-rows.ts";
import { pileBits } from "../../../src/taxa/counted-columns.ts";
import { drawnSamples, smallRows } from "../../helpers/small-draw.ts";

const text = fc.oneof(
  { weight: 3, arbitrary: fc.constantFrom("S1", "Baetis", "Baetis sp. A", "Cricotopus/Orthocladius") },
  { weight: 1, arbitrary: fc.constantFrom("=1+1", "'@x", 'a "b"', "a,b", "a\tb", "é", "a\nb", "") },
  { weight: 1, arbitrary: fc.string({ unit: "binary", maxLength: 5 }) },
);
const keptRow = fc.record({
  name: fc.nat({ max: 7 }),
  count: fc.oneof(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 2 ** 40 })),
  stage: fc.constantFrom(...LIFE_STAGES),
  largeRare: fc.boolean(),
  distinct: fc.constantFrom("" as const, "yes" as const, "no" as const),
  numberOfTaxa: fc.oneof({ weight: 4, arbitrary: fc.constant(1) }, { weight: 1, arbitrary: fc.nat() }),
  place: fc.option(fc.tuple(text, fc.constantFrom("", "2")), { nil: undefined }),
});
const sample = fc.record({
  sampleId: text,
  draw: fc.integer({ min: 1, max: 3 }),
  status: fc.constantFrom("drawn" as const, "empty" as const, "refused" as const, "held-back" as const),
  rows: fc.array(keptRow, { maxLength: 6 }),
});

describe("the sheet as bytes", () => {
  it("is what the rows give cell by cell, block after block", () => {
    const shapes = fc.record({
      by: fc.constantFrom("individual" as const, "grid" as const),
      hasDraws: fc.boolean(),
    });
    fc.assert(
      fc.property(
        shapes,
        fc.constantFrom("," as const, "\t" as const),
        fc.array(text, { minLength: 8, maxLength: 8 }),
        fc.array(fc.array(sample, { maxLength: 6 }), { maxLength: 3 }),
        (shape: SheetShape, delimiter, names, blocks) => {
          const table = new RowTable();
          table.startFile("sheet.csv");
          for (const [line, name] of names.entries())
            table.add({ sampleId: "S", name, count: 1, stage: "larva", flags: 0, line, column: 3 });
          const sheet = new SheetBytes(table, shape, delimiter);
          const cells = new RowBytes(sheetColumns(shape), delimiter);
          const kept = new KeptTable();
          for (const samples of blocks) {
            kept.clear();
            const drawn = samples.map(({ sampleId, draw, status, rows }) => {
              const start = kept.size;
              for (const row of rows) {
                const kind = keptKind(LIFE_STAGES.indexOf(row.stage), pileBits(row.largeRare, row.distinct));
                kept.add(row.name % table.names.size, row.count, kind, row.numberOfTaxa);
                if (row.place !== undefined) kept.setPlace(...row.place);
              }
              return { sampleId, draw, status, firstRow: 3, start, end: kept.size } as DrawnSample;
            });
            const block = { samples: drawn, kept };
            for (const row of sheetRows(block, table, shape)) cells.add(row);
            expect(Buffer.from(sheet.of(block)).toString("latin1")).toBe(
              Buffer.from(cells.take()).toString("latin1"),
            );
          }
        },
      ),
      { numRuns: 500 },
    );
  });
});

describe("the draws of a batch in blocks", () => {
  const head = "sample_id,taxon,count\n";
  const lines = Array.from({ length: 40 }, (_, at) =>
    ["Baetis", "Zapada", "Physa"].map((name, row) => `S${at},${name},${(at * 7 + row * 5) % 30}`),
  ).flat();
  const choices = { method: { by: "individual", target: 20 }, seed: "7" } as const;

  it("are the same in whatever parts the samples are drawn", async () => {
    const { rows, policy } = await smallRows(`${head}${lines.join("\n")}\n`);
    const places = ({ start, end, ...rest }: ReturnType<typeof drawnSamples>[number]) => rest;
    const whole = drawnSamples(rows, policy, choices).map(places);
    expect(whole).toHaveLength(40);
    const parts = [
      [0, 13],
      [13, 13],
      [13, 39],
      [39, 40],
    ].flatMap(([start = 0, end = 0]) => drawnSamples(rows, policy, choices, { start, end }));
    expect(parts.map(places)).toEqual(whole);
  });

  it("hold no more than some thousand rows each, however often one sample is drawn", async () => {
    const { rows, policy } = await smallRows(`${head}${lines.slice(0, 6).join("\n")}\n`);
    let draws = 0;
    let blocks = 0;
    for (const { samples, kept } of drawBatch(rows, policy, { ...choices, draws: 5000 })) {
      expect(kept.size).toBeLessThan(10_000);
      expect(samples.length).toBeLessThanOrEqual(1024);
      expect(samples.at(-1)?.end).toBe(kept.size);
      for (const one of samples) expect(one.draw).toBe((draws++ % 5000) + 1);
      blocks++;
    }
    expect([draws, blocks > 5]).toEqual([10_000, true]);
  });
});
