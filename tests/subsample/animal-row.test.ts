import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { AnimalRow } from "../../src/subsample/animal-row.ts";

/** The same one by one, written from what a row is. */
const plain = (counts: readonly number[]) =>
  counts.flatMap((count, pile) => new Array<number>(count).fill(pile));
const laidOut = (counts: readonly number[]) => {
  const animals = counts.reduce((sum, count) => sum + count, 0);
  const row = new AnimalRow(counts.length, animals);
  expect(row.length).toBe(animals);
  row.layOut(counts);
  return [...row.piles.subarray(0, animals)];
};

describe("a row of animals", () => {
  it("holds the number of each animal's pile, pile after pile", () => {
    const counts = fc.array(fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 40 })), { maxLength: 300 });
    fc.assert(
      fc.property(counts, (given) => {
        expect(laidOut(given)).toEqual(plain(given));
      }),
    );
  });

  it.each([255, 256, 257, 65_535, 65_536, 65_537])("tells %d piles apart", (piles) => {
    const counts = new Array<number>(piles).fill(1);
    expect(laidOut(counts)).toEqual(plain(counts));
  });

  it("is laid out anew over what stood in it", () => {
    const row = new AnimalRow(3, 30);
    row.layOut([10, 10, 10]);
    row.layOut([1, 0, 9]);
    expect([...row.piles.subarray(0, 10)]).toEqual(plain([1, 0, 9]));
  });

  it.each([3, 300])("takes no more memory than an animal needs among %d piles", (piles) => {
    expect(new AnimalRow(piles, 1000).piles.BYTES_PER_ELEMENT).toBe(piles > 256 ? 2 : 1);
  });
});
