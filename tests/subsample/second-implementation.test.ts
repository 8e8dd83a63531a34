import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { drawIndividuals } from "../../src/subsample/draw-individuals.ts";
import { gridOrder } from "../../src/subsample/grid-order.ts";
import { randomStream } from "../../src/subsample/stream.ts";
import { PlainStream, plainDraw, plainOrder } from "./helpers/plain-draw.ts";

const parts = fc.tuple(fc.string({ unit: "binary" }), fc.string(), fc.string({ unit: "grapheme" }));

describe("a second implementation from the documentation", () => {
  it("gives the same random numbers", () => {
    fc.assert(
      fc.property(
        parts,
        fc.array(fc.integer({ min: 1, max: 2 ** 32 }), { maxLength: 50 }),
        (words, ranges) => {
          const stream = randomStream(...words);
          const plain = new PlainStream(...words);
          expect(ranges.map((n) => stream.below(n))).toEqual(ranges.map((n) => plain.below(n)));
        },
      ),
      { seed: 16, numRuns: 200 },
    );
  });

  it("draws the same animals, and leaves the stream at the same place", () => {
    const counts = fc.array(fc.oneof(fc.nat(5), fc.nat(300), fc.nat(30_000)), {
      minLength: 1,
      maxLength: 10,
    });
    fc.assert(
      fc.property(counts, fc.nat(700), fc.string(), (piles, target, id) => {
        const stream = randomStream("a/1", "1", id);
        const plain = new PlainStream("a/1", "1", id);
        for (let draw = 0; draw < 2; draw++)
          expect(drawIndividuals(piles, target, stream)).toEqual(plainDraw(piles, target, plain));
      }),
      { seed: 17, numRuns: 60 },
    );
  });

  it.each([65_535, 65_536, 65_537, 65_700])(
    "draws the same animals out of %d, where pairs begin",
    (total) => {
      const piles = [total - 40_000, 30_000, 9_990, 10];
      const stream = randomStream("a/1", "1", "S1");
      const plain = new PlainStream("a/1", "1", "S1");
      for (let draw = 0; draw < 2; draw++)
        expect(drawIndividuals(piles, 701, stream)).toEqual(plainDraw(piles, 701, plain));
    },
  );

  it("orders the grids in the same way", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 200 }), fc.string(), (grids, id) => {
        expect(gridOrder({ rows: 1, columns: grids }, randomStream("a/1", "1", id, "level-2"))).toEqual(
          plainOrder(grids, new PlainStream("a/1", "1", id, "level-2")),
        );
      }),
      { seed: 18 },
    );
  });
});
