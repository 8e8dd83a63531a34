import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { equalExact, toNumber } from "../../src/model/exact.ts";
import { brayCurtisSimilarity, percentSimilarity } from "../../src/quality/sheet-similarity.ts";

const sheets = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 8 }), fc.integer({ min: 1, max: 1e9 })), { maxLength: 8 })
  .map((entries) => new Map(entries));

describe("similarity of two sheets", () => {
  it("is worked by hand: shared 2 + 1 of 4 and 6", () => {
    const a = new Map([
      [1, 3],
      [2, 1],
    ]);
    const b = new Map([
      [1, 2],
      [2, 2],
      [3, 2],
    ]);
    // Bray-Curtis 200 x (2 + 1) / (4 + 6) = 60
    expect(brayCurtisSimilarity(a, b)).toEqual({ num: 60, den: 1 });
    // Shares 3/4, 1/4 and 1/3, 1/3, 1/3: 1/3 + 1/4 = 7/12 = 58.33 percent
    expect(percentSimilarity(a, b)).toEqual({ num: 175, den: 3 });
  });

  it("is 100 with itself, symmetric, and 0 without a shared name", () => {
    fc.assert(
      fc.property(sheets, sheets, (a, b) => {
        fc.pre(a.size > 0 && b.size > 0);
        for (const similarity of [brayCurtisSimilarity, percentSimilarity]) {
          expect(similarity(a, a)).toEqual({ num: 100, den: 1 });
          const there = similarity(a, b);
          const back = similarity(b, a);
          if (there === undefined || back === undefined) throw new Error("both sheets have animals");
          expect(equalExact(there, back)).toBe(true);
          expect(toNumber(there)).toBeGreaterThanOrEqual(0);
          expect(toNumber(there)).toBeLessThanOrEqual(100);
          const isDisjoint = [...a.keys()].every((taxon) => !b.has(taxon));
          expect(toNumber(there) === 0).toBe(isDisjoint);
        }
      }),
    );
  });

  it("tells totals apart by Bray-Curtis and not by percent similarity", () => {
    const one = new Map([[1, 10]]);
    const two = new Map([[1, 30]]);
    expect(brayCurtisSimilarity(one, two)).toEqual({ num: 50, den: 1 });
    expect(percentSimilarity(one, two)).toEqual({ num: 100, den: 1 });
  });

  it("is not computable without animals", () => {
    const empty = new Map<number, number>();
    expect(brayCurtisSimilarity(empty, empty)).toBeUndefined();
    expect(brayCurtisSimilarity(empty, new Map([[1, 1]]))).toEqual({ num: 0, den: 1 });
    expect(percentSimilarity(empty, new Map([[1, 1]]))).toBeUndefined();
    expect(percentSimilarity(new Map([[1, 1]]), empty)).toBeUndefined();
    expect(percentSimilarity(empty, empty)).toBeUndefined();
  });
});
