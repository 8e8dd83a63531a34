import { describe, expect, it } from "vitest";
import { toNumber } from "../../src/model/exact.ts";
import { compareSpans, contains, isAboveLower, isBelowUpper, limitAt } from "../../src/scoring/limits.ts";
import { decimal, segment } from "../helpers/segments.ts";

const span = (interval: string) => segment(interval, "1");

describe("where a limit lies", () => {
  const sloped = { at: decimal("10"), included: true, slope: decimal("5") };

  it("is its number, moved along its slope by the covariate", () => {
    expect(toNumber(limitAt({ at: decimal("10"), included: true }, decimal("2")))).toBe(10);
    expect(toNumber(limitAt(sloped, decimal("2")))).toBe(20);
  });

  it("is its number where there is no covariate", () => {
    expect(toNumber(limitAt(sloped, undefined))).toBe(10);
  });
});

describe("what a span holds", () => {
  it.each<[string, string, boolean, boolean]>([
    ["[2,5]", "1", false, true],
    ["[2,5]", "2", true, true],
    ["(2,5]", "2", false, true],
    ["[2,5]", "5", true, true],
    ["[2,5)", "5", true, false],
    ["[2,5]", "6", true, false],
    ["(,5]", "-1000000", true, true],
    ["[2,", "1000000", true, true],
    ["(,", "0", true, true],
  ])("%s and %s", (interval, value, above, below) => {
    expect(isAboveLower(decimal(value), span(interval))).toBe(above);
    expect(isBelowUpper(decimal(value), span(interval))).toBe(below);
    expect(contains(span(interval), decimal(value))).toBe(above && below);
  });
});

describe("the order of spans", () => {
  it.each<[string, string]>([
    ["[0,5]", "[1,2]"],
    ["(,5]", "[0,1]"],
    // On the same lower limit the one that holds it comes first.
    ["[0,5]", "(0,1]"],
    // On the very same lower limit the one that ends earlier comes first.
    ["[0,5]", "[0,8]"],
    ["(0,5]", "(0,8]"],
    ["[0,5]", "[0,"],
  ])("%s comes before %s", (first, second) => {
    expect(Math.sign(compareSpans(span(first), span(second)))).toBe(-1);
    expect(Math.sign(compareSpans(span(second), span(first)))).toBe(1);
  });

  it.each<[string, string]>([
    ["[0,5]", "[0,5]"],
    ["[0,", "[0,"],
    ["(,5]", "(,8]"],
  ])("%s and %s keep the order in which they came", (first, second) => {
    expect(compareSpans(span(first), span(second))).toBe(0);
    expect(compareSpans(span(second), span(first))).toBe(0);
  });
});
