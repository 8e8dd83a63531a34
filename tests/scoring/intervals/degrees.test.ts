import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  degreesOfDependentSum,
  degreesOfSum,
  varianceShares,
} from "../../../src/scoring/intervals/degrees.ts";

describe("degrees of freedom of a sum of variances", () => {
  it("are those of Welch for two samples, by hand", () => {
    // (4 + 1)^2 / (4^2 / 3 + 1^2 / 10)
    const parts = [
      { variance: 4, degrees: 3 },
      { variance: 1, degrees: 10 },
    ];
    expect(degreesOfSum(parts)).toBeCloseTo(25 / (16 / 3 + 0.1), 12);
    // (5 / (4 / sqrt 3 + 1 / sqrt 10))^2
    expect(degreesOfDependentSum(parts)).toBeCloseTo((5 / (4 / Math.sqrt(3) + 1 / Math.sqrt(10))) ** 2, 12);
  });

  it("are endless where all is known", () => {
    const known = [{ variance: 4, degrees: Number.POSITIVE_INFINITY }];
    for (const parts of [known, [], [{ variance: 0, degrees: 3 }]]) {
      expect(degreesOfSum(parts)).toBe(Number.POSITIVE_INFINITY);
      expect(degreesOfDependentSum(parts)).toBe(Number.POSITIVE_INFINITY);
    }
  });

  it("are fewer for variances that err together, and no fewer than the least of theirs", () => {
    const part = fc.record({
      variance: fc.double({ min: 0.01, max: 100, noNaN: true }),
      degrees: fc.double({ min: 1, max: 100, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 6 }), (parts) => {
        const least = Math.min(...parts.map(({ degrees }) => degrees));
        expect(degreesOfDependentSum(parts)).toBeLessThanOrEqual(degreesOfSum(parts) * (1 + 1e-9));
        expect(degreesOfDependentSum(parts)).toBeGreaterThanOrEqual(least * (1 - 1e-9));
      }),
    );
  });
});

describe("sharing out the variance of an index", () => {
  // Two columns that have nothing to do with each other, and one that goes along with the first.
  const a = Float64Array.from({ length: 40 }, (_, i) => [1, 1, -1, -1][i % 4] as number);
  const b = Float64Array.from({ length: 40 }, (_, i) => [1, -1, 1, -1][i % 4] as number);
  const along = Float64Array.from({ length: 40 }, (_, i) => (a[i] as number) + (i < 20 ? 0.5 : -0.5));
  const index = Float64Array.from({ length: 40 }, (_, i) => 50 + 2 * (a[i] as number) + (b[i] as number));

  it("gives each metric what it contributes, by hand", () => {
    // Variances 4 and 1 of 5.
    const shares = varianceShares([a, b], index);
    expect(shares[0]).toBeCloseTo(0.8, 12);
    expect(shares[1]).toBeCloseTo(0.2, 12);
  });

  it("gives nothing to a metric that only goes along with another, whatever their order", () => {
    for (const columns of [
      [along, a, b],
      [a, b, along],
    ]) {
      const shares = varianceShares(columns, index);
      expect(shares[columns.indexOf(along)]).toBeCloseTo(0, 12);
      expect(shares[columns.indexOf(a)]).toBeCloseTo(0.8, 12);
    }
  });

  it("leaves out what is the same as another, does not vary or is missing somewhere", () => {
    const twice = a.map((value) => 3 * value);
    const level = new Float64Array(40).fill(7);
    const gap = b.slice().fill(Number.NaN, 3, 4);
    const shares = [...varianceShares([a, twice, level, gap, b], index)];
    expect(shares.map((share) => Math.round(share * 1000) / 1000)).toEqual([0.8, 0, 0, 0, 0.2]);
  });

  it("shares nothing out where the index is level or nothing explains it", () => {
    expect([...varianceShares([a, b], new Float64Array(40).fill(3))]).toEqual([0, 0]);
    expect([...varianceShares([new Float64Array(40)], index)]).toEqual([0]);
    expect([...varianceShares([new Float64Array(0)], new Float64Array(0))]).toEqual([0]);
  });

  it("shares nothing out where an index is missing somewhere, or level but for rounding", () => {
    expect([...varianceShares([a, b], index.slice().fill(Number.NaN, 3, 4))]).toEqual([0, 0]);
    // The mean of forty times 0.1 is not quite 0.1.
    const steps = Float64Array.from({ length: 40 }, (_, i) => i / 10);
    expect([...varianceShares([steps], new Float64Array(40).fill(0.1))]).toEqual([0]);
  });

  it("is the same in any unit", () => {
    for (const unit of [1e-6, 1e6]) {
      const shares = varianceShares(
        [a, a, b].map((column) => column.map((value) => unit * value)),
        index,
      );
      expect([...shares].map((share) => Math.round(share * 1000) / 1000)).toEqual([0.8, 0, 0.2]);
    }
  });

  it("counts a metric that lowers the index as much as one that lifts it", () => {
    const shares = varianceShares([a.map((value) => -value), b], index);
    expect(shares[0]).toBeCloseTo(0.8, 12);
  });

  it("looks at the first 250 values", () => {
    const long = (column: Float64Array) =>
      Float64Array.from({ length: 400 }, (_, i) => column[i % 40] as number);
    const spoiled = long(index).fill(9, 250);
    expect([...varianceShares([long(a), long(b)], spoiled)]).toEqual([
      ...varianceShares([long(a), long(b)], long(index)),
    ]);
  });
});
