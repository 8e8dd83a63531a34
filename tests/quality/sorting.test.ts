import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareExact, exactOf, fraction, ONE, toNumber } from "../../src/model/exact.ts";
import type { SortingRule } from "../../src/quality/sorting.ts";
import { EFFICIENCY_RULE, MISSED_RULE, sortingFigure } from "../../src/quality/sorting.ts";

function check(sorted: number, recovered: number, fractionChecked = ONE) {
  return { sampleId: "S", sorted, recovered, fractionChecked };
}

describe("sortingFigure by efficiency", () => {
  it("passes 90 itself and fails the next animal", () => {
    expect(sortingFigure(check(180, 20), EFFICIENCY_RULE)).toMatchObject({
      efficiency: { num: 90, den: 1 },
      outcome: "pass",
    });
    const failed = sortingFigure(check(180, 21), EFFICIENCY_RULE);
    expect(failed.outcome).toBe("fail");
    // 90 - 100 x 180 / 201 = 90 - 89.5522... = 30 / 67
    expect(failed.missedBy).toEqual({ num: 30, den: 67 });
  });

  it("takes another limit, which passes too", () => {
    const rule: SortingRule = { kind: "efficiency", limitPercent: fraction(95) };
    expect(sortingFigure(check(190, 10), rule).outcome).toBe("pass");
    expect(sortingFigure(check(189, 10), rule).outcome).toBe("fail");
  });

  it("expands what a partly checked residue gave, exactly at the limit as well", () => {
    // 5 animals in a quarter stand for 20: 180 / 200 is 90 percent.
    const figure = sortingFigure(check(180, 5, fraction(1, 4)), EFFICIENCY_RULE);
    expect(figure).toMatchObject({
      missed: { num: 20, den: 1 },
      isEstimate: true,
      efficiency: { num: 90, den: 1 },
      outcome: "pass",
    });
    // 6 animals in three tenths stand for exactly 20.
    expect(sortingFigure(check(180, 6, exactOf(0.3)), EFFICIENCY_RULE).outcome).toBe("pass");
  });

  it("gives a sample of nothing no figure, and a sample in which only the checker found something zero", () => {
    expect(sortingFigure(check(0, 0), EFFICIENCY_RULE)).toMatchObject({
      efficiency: undefined,
      outcome: "not-computable",
    });
    expect(sortingFigure(check(0, 4), EFFICIENCY_RULE)).toMatchObject({
      efficiency: { num: 0, den: 1 },
      outcome: "fail",
      missedBy: { num: 90, den: 1 },
    });
  });

  it("refuses what no check can be", () => {
    expect(() => sortingFigure(check(-1, 0), EFFICIENCY_RULE)).toThrow(RangeError);
    expect(() => sortingFigure(check(10, 0.5), EFFICIENCY_RULE)).toThrow(RangeError);
    expect(() => sortingFigure(check(10, 1, fraction(0)), EFFICIENCY_RULE)).toThrow(RangeError);
    expect(() => sortingFigure(check(10, 1, fraction(5, 4)), EFFICIENCY_RULE)).toThrow(RangeError);
    expect(() => sortingFigure(check(10, 1, fraction(-1, 4)), EFFICIENCY_RULE)).toThrow(RangeError);
    expect(() => sortingFigure(check(10, 0, fraction(0)), MISSED_RULE)).toThrow(/share of the residue/);
  });
});

// Chapter 7 of Barbour et al. 1999 (EPA 841-B-99-002): fewer than 10 missed pass (10 percent in larger
// subsamples), more than 10 fail, exactly 10 is not said.
describe("sortingFigure by animals missed", () => {
  it("passes 9, fails 11 and leaves 10 open in a subsample of 100", () => {
    expect(sortingFigure(check(100, 9), MISSED_RULE).outcome).toBe("pass");
    expect(sortingFigure(check(100, 9), MISSED_RULE).missedBy).toBeUndefined();
    expect(sortingFigure(check(100, 10), MISSED_RULE)).toMatchObject({
      outcome: "undecided",
      missedBy: { num: 0, den: 1 },
    });
    expect(sortingFigure(check(100, 11), MISSED_RULE)).toMatchObject({
      outcome: "fail",
      missedBy: { num: 1, den: 1 },
    });
  });

  it("lets the laboratory decide the open case", () => {
    const asPass: SortingRule = { ...MISSED_RULE, atLimit: "pass" };
    const asFail: SortingRule = { ...MISSED_RULE, atLimit: "fail" };
    expect(sortingFigure(check(100, 10), asPass).outcome).toBe("pass");
    expect(sortingFigure(check(100, 10), asFail).outcome).toBe("fail");
  });

  it("takes 10 percent of the sorted animals in larger subsamples, and 10 animals in smaller ones", () => {
    expect(sortingFigure(check(205, 20), MISSED_RULE)).toMatchObject({
      outcome: "pass",
      limit: { num: 41, den: 2 },
    });
    expect(sortingFigure(check(200, 20), MISSED_RULE).outcome).toBe("undecided");
    expect(sortingFigure(check(200, 21), MISSED_RULE).outcome).toBe("fail");
    expect(sortingFigure(check(40, 9), MISSED_RULE)).toMatchObject({
      outcome: "pass",
      limit: { num: 10, den: 1 },
    });
  });

  it("expands a partly checked residue before it counts", () => {
    expect(sortingFigure(check(100, 3, fraction(1, 4)), MISSED_RULE)).toMatchObject({
      missed: { num: 12, den: 1 },
      outcome: "fail",
    });
  });

  it("gives a sample of nothing no outcome, but counts what was missed where nothing was sorted", () => {
    expect(sortingFigure(check(0, 0), MISSED_RULE).outcome).toBe("not-computable");
    expect(sortingFigure(check(0, 4), MISSED_RULE).outcome).toBe("pass");
  });
});

describe("sorting efficiency in general", () => {
  const counts = fc.record({
    sorted: fc.integer({ min: 0, max: 2000 }),
    recovered: fc.integer({ min: 0, max: 2000 }),
    part: fc.integer({ min: 1, max: 100 }),
  });

  it("lies between 0 and 100, falls with what is recovered, and with a smaller part checked", () => {
    fc.assert(
      fc.property(counts, ({ sorted, recovered, part }) => {
        fc.pre(sorted + recovered > 0);
        const share = fraction(part, 100);
        const own =
          sortingFigure(check(sorted, recovered, share), EFFICIENCY_RULE).efficiency ?? fraction(-1);
        const more = sortingFigure(check(sorted, recovered + 1, share), EFFICIENCY_RULE).efficiency ?? ONE;
        const whole = sortingFigure(check(sorted, recovered), EFFICIENCY_RULE).efficiency ?? ONE;
        return (
          toNumber(own) >= 0 &&
          toNumber(own) <= 100 &&
          compareExact(more, own) <= 0 &&
          compareExact(own, whole) <= 0
        );
      }),
    );
  });

  it("passes at 90 percent exactly when 9 x missed is at most sorted", () => {
    fc.assert(
      fc.property(counts, ({ sorted, recovered, part }) => {
        fc.pre(sorted + recovered > 0);
        const { outcome } = sortingFigure(check(sorted, recovered, fraction(part, 100)), EFFICIENCY_RULE);
        return (outcome === "pass") === 900 * recovered <= sorted * part;
      }),
    );
  });
});
