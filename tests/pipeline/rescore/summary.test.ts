import { describe, expect, it } from "vitest";
import { fraction } from "../../../src/model/exact.ts";
import type { ComparedSample } from "../../../src/pipeline/rescore/compare.ts";
import { ratingMove } from "../../../src/pipeline/rescore/rating-move.ts";
import { isChanged } from "../../../src/pipeline/rescore/summary.ts";
import type { SampleScore } from "../../../src/pipeline/result.ts";
import type { ReferenceSet } from "../../../src/reference/set.ts";
import { ratingClass } from "../../helpers/segments.ts";

const score = (
  rating: string,
  index: number | undefined,
  status: SampleScore["status"] = "scored",
): SampleScore => ({
  sampleId: "S",
  siteId: "",
  collectedOn: "",
  stratum: "all",
  individualsCounted: 1,
  individualsScored: 1,
  status,
  index: index === undefined ? undefined : fraction(index),
  rating,
  flags: [],
  metrics: [],
  draw: undefined,
});
const compared = (before: SampleScore, after: SampleScore): ComparedSample => ({
  sampleId: "S",
  before,
  after,
  change: undefined,
  causes: undefined,
  notAttributable: "",
  findings: [],
});
const setWith = (...names: string[]): Pick<ReferenceSet, "classes"> => ({
  classes: names.map((name) => ratingClass("[0,1)", name)),
});

describe("the move of a rating", () => {
  const five = setWith("excellent", "good", "fair", "poor", "very poor");
  it.each([
    ["good", "good", "same"],
    ["good", "excellent", "up"],
    ["good", "very poor", "down"],
    ["between good and fair", "good", "up"],
    ["between fair and good", "fair", "down"],
    ["good", "", "other"],
    ["good", "moderate", "other"],
  ])("from %j to %j is %s", (from, to, move) => {
    expect(ratingMove(compared(score(from, 1), score(to, 1)), five, five)).toBe(move);
  });

  it("cannot be told where the classes are called otherwise", () => {
    const three = setWith("good", "fair", "poor");
    expect(ratingMove(compared(score("good", 1), score("fair", 1)), five, three)).toBe("other");
  });
});

describe("a changed sample", () => {
  it.each([
    [score("good", 1), score("good", 1), false],
    [score("good", 1), score("good", 2), true],
    [score("good", 1), score("fair", 1), true],
    [score("good", 1), score("good", 1, "flagged"), true],
    [score("", undefined, "refused"), score("", undefined, "refused"), false],
    [score("", undefined), score("", 1), true],
  ])("is one with another index, rating or status (%#)", (before, after, changed) => {
    expect(isChanged(compared(before, after))).toBe(changed);
  });
});
