import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LIFE_STAGES } from "../../src/model/life-stage.ts";
import { PileGatherer } from "../../src/pipeline/pile-gatherer.ts";
import { distinctOf, PILE_BITS } from "../../src/taxa/counted-columns.ts";

const row = fc.record({
  key: fc.nat({ max: 4 }),
  stage: fc.constantFrom(...LIFE_STAGES),
  largeRare: fc.boolean(),
  count: fc.nat({ max: 500 }),
  distinct: fc.constantFrom("yes" as const, "no" as const, "" as const),
  taxa: fc.integer({ min: 1, max: 4 }),
  isLeftOut: fc.constantFrom(false, false, true),
});

describe("gathering piles", () => {
  // Of the second so few piles are told apart that counting begins again every other sample.
  it.each([
    ["one sample after the other", new PileGatherer(5)],
    ["when counting begins again", new PileGatherer(5, 100)],
  ])("sums the rows of one name, stage and part in canonical order, %s", (_, gatherer) => {
    fc.assert(
      fc.property(fc.array(row, { maxLength: 60 }), (rows) => {
        gatherer.start(rows.length);
        for (const [at, { key, stage, largeRare, count, distinct, taxa, isLeftOut }] of rows.entries()) {
          const order = key * LIFE_STAGES.length + LIFE_STAGES.indexOf(stage);
          const said = (largeRare ? PILE_BITS.find : 0) | PILE_BITS[distinct === "" ? "open" : distinct];
          if (!isLeftOut)
            gatherer.add(at, at % 7, { taxon: key + 100, order, slot: order }, said, count, taxa);
        }
        const groups = new Map<string, (typeof rows)[number][]>();
        for (const one of rows) {
          if (one.isLeftOut) continue;
          const id = [one.key, LIFE_STAGES.indexOf(one.stage), one.largeRare ? 1 : 0].join(" ");
          groups.set(id, [...(groups.get(id) ?? []), one]);
        }
        const expected = [...groups]
          .sort(([a], [b]) => (a < b ? -1 : 1))
          .map(([, own]) => ({
            taxon: (own[0]?.key ?? 0) + 100,
            key: own[0]?.key,
            stage: own[0]?.stage,
            largeRare: own[0]?.largeRare,
            count: own.reduce((sum, one) => sum + one.count, 0),
            // Yes as soon as a row says so, no only where all do.
            distinct: own.some((one) => one.distinct === "yes")
              ? "yes"
              : own.every((one) => one.distinct === "no")
                ? "no"
                : "",
            numberOfTaxa: Math.max(...own.map((one) => one.taxa)),
            rows: own.map((one) => rows.indexOf(one)),
            firstRow: rows.indexOf(own[0] as (typeof rows)[number]),
          }));
        const piles = gatherer.take();
        expect(piles.size).toBe(expected.length);
        const got = piles.list().map((pile) => ({
          taxon: pile.taxon,
          key: pile.key,
          stage: pile.stage,
          largeRare: pile.largeRare,
          count: pile.count,
          distinct: pile.distinct,
          numberOfTaxa: pile.numberOfTaxa,
          rows: pile.rows,
          firstRow: pile.firstRow,
        }));
        expect(got).toEqual(expected);
        // The name of the first row.
        expect(got.map((_, at) => piles.names[piles.placeOf(at)])).toEqual(
          got.map((pile) => pile.firstRow % 7),
        );
        expect(
          got.map((_, at) => [
            piles.taxonAt(at),
            piles.keyAt(at),
            piles.countAt(at),
            piles.firstRowAt(at),
            LIFE_STAGES[piles.stageNumberAt(at)],
            piles.isLargeRareAt(at),
            distinctOf(piles.bitsAt(at)),
            piles.numberOfTaxaAt(at),
          ]),
        ).toEqual(
          got.map((pile) => [
            pile.taxon,
            pile.key,
            pile.count,
            pile.rows[0],
            pile.stage,
            pile.largeRare,
            pile.distinct,
            pile.numberOfTaxa,
          ]),
        );
      }),
      { numRuns: 300 },
    );
  });

  it("keeps the piles of a sample while others are gathered, however long they are", () => {
    const gatherer = new PileGatherer(2);
    const gather = (rows: number, count: number) => {
      gatherer.start(rows);
      for (let row = 0; row < rows; row++)
        gatherer.add(row, row % 2, { taxon: row % 2, order: (row % 2) * 9, slot: row % 2 }, 16, count, 1);
      return gatherer.take();
    };
    const kept = [3, 4000, 5, 9000, 2, 4096, 1].map((rows, at) => ({ rows, piles: gather(rows, at + 1) }));
    for (const [at, { rows, piles }] of kept.entries()) {
      const list = piles.list();
      expect(list.map(({ count }) => count).reduce((a, b) => a + b)).toBe(rows * (at + 1));
      expect(list.flatMap((pile) => pile.rows).length).toBe(rows);
    }
  });
});
