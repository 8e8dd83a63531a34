import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { sortNumbers } from "../../src/model/sort-numbers.ts";

describe("sorting whole numbers", () => {
  it("gives the order of a comparing sort, for short lists and long ones", () => {
    const list = fc.array(fc.integer({ min: 0, max: 4_000_000_000 }), { maxLength: 200, size: "max" });
    fc.assert(
      fc.property(list, (numbers) => {
        const sorted = [...numbers];
        sortNumbers(sorted);
        expect(sorted).toEqual(numbers.toSorted((a, b) => a - b));
      }),
    );
  });

  it.each([0, 1, 2, 79, 80, 81, 200])(
    "sorts %i numbers by what they are worth, not by how they read",
    (length) => {
      const ascending = Array.from({ length }, (_, i) => 9 * i);
      const mixed = ascending.map((_, i) => ascending[(i * 7 + 3) % length] ?? 0);
      for (const numbers of [ascending.toReversed(), mixed, [...ascending]]) {
        const expected = numbers.toSorted((a, b) => a - b);
        sortNumbers(numbers);
        expect(numbers).toEqual(expected);
      }
    },
  );
});
