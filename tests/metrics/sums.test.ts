import { describe, expect, it } from "vitest";
import { exactSum, hasFractions, sumAll, sumWeighted, sumWhere } from "../../src/metrics/measures/sums.ts";
import { equalExact, exactOf } from "../../src/model/exact.ts";
import { communityOf, type SheetEntry } from "../helpers/metrics/build.ts";
import { REAL_TREE } from "../helpers/metrics/real-tree.ts";

const MASK = new Uint8Array(REAL_TREE.size).fill(1);
const TWOS = new Int32Array(REAL_TREE.size).fill(2);

function sums(sheet: readonly SheetEntry[]): number[] {
  const community = communityOf(sheet);
  return [
    sumWhere(community, MASK),
    sumAll(community),
    sumWeighted(community, TWOS, Number.POSITIVE_INFINITY) / 2,
  ];
}

describe("sums over a sample", () => {
  it("are plain numbers as long as all counts are whole", () => {
    const sheet: SheetEntry[] = [
      ["Baetis", 3],
      ["Physa", 4],
    ];
    expect(sums(sheet)).toEqual([7, 7, 7]);
    expect(sumWeighted(communityOf(sheet), TWOS, 3)).toBe(12);
  });

  it("leave the fast road at the first fraction, even where fractions add up to a whole number", () => {
    expect(
      sums([
        ["Baetis", 2.5],
        ["Physa", 1.5],
      ]),
    ).toEqual([Number.NaN, Number.NaN, Number.NaN]);
    expect(hasFractions(communityOf([["Baetis", 2.5]]))).toBe(true);
    expect(hasFractions(communityOf([["Baetis", 2]]))).toBe(false);
  });

  it("leave the fast road beyond 53 bits, and the exact road goes on", () => {
    const sheet: SheetEntry[] = [
      ["Baetis", 9_007_199_254_740_991],
      ["Physa", 2],
    ];
    expect(sums(sheet)).toEqual([Number.NaN, Number.NaN, Number.NaN]);
    const exact = exactSum(communityOf(sheet), () => 1);
    expect(equalExact(exact, { num: 9_007_199_254_740_993n, den: 1n })).toBe(true);
    expect(
      equalExact(
        exactSum(communityOf(sheet), () => 1, 5),
        exactOf(7),
      ),
    ).toBe(true);
  });
});
