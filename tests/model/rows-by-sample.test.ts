import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LIFE_STAGES } from "../../src/model/life-stage.ts";
import { COUNT, fileIn, flagsIn, kindIn, REST, ROW_WORDS } from "../../src/model/row-words.ts";
import { RowTable } from "../../src/model/rows.ts";
import type { RowsBySample } from "../../src/model/rows-by-sample.ts";

const SAMPLES = 60;

type Form = "grouped" | "runs" | "mixed";

/**
 * A table of some samples, the last of which has no row. Rows of one sample stand in runs, or all of them together, or
 * all rows are dealt out to samples like cards.
 */
function tableOf(runs: readonly (readonly [sample: number, rows: number])[], form: Form): RowTable {
  const table = new RowTable();
  for (const file of ["a.csv", "b.csv"]) table.startFile(file);
  for (let sample = 0; sample < SAMPLES; sample++) table.samples.add(`S${sample}`);
  const samples = runs.flatMap(([sample, rows]) => new Array<number>(rows).fill(sample));
  if (form === "grouped") samples.sort((a, b) => a - b);
  samples.forEach((own, row) => {
    const sample = form === "mixed" ? (own + (Math.imul(row, 0x9e3779b1) >>> 16)) % (SAMPLES - 1) : own;
    table.continueFile(row % 2);
    table.addNumbered(sample, row % 7, row, row + 2, { stage: row % 5, flags: row % 32, column: 4 });
  });
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
      all.push([kindIn(words, word), words[word + COUNT], flagsIn(rest), fileIn(rest)]);
    }
    at += ready;
  }
  return all;
}

function lookedUp(table: RowTable, rows: Uint32Array): unknown[] {
  return [...rows].map((row) => [
    table.nameAndStageAt(row),
    table.countAt(row),
    table.flagsAt(row),
    table.fileNumberAt(row),
  ]);
}

// A block holds an eighth of the rows, or 4,096; a page 16,384.
const runs = fc.array(fc.tuple(fc.nat(4), fc.constantFrom(1, 1, 2, 3, 60, 4096, 4100, 9000, 17_000)), {
  maxLength: 9,
});

const everyOne = Array.from({ length: SAMPLES }, (_, sample) => sample);
const form = fc.constantFrom<Form>("grouped", "runs", "mixed");

describe("the rows of every sample", () => {
  it("lays ready what is looked up, of samples in turn, the same again, and in any order", () => {
    fc.assert(
      fc.property(runs, form, fc.array(fc.nat(SAMPLES - 1), { maxLength: 12 }), (some, as, more) => {
        const table = tableOf(some, as);
        const rows = table.bySample();
        for (const sample of [...everyOne, 0, 1, 1, ...more]) {
          const own = rows.rowsOf(sample);
          const [from, to] = [rows.starts[sample] ?? -1, rows.starts[sample + 1] ?? -1];
          expect(own).toEqual(rows.order.slice(from, to));
          expect(laid(rows, from, to)).toEqual(lookedUp(table, own));
        }
      }),
      { numRuns: 40 },
    );
  });

  it.each(["runs", "mixed"] as const)("lays ready any part of the rows that stand as %s", (as) => {
    const parts = [
      [1, 3000],
      [0, 9000],
      [1, 5000],
      [3, 2],
    ] as const;
    const table = tableOf(parts, as);
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
      "grouped",
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

  it.each([
    ["runs", 100],
    ["mixed", 100],
    ["mixed", 60_000],
  ] as const)("has the samples ahead ready for who takes them in turn: %s, %i rows", (as, size) => {
    const table = tableOf(
      Array.from({ length: size / 4 }, (_, run) => [run % 5, 4] as const),
      as,
    );
    const rows = table.bySample();
    const start = (sample: number) => rows.starts[sample] as number;
    // Nothing was taken before, nor the sample before it: the sample at the place is all that is ready.
    for (const sample of [0, 2]) {
      rows.lay(start(sample), start(sample + 1));
      const behind = rows.words[rows.word + (start(sample + 1) - start(sample)) * ROW_WORDS + COUNT];
      expect(behind).not.toBe(table.countAt(rows.order[start(sample + 1)] as number));
    }
    // The next in turn, and what comes behind it.
    rows.lay(start(3), start(4));
    const word = rows.word;
    rows.lay(start(4), start(5));
    expect(rows.word).toBe(word + (start(4) - start(3)) * ROW_WORDS);
  });

  it("lays ready a sample that is scattered at first and larger than what is collected at once", () => {
    const spread = Array.from({ length: 5000 }, () => [
      [1, 1],
      [2, 20],
    ]).flat() as [number, number][];
    const table = tableOf([[0, 3], ...spread, [1, 40_000], [0, 3]], "runs");
    const rows = table.bySample();
    for (const sample of [0, 1, 2]) {
      const own = rows.rowsOf(sample);
      const [from, to] = [rows.starts[sample] ?? -1, rows.starts[sample + 1] ?? -1];
      expect(laid(rows, from, to)).toEqual(lookedUp(table, own));
    }
  });

  it("orders rows sample by sample, each in the order of the files, over pages", () => {
    fc.assert(
      fc.property(runs, form, (some, as) => {
        const table = tableOf(some, as);
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
      { numRuns: 12 },
    );
  });

  it.each(["runs", "grouped"] as const)("gives names and stages, of few names and of many (%s)", (as) => {
    const table = tableOf(
      Array.from({ length: 9000 }, (_, run) => [(run * 7) % 5, 1 + (run % 3)] as const),
      as,
    );
    const rows = table.bySample();
    const kinds = [...rows.order].map((row) => table.nameAndStageAt(row));
    const few = rows.kinds(7 * LIFE_STAGES.length);
    expect(few).toBeInstanceOf(Uint16Array);
    expect([...few]).toEqual(kinds);
    const many = rows.kinds(70_000);
    expect(many).toBeInstanceOf(Uint32Array);
    expect([...many]).toEqual(kinds);
    // What was laid ready is laid again.
    const end = rows.starts[1] ?? 0;
    const before = laid(rows, 0, end);
    rows.kinds(70_000).fill(0xffff_ffff);
    expect(laid(rows, 0, end)).toEqual(before);
  });
});
