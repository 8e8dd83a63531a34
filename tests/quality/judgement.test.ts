import { describe, expect, it } from "vitest";
import { exactOf, fraction } from "../../src/model/exact.ts";
import { combineOutcomes, judge } from "../../src/quality/judgement.ts";

describe("judge", () => {
  const atLeast = { side: "at-least", at: fraction(90) } as const;
  const atMost = { side: "at-most", at: fraction(15) } as const;

  it("lets the limit itself pass on both sides", () => {
    expect(judge(fraction(90), atLeast)).toEqual({ outcome: "pass" });
    expect(judge(fraction(15), atMost)).toEqual({ outcome: "pass" });
  });

  it("says by how much a limit is missed", () => {
    expect(judge(exactOf(89.5), atLeast)).toEqual({ outcome: "fail", missedBy: { num: 1, den: 2 } });
    expect(judge(exactOf(15.25), atMost)).toEqual({ outcome: "fail", missedBy: { num: 1, den: 4 } });
  });

  it("decides on exact numbers: 899,999,999,999 of 10^12 is not 90 percent", () => {
    const nearly = { num: 899_999_999_999, den: 10_000_000_000 };
    expect(judge(nearly, atLeast).outcome).toBe("fail");
  });

  it("has no opinion on what cannot be computed, and passes everything when nobody set a limit", () => {
    expect(judge(undefined, atLeast)).toEqual({ outcome: "not-computable" });
    expect(judge(fraction(1), undefined)).toEqual({ outcome: "pass" });
  });
});

describe("combineOutcomes", () => {
  it("lets the gravest decide", () => {
    expect(combineOutcomes(["pass", "fail", "undecided"])).toBe("fail");
    expect(combineOutcomes(["pass", "undecided", "not-computable"])).toBe("undecided");
    expect(combineOutcomes(["not-computable", "pass"])).toBe("pass");
    expect(combineOutcomes(["not-computable"])).toBe("not-computable");
    expect(combineOutcomes([])).toBe("not-computable");
  });
});
