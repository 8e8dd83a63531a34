import { describe, expect, it } from "vitest";
import { exactOf, fraction } from "../../src/model/exact.ts";
import { figureBesideLimit, figureText, missedByText } from "../../src/quality/figure-text.ts";

describe("figures for a person", () => {
  it("are rounded to two decimals", () => {
    expect(figureText(fraction(250, 3))).toBe("83.33");
    expect(figureText(fraction(90))).toBe("90");
    expect(figureText(exactOf(0.005))).toBe("0.01");
  });

  it("never look like the limit they miss", () => {
    expect(figureBesideLimit(exactOf(89.99991), fraction(90))).toBe("89.9999");
    expect(figureBesideLimit(exactOf(89.5), fraction(90))).toBe("89.5");
    expect(figureBesideLimit(fraction(90), fraction(90))).toBe("90");
    expect(figureBesideLimit(exactOf(89.9999999999999), fraction(90))).toBe("90");
    expect(missedByText(exactOf(0.0004))).toBe("0.0004");
    expect(missedByText(fraction(20, 3))).toBe("6.67");
  });
});
