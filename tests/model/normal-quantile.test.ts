import { describe, expect, it } from "vitest";
import { normalQuantile } from "../../src/model/normal-quantile.ts";

describe("quantiles", () => {
  it("of the normal distribution are those of printed tables", () => {
    // Abramowitz & Stegun 1964, table 26.5 and common knowledge of statistics; to the digits of the approximation.
    expect(normalQuantile(0.5)).toBeCloseTo(0, 8);
    expect(normalQuantile(0.9)).toBeCloseTo(1.2815515655, 7);
    expect(normalQuantile(0.95)).toBeCloseTo(1.644853627, 7);
    expect(normalQuantile(0.975)).toBeCloseTo(1.9599639845, 7);
    expect(normalQuantile(0.995)).toBeCloseTo(2.5758293035, 7);
    expect(normalQuantile(0.01)).toBeCloseTo(-2.326347874, 7);
  });
});
