import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { SortedSet } from "../../src/model/sorted-set.ts";

describe("a set that gives its numbers in order", () => {
  it.each([1, 2, 31, 32, 33, 1023, 1024, 1025, 32_768, 100_000, 1_100_000])(
    "holds numbers below %d",
    (limit) => {
      const set = new SortedSet(limit);
      const number = fc.oneof(
        fc.integer({ min: 0, max: limit - 1 }),
        fc.integer({ min: 0, max: Math.min(40, limit - 1) }),
        fc.constantFrom(0, limit - 1),
      );
      const to = new Int32Array(200);
      fc.assert(
        // The same set again and again: it is empty after each.
        fc.property(fc.array(number, { maxLength: 100 }), (numbers) => {
          for (const one of numbers) set.add(one);
          const expected = [...new Set(numbers)].sort((a, b) => a - b);
          expect(Array.from(to.subarray(0, set.takeAll(to)))).toEqual(expected);
          expect(set.takeAll(to)).toBe(0);
        }),
      );
    },
  );

  it("holds nothing below 0", () => {
    expect(new SortedSet(0).takeAll(new Int32Array(1))).toBe(0);
  });
});
