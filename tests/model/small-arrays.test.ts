import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { smallFloat64Array, smallInt32Array } from "../../src/model/small-arrays.ts";

describe("small arrays cut from larger memory", () => {
  it.each([
    ["Int32Array", smallInt32Array],
    ["Float64Array", smallFloat64Array],
  ])("are zeros, and what is written into one %s shows in no other", (name, cut) => {
    const lengths = fc.array(fc.oneof(fc.nat({ max: 60 }), fc.constantFrom(8192, 16384, 20_000)), {
      maxLength: 40,
    });
    fc.assert(
      fc.property(lengths, (wanted) => {
        const arrays = wanted.map((length) => cut(length));
        expect(arrays.map(({ length }) => length)).toEqual(wanted);
        for (const array of arrays) {
          expect(array.constructor.name).toBe(name);
          expect(array.every((number) => number === 0)).toBe(true);
        }
        arrays.forEach((array, at) => {
          array.fill(at + 1);
        });
        arrays.forEach((array, at) => {
          expect(array.every((number) => number === at + 1)).toBe(true);
        });
      }),
      { numRuns: 50 },
    );
  });

  it("share their memory, which is what makes them cheap", () => {
    // One of three that follow each other may stand at the start of a new block, two cannot.
    const [first, second, third] = [smallFloat64Array(4), smallFloat64Array(4), smallFloat64Array(4)];
    expect(second?.buffer === first?.buffer || second?.buffer === third?.buffer).toBe(true);
  });
});
