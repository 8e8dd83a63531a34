import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LIFE_STAGES } from "../../src/model/life-stage.ts";
import { DISTINCT_WORDS, PileGatherer } from "../../src/pipeline/pile-gatherer.ts";

const row = fc.record({
  key: fc.nat({ max: 4 }),
  stage: fc.constantFrom(...LIFE_STAGES),
  largeRare: fc.boolean(),
  count: fc.nat({ max: 500 }),
  distinct: fc.constantFrom("yes" as const, "no" as const, "" as const),
  taxa: fc.integer({ min: 1, max: 4 }),
});

describe("gathering piles", () => {
  it("sums the rows of one name, stage and part, in canonical order, one sample after the other", () => {
    const gatherer = new PileGatherer(5);
    fc.assert(
      fc.property(fc.array(row, { maxLength: 60 }), (rows) => {
        rows.forEach(({ key, stage, largeRare, count, distinct, taxa }, at) => {
          const order = key * LIFE_STAGES.length + LIFE_STAGES.indexOf(stage);
          gatherer.add(
            at,
            { taxon: key + 100, key, stage, order },
            largeRare,
            count,
            DISTINCT_WORDS.indexOf(distinct),
            taxa,
          );
        });
        const groups = new Map<string, (typeof rows)[number][]>();
        for (const one of rows) {
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
          }));
        const columns = gatherer.take();
        const got = columns.piles().map((pile) => ({
          taxon: pile.taxon,
          key: pile.key,
          stage: pile.stage,
          largeRare: pile.largeRare,
          count: pile.count,
          distinct: pile.distinct,
          numberOfTaxa: pile.numberOfTaxa,
          rows: pile.rows,
        }));
        expect(got).toEqual(expected);
        expect(columns.size).toBe(got.length);
        expect(
          got.map((_, at) => [
            columns.countAt(at),
            columns.firstRowAt(at),
            LIFE_STAGES[columns.stageNumberAt(at)],
            columns.isLargeRareAt(at),
            DISTINCT_WORDS[columns.distinctAt(at)],
            columns.numberOfTaxaAt(at),
          ]),
        ).toEqual(
          got.map((pile) => [
            pile.count,
            pile.rows[0],
            pile.stage,
            pile.largeRare,
            pile.distinct,
            pile.numberOfTaxa,
          ]),
        );
      }),
    );
  });

  it("has room for a sample of many piles, and for the next one", () => {
    const gatherer = new PileGatherer(1000);
    const gather = (from: number) => {
      for (let key = 999; key >= from; key--)
        gatherer.add(
          key,
          { taxon: key, key, stage: "larva", order: key * LIFE_STAGES.length + 2 },
          false,
          key,
          0,
          1,
        );
      return gatherer.take();
    };
    for (const from of [0, 990, 300]) {
      const columns = gather(from);
      expect(columns.size).toBe(1000 - from);
      expect(columns.piles().map(({ key, count }) => [key, count])).toEqual(
        Array.from({ length: 1000 - from }, (_, at) => [from + at, from + at]),
      );
    }
    expect(gatherer.take().size).toBe(0);
  });
});
