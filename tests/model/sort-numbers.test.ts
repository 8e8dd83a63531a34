import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { sortNumbers } from "../../src/model/sort-numbers.ts";

describe("sorting whole numbers", () => {
  it("gives the order of a comparing sort, for short lists and long ones", () => {
    const list = fc.array(fc.integer({ min: 0, max: 4_000_000_000 }), { maxLength: 200 });
    fc.assert(
      fc.property(list, (numbers) => {
        const sorted = [...numbers];
        sortNumbers(sorted);
        expect(sorted).toEqual(numbers.toSorted((a, b) => a - b));
      }),
    );
  });
});
