import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareExact, fraction, toNumber } from "../../src/model/exact.ts";
import type { ScoringRule } from "../../src/scoring/segment-score.ts";
import { scoreValue, sortSegments } from "../../src/scoring/segment-score.ts";
import { decimal, segment } from "../helpers/segments.ts";

const scoreOf = (value: string, rule: ScoringRule, covariate?: string) => {
  const outcome = scoreValue(decimal(value), rule, covariate === undefined ? undefined : decimal(covariate));
  return outcome.kind === "scored" ? [toNumber(outcome.score), outcome.how] : outcome.why;
};

describe("steps", () => {
  // Genus-level criteria for total taxa and percent tolerant, University of Washington scoring page (after Karr and
  // Chu 1999), http://www.cbr.washington.edu/salmonweb/bibi/ibi_genus_scoring.html : seen.
  const totalTaxa: ScoringRule = {
    segments: [segment("[0,14)", "1"), segment("[14,28]", "3"), segment("(28,", "5")],
    clip: false,
  };
  const percentTolerant: ScoringRule = {
    segments: [segment("[0,27)", "5"), segment("[27,44]", "3"), segment("(44,100]", "1")],
    clip: false,
  };

  it.each([
    ["13", 1],
    ["13.999999", 1],
    ["14", 3],
    ["28", 3],
    ["28.000001", 5],
    ["29", 5],
  ])("total taxa %s scores %i", (value, score) => {
    expect(scoreOf(value, totalTaxa)).toEqual([score, "inside"]);
  });

  it.each([
    ["26.9", 5],
    ["27", 3],
    ["44", 3],
    ["44.1", 1],
  ])("percent tolerant %s scores %i", (value, score) => {
    expect(scoreOf(value, percentTolerant)).toEqual([score, "inside"]);
  });
});

describe("gaps as published", () => {
  // Dominance of the three commonest taxa in the same table: [0,55) 5, [55,75) 3, above 75 1; exactly 75 has no class.
  const segments = [segment("[0,55)", "5"), segment("[55,75)", "3"), segment("(75,100]", "1")];

  it.each([
    [undefined, "gap"],
    ["below" as const, [3, "gap"]],
    ["above" as const, [1, "gap"]],
    ["middle" as const, [3, "gap"]],
  ])("rule %s", (gapRule, expected) => {
    expect(scoreOf("75", { segments, clip: true, ...(gapRule === undefined ? {} : { gapRule }) })).toEqual(
      expected,
    );
  });
});

describe("the middle rule for gaps", () => {
  const inGap = (below: readonly [string, string], above: readonly [string, string]) =>
    scoreOf("10", {
      segments: [segment("[0,10)", ...below), segment("(10,20]", ...above)],
      clip: false,
      gapRule: "middle",
    });

  it("takes the neighbour whose score is nearer to the middle of all scores", () => {
    // Scores go from 0 to 10, so the middle is 5: 4 is nearer than 7, 6 is nearer than 3.
    expect(inGap(["0", "4"], ["7", "10"])).toEqual([4, "gap"]);
    expect(inGap(["0", "3"], ["6", "10"])).toEqual([6, "gap"]);
    expect(inGap(["10", "7"], ["4", "0"])).toEqual([4, "gap"]);
    expect(inGap(["10", "6"], ["3", "0"])).toEqual([6, "gap"]);
  });

  it("takes the lower neighbour where both are as near", () => {
    expect(inGap(["1", "1"], ["5", "5"])).toEqual([1, "gap"]);
    expect(inGap(["5", "5"], ["1", "1"])).toEqual([5, "gap"]);
  });
});

describe("values that no segment holds", () => {
  const beyond = (value: string, ...segments: readonly string[]) =>
    scoreOf(value, {
      segments: sortSegments(segments.map((interval, at) => segment(interval, String(at + 1)))),
      clip: true,
    });

  it("are clipped to the segment that reaches furthest", () => {
    expect(beyond("60", "[0,50]", "[10,20]")).toEqual([1, "clipped"]);
    expect(beyond("60", "[0,20]", "[10,50]")).toEqual([2, "clipped"]);
    // Both end at 20: the first decides, as it does inside.
    expect(beyond("60", "[0,20]", "[10,20]")).toEqual([1, "clipped"]);
    expect(beyond("-1", "[0,20]", "[10,50]")).toEqual([1, "clipped"]);
  });

  it("are told apart: a gap of the table and what lies beyond its ends", () => {
    const rule = { segments: [segment("[0,5)", "1"), segment("(5,9]", "2")], clip: false };
    expect(scoreValue(decimal("5"), rule)).toEqual({ kind: "unscored", why: "gap" });
    expect(scoreValue(decimal("10"), rule)).toEqual({ kind: "unscored", why: "beyond" });
    expect(scoreValue(decimal("10"), { segments: [], clip: true })).toEqual({
      kind: "unscored",
      why: "beyond",
    });
  });
});

