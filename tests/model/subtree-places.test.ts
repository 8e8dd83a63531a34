import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { subtreePlaces } from "../../src/model/subtree-places.ts";

/** Parents of a forest: of each taxon one before it, or none. */
const forest = fc
  .array(fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }), { minLength: 1, maxLength: 40 })
  .map((shares) => Int32Array.from(shares, (share, taxon) => Math.floor(share * (taxon + 1)) - 1));

describe("places in a tree", () => {
  it("lie between place and end of a taxon exactly for those below it", () => {
    fc.assert(
      fc.property(forest, (parents) => {
        const { places, ends } = subtreePlaces(parents);
        expect([...places].sort((a, b) => a - b)).toEqual([...parents.keys()]);
        for (const group of parents.keys())
          for (const taxon of parents.keys()) {
            let above = parents[taxon] ?? -1;
            while (above >= 0 && above !== group) above = parents[above] ?? -1;
            const place = places[taxon] ?? -1;
            const isBelow = place > (places[group] ?? -1) && place < (ends[group] ?? -1);
            expect(isBelow).toBe(above === group);
          }
      }),
    );
  });

  it("are the numbers themselves where every taxon is followed by all it holds", () => {
    expect(subtreePlaces(Int32Array.of(-1, 0, 1, 1, 0, 4))).toEqual({
      places: Int32Array.of(0, 1, 2, 3, 4, 5),
      ends: Int32Array.of(6, 4, 3, 4, 6, 6),
    });
    expect(subtreePlaces(new Int32Array(0))).toEqual({ places: new Int32Array(0), ends: new Int32Array(0) });
  });
});
