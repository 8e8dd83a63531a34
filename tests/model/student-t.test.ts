import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  studentCentralProbability,
  studentQuantile,
  studentQuantileBetween,
} from "../../src/model/student-t.ts";

describe("studentQuantile", () => {
  // The usual printed table, as recalled (for instance NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2).
  it.each([
    [0.95, 1, 6.314],
    [0.95, 2, 2.92],
    [0.95, 3, 2.353],
    [0.95, 5, 2.015],
    [0.95, 10, 1.812],
    [0.95, 24, 1.711],
    [0.95, 30, 1.697],
    [0.95, 60, 1.671],
    [0.95, 100, 1.66],
    [0.975, 4, 2.776],
    [0.975, 30, 2.042],
    [0.9, 10, 1.372],
  ])("at %f with %i degrees of freedom is %f in the table", (probability, nu, table) => {
    expect(Math.abs(studentQuantile(probability, nu) - table)).toBeLessThanOrEqual(0.0005);
  });

  const probabilities = fc.double({ min: 0.5, max: 0.999, noNaN: true });

  it("has closed forms for 1, 2 and 4 degrees of freedom", () => {
    fc.assert(
      fc.property(probabilities, (p) => {
        const rest = 4 * p * (1 - p);
        expect(studentQuantile(p, 1)).toBeCloseTo(Math.tan(Math.PI * (p - 0.5)), 8);
        expect(studentQuantile(p, 2)).toBeCloseTo((2 * p - 1) * Math.sqrt(2 / rest), 8);
        const q = Math.cos(Math.acos(Math.sqrt(rest)) / 3) / Math.sqrt(rest);
        expect(studentQuantile(p, 4)).toBeCloseTo(2 * Math.sqrt(Math.max(0, q - 1)), 5);
      }),
    );
  });

  it("falls with more degrees of freedom and never below the normal 1.6448...", () => {
    const quantiles = Array.from({ length: 200 }, (_, at) => studentQuantile(0.95, at + 1));
    for (let at = 1; at < quantiles.length; at++) expect(quantiles[at]).toBeLessThan(quantiles[at - 1] ?? 0);
    expect(studentQuantile(0.95, 1e9)).toBeCloseTo(1.644854, 4);
    expect(studentQuantile(0.95, 1e9)).toBe(studentQuantile(0.95, 100_000));
  });

  it("undoes the probability", () => {
    fc.assert(
      fc.property(probabilities, fc.integer({ min: 1, max: 300 }), (p, nu) => {
        expect(studentCentralProbability(studentQuantile(p, nu), nu)).toBeCloseTo(2 * p - 1, 10);
      }),
    );
    expect(studentQuantile(0.5, 7)).toBeCloseTo(0, 10);
  });

  it("refuses what has no answer", () => {
    for (const p of [0.49, 1, 1.5, Number.NaN]) expect(() => studentQuantile(p, 5)).toThrow(RangeError);
    for (const nu of [0, 1.5, -1, Number.POSITIVE_INFINITY])
      expect(() => studentQuantile(0.95, nu)).toThrow(RangeError);
  });
});

describe("studentQuantileBetween", () => {
  it("is the same for whole degrees of freedom, by the series and by the expansion", () => {
    for (const p of [0.75, 0.9, 0.95, 0.975, 0.995])
      for (const nu of [1, 2, 3, 7, 29, 30, 31, 50, 400])
        expect(Math.abs(studentQuantileBetween(p, nu) / studentQuantile(p, nu) - 1)).toBeLessThan(2e-6);
  });

  it("lies between its whole neighbours, without a jump where the expansion begins", () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 60, noNaN: true }), (nu) => {
        const found = studentQuantileBetween(0.95, nu);
        expect(found).toBeLessThanOrEqual(studentQuantile(0.95, Math.floor(nu)) * (1 + 1e-6));
        expect(found).toBeGreaterThanOrEqual(studentQuantile(0.95, Math.ceil(nu)) * (1 - 1e-6));
      }),
    );
    // 1 / 2.4 is midway between 1 / 2 and 1 / 3.
    const middle = (studentQuantile(0.95, 2) + studentQuantile(0.95, 3)) / 2;
    expect(studentQuantileBetween(0.95, 2.4)).toBeCloseTo(middle, 10);
  });

  it("is the normal quantile for endless ones", () => {
    expect(studentQuantileBetween(0.95, Number.POSITIVE_INFINITY)).toBeCloseTo(1.6448536, 6);
  });

  it("refuses what has no answer", () => {
    expect(() => studentQuantileBetween(0.95, 0.5)).toThrow(RangeError);
    expect(() => studentQuantileBetween(0.95, Number.NaN)).toThrow(RangeError);
    expect(() => studentQuantileBetween(0.4, 3.5)).toThrow(RangeError);
  });
});
