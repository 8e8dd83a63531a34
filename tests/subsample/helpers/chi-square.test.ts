import { expect, it } from "vitest";
import { chiSquareTail, deviationByChance } from "./chi-square.ts";

/** Printed critical values of the chi-square distribution, Abramowitz & Stegun 1964, table 26.8 (from memory). */
it.each([
  [3.84146, 1, 0.05],
  [5.99146, 2, 0.05],
  [18.307, 10, 0.05],
  [23.209, 10, 0.01],
  [50.892, 30, 0.01],
  [124.342, 100, 0.05],
])("gives the tail beyond %d with %d degrees of freedom", (value, degrees, tail) => {
  expect(chiSquareTail(value, degrees)).toBeCloseTo(tail, 5);
});

it("compares counts with expectations cell by cell", () => {
  // (8 - 10)^2 / 10 + (12 - 10)^2 / 10 = 0.8 with 1 degree of freedom: 0.3711 (printed tables: 0.37).
  expect(deviationByChance([8, 12], [10, 10])).toBeCloseTo(0.3711, 4);
  expect(deviationByChance([10, 10], [10, 10])).toBe(1);
});
