import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LIFE_STAGES } from "../../src/model/life-stage.ts";
import { COUNT, fileIn, flagsIn, kindIn, REST, ROW_WORDS, SAMPLE } from "../../src/model/row-words.ts";
import { RowTable } from "../../src/model/rows.ts";
import type { RowsBySample } from "../../src/model/rows-by-sample.ts";

const SAMPLES = 6;

/** A table of some samples, the last of which has no row: rows of one sample stand in runs. */
function tableOf(runs: readonly (readonly [sample: number, rows: number])[], isGrouped: boolean): RowTable {
  const table = new RowTable();
  for (const file of ["a.csv", "b.csv"]) table.startFile(file);
  for (let sample = 0; sample < SAMPLES; sample++) table.samples.add(`S${sample}`);
  const sorted = isGrouped ? [...runs].sort(([a], [b]) => a - b) : runs;
  let line = 1;
  for (const [sample, rows] of sorted)
    for (let row = 0; row < rows; row++) {
      line++;
      table.continueFile(line % 2);
      table.addNumbered(sample, line % 7, line, line, { stage: line % 5, flags: line % 32, column: 4 });
    }
  return table;
}

/** What is laid ready of the places from one up to another, in as many turns as it takes. */
function laid(rows: RowsBySample, from: number, to: number): unknown[] {
  const all: unknown[] = [];
  for (let at = from; at < to; ) {
    const ready = rows.lay(at, to);
    expect(ready).toBeGreaterThan(0);
    expect(at + ready).toBeLessThanOrEqual(to);
    const { words } = rows;
    for (let own = 0; own < ready; own++) {
      const word = rows.word + own * ROW_WORDS;
      const rest = words[word + REST] ?? -1;
      all.push([words[word + SAMPLE], kindIn(words, word), words[word + COUNT], flagsIn(rest), fileIn(rest)]);
    }
    at += ready;
  }
  return all;
}

function lookedUp(table: RowTable, rows: Uint32Array): unknown[] {
  return [...rows].map((row) => [
    table.sampleAt(row),
    table.nameAndStageAt(row),
    table.countAt(row),
    table.flagsAt(row),
    table.fileNumberAt(row),
  ]);
}

// A block holds 4,096 rows, a page 16,384.
const runs = fc.array(
  fc.tuple(fc.nat(SAMPLES - 2), fc.constantFrom(1, 1, 2, 3, 60, 4096, 4100, 9000, 17_000)),
  { maxLength: 9 },
);

describe("the rows of every sample", () => {
  it("lays ready what is looked up, of samples in turn, the same again, and in any order", () => {
    fc.assert(
      fc.property(
        runs,
        fc.boolean(),
        fc.array(fc.nat(SAMPLES - 1), { maxLength: 12 }),
        (some, isGrouped, more) => {
          const table = tableOf(some, isGrouped);
          const rows = table.bySample();
          for (const sample of [0, 1, 2, 3, 4, 5, 0, 1, 1, ...more]) {
            const own = rows.rowsOf(sample);
            const [from, to] = [rows.starts[sample] ?? -1, rows.starts[sample + 1] ?? -1];
            expect(own).toEqual(rows.order.slice(from, to));
            expect(laid(rows, from, to)).toEqual(lookedUp(table, own));
          }
        },
      ),
      { numRuns: 40 },
    );
  });

  it("lays ready any part of the rows", () => {
    const table = tableOf(
      [
        [1, 3000],
        [0, 9000],
        [1, 5000],
        [3, 2],
      ],
      false,
    );
    const rows = table.bySample();
    const place = fc.nat({ max: table.size });
    fc.assert(
      fc.property(place, place, (one, other) => {
        const [from, to] = [Math.min(one, other), Math.max(one, other)];
        expect(laid(rows, from, to)).toEqual(lookedUp(table, rows.order.slice(from, to)));
      }),
      { numRuns: 60 },
    );
  });

  it("copies nothing where rows lie sample by sample", () => {
    const rows = tableOf(
      [
        [0, 3],
        [1, 20_000],
        [2, 5],
      ],
      true,
    ).bySample();
    expect(rows.lay(0, 3)).toBe(3);
    const { words } = rows;
    // Up to the end of the page.
    expect(rows.lay(3, 20_003)).toBe(16_381);
    expect(rows.words).toBe(words);
    expect(rows.word).toBe(3 * ROW_WORDS);
    expect(rows.lay(16_384, 20_003)).toBe(3619);
    expect(rows.words).not.toBe(words);
    expect(rows.word).toBe(0);
  });

  it("copies the samples ahead for who takes them in turn, and no others", () => {
    const table = tableOf(
      Array.from({ length: 400 }, (_, run) => [run % 5, 3] as const),
      false,
    );
    const rows = table.bySample();
    rows.lay(240, 480);
    // Nothing was taken before, so the sample at the place is all that is ready.
    expect(rows.words.subarray(240 * ROW_WORDS).every((word) => word === 0)).toBe(true);
    rows.lay(480, 720);
    const ahead = rows.words.subarray(240 * ROW_WORDS, 480 * ROW_WORDS);
    expect(ahead.filter((_, word) => word % ROW_WORDS === SAMPLE)).toEqual(new Uint32Array(240).fill(3));
  });

  it("orders rows sample by sample, each in the order of the files, over pages", () => {
    fc.assert(
      fc.property(runs, fc.boolean(), (some, isGrouped) => {
        const table = tableOf(some, isGrouped);
        const samples = Array.from({ length: table.size }, (_, row) => table.sampleAt(row));
        const { order, starts } = table.bySample();
        const expected = Array.from({ length: SAMPLES }, (_, sample) =>
          samples.flatMap((one, row) => (one === sample ? [row] : [])),
        );
        expect(order).toEqual(Uint32Array.from(expected.flat()));
        expect(starts).toEqual(
          Uint32Array.from({ length: SAMPLES + 1 }, (_, upTo) => expected.slice(0, upTo).flat().length),
        );
      }),
      { numRuns: 40 },
    );
  });

  it("gives names and stages sample by sample, of few names and of many", () => {
    const table = tableOf(
      Array.from({ length: 9000 }, (_, run) => [(run * 7) % 5, 1 + (run % 3)] as const),
      false,
    );
    const rows = table.bySample();
    const kinds = [...rows.order].map((row) => table.nameAndStageAt(row));
    const few = rows.kinds(7 * LIFE_STAGES.length);
    expect(few).toBeInstanceOf(Uint16Array);
    expect([...few]).toEqual(kinds);
    const many = rows.kinds(70_000);
    expect(many).toBeInstanceOf(Uint32Array);
    expect([...many]).toEqual(kinds);
  });
});