describe("a line that goes nowhere", () => {
  it.each<[string, string]>([
    ["has no length", "[5,5]"],
    ["is open below", "(,5]"],
    ["is open above", "[5,"],
    ["is open on both sides", "(,"],
  ])("keeps the score of its lower end when it %s", (_, interval) => {
    expect(scoreOf("5", { segments: [segment(interval, "2", "8")], clip: false })).toEqual([2, "inside"]);
  });
});

describe("lines, curves and middle-is-best", () => {
  const line: ScoringRule = { segments: [segment("[6,30]", "0", "100")], clip: true };

  // Floor and ceiling 6 and 30: Blocksom 2003, Environ. Manage. 31:670-682 (form recalled from memory).
  it.each([
    ["4", [0, "clipped"]],
    ["6", [0, "inside"]],
    ["18", [50, "inside"]],
    ["30", [100, "inside"]],
    ["33", [100, "clipped"]],
  ])("a line scores %s", (value, expected) => {
    expect(scoreOf(value, line)).toEqual(expected);
  });

  it("gives nothing beyond the ends when the set does not clip", () => {
    expect(scoreOf("33", { ...line, clip: false })).toBe("beyond");
    expect(scoreOf("5.99", { ...line, clip: false })).toBe("beyond");
  });

  it("falls for a metric that rises with stress: 100 (100 - 56) / (100 - 12) = 50", () => {
    // 100 (100 - B)/(100 - A) with A = 12, B = 56: Florida DEP assessment report, Middle St. Johns, p. 251 (seen).
    const falling: ScoringRule = { segments: [segment("[12,100]", "100", "0")], clip: true };
    expect(scoreOf("56", falling)).toEqual([50, "inside"]);
    expect(scoreOf("5", falling)).toEqual([100, "clipped"]);
  });

  it("joins lines to a curve", () => {
    const curve: ScoringRule = {
      segments: [
        segment("[0,10]", "0", "2.5"),
        segment("(10,18]", "2.5", "5"),
        segment("(18,26]", "5", "7.5"),
      ],
      clip: true,
    };
    // Half way from 10 to 18 is 14: 2.5 + 2.5 / 2 = 3.75
    expect(scoreOf("14", curve)).toEqual([3.75, "inside"]);
    expect(scoreOf("18", curve)).toEqual([5, "inside"]);
  });

  it("scores a middle range best", () => {
    // Percent Chironomidae of a published 4-3-2-1 index, from memory: 0.79-4.10 / 4.11-9.48 / 9.49-16.19 / outside.
    const middle: ScoringRule = {
      segments: [
        segment("[0,0.79)", "1"),
        segment("[0.79,4.1]", "4"),
        segment("(4.1,9.48]", "3"),
        segment("(9.48,16.19]", "2"),
        segment("(16.19,100]", "1"),
      ],
      clip: false,
    };
    expect(
      ["0", "0.78", "0.79", "4.1", "4.11", "9.48", "16.19", "16.2"].map((v) => scoreOf(v, middle)[0]),
    ).toEqual([1, 1, 4, 4, 3, 3, 2, 1]);
  });
});

describe("limits moved by a covariate", () => {
  it("raises a ceiling with the covariate", () => {
    // Ceiling 10 + 5 x covariate; at covariate 2 it is 20, so 10 is half way: score 50.
    const moving: ScoringRule = {
      segments: [
        segment("[0,", "0", "100", {
          upper: { at: decimal("10"), included: true, slope: decimal("5") },
        }),
      ],
      clip: true,
    };
    expect(scoreOf("10", moving, "2")).toEqual([50, "inside"]);
    expect(scoreOf("10", moving, "0")).toEqual([100, "inside"]);
    expect(scoreOf("25", moving, "2")).toEqual([100, "clipped"]);
  });
});

describe("every rule", () => {
  it("is monotone where its segments are, and exact at the limits", () => {
    const rule: ScoringRule = {
      segments: sortSegments([segment("(20,40]", "5", "10"), segment("[0,20]", "0", "5")]),
      clip: true,
    };
    const value = fc.tuple(fc.integer({ min: -50, max: 100_000 }), fc.integer({ min: 1, max: 2000 }));
    fc.assert(
      fc.property(value, value, ([an, ad], [bn, bd]) => {
        const [a, b] = [fraction(an, ad), fraction(bn, bd)];
        const [x, y] = [scoreValue(a, rule), scoreValue(b, rule)];
        if (x.kind !== "scored" || y.kind !== "scored") throw new Error("every value is scored when clipped");
        const order = compareExact(a, b);
        if (order < 0) expect(compareExact(x.score, y.score)).toBeLessThanOrEqual(0);
        if (order === 0) expect(compareExact(x.score, y.score)).toBe(0);
      }),
    );
  });

  it("leaves a value unscored when it has no segments", () => {
    expect(scoreOf("1", { segments: [], clip: true })).toBe("beyond");
  });
});
