import { describe, expect, it } from "vitest";
import { fraction } from "../../../src/model/exact.ts";
import type { ComparedSample } from "../../../src/pipeline/rescore/compare.ts";
import { ratingMove } from "../../../src/pipeline/rescore/rating-move.ts";
import { isChanged, Summariser, summaryLines } from "../../../src/pipeline/rescore/summary.ts";
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

describe("the summary of a re-score", () => {
  const set = setWith("good", "fair", "poor");
  const linesOf = (samples: readonly ComparedSample[], after: typeof set = set) => {
    const summariser = new Summariser();
    for (const sample of samples) summariser.add(sample, set, after);
    return summaryLines(summariser.summary);
  };
  const attributed = (
    sampleId: string,
    before: SampleScore,
    after: SampleScore,
    change: number,
  ): ComparedSample => ({
    ...compared(before, after),
    sampleId,
    change: fraction(change),
    causes: {
      counts: fraction(0),
      names: fraction(0),
      attributes: fraction(change),
      metrics: fraction(0),
      rules: fraction(0),
    },
  });

  it("counts moves, gives the mean change and its parts, and the largest moves first", () => {
    const samples = [
      attributed("A", score("fair", 5), score("good", 9), 4),
      attributed("B", score("fair", 5), score("fair", 4), -1),
      attributed("C", score("good", 9), score("good", 9), 0),
      {
        ...compared(score("", undefined, "refused"), score("", undefined, "refused")),
        notAttributable: "refused before (bad-count)",
      },
    ];
    expect(linesOf(samples)).toEqual([
      "4 samples: 1 changed rating, 1 up, 0 down; 1 changed index only, 2 unchanged",
      "mean change of the index +1: counts 0, names 0, attributes +1, metrics 0, rules 0",
      "1 not attributable: refused before (bad-count)",
      "largest moves:",
      "  A +4: 5 to 9 (fair to good)",
      "  B -1: 5 to 4 (fair)",
    ]);
  });

  it("says that classes are called otherwise, and has no mean where nothing can be shared out", () => {
    const other = setWith("high", "low");
    const one = {
      ...compared(score("good", 9), score("high", 9)),
      notAttributable: "the index is of another kind",
    };
    expect(linesOf([one], other)).toEqual([
      "1 sample: 1 changed rating, 0 up, 0 down, 1 to classes with other names; 0 changed index only, 0 unchanged",
      "1 not attributable: the index is of another kind",
    ]);
  });

  it("shows a change that cannot be shared out among the largest moves, and rounds to four decimals", () => {
    const one = {
      ...compared(score("good", 9), score("good", 9)),
      change: fraction(1, 3),
      notAttributable: "why",
    };
    expect(linesOf([one]).at(-1)).toBe("  S +0.3333: 9 to 9 (good)");
  });

  it("shows the five largest moves, those that are as large by their ids, and of twins the first", () => {
    const moves = [2, -3, 1, 3, -4, 0, 1, 5, -1];
    const samples = moves.map((change, at) =>
      attributed("IHGFEDCBA".charAt(at), score("fair", 5), score("fair", 5 + change), change),
    );
    const twin = { ...(samples[0] as ComparedSample), before: score("good", 5) };
    const shown = ["  B +5: 5 to 10", "  E -4: 5 to 1", "  F +3: 5 to 8", "  H -3: 5 to 2", "  I +2: 5 to 7"];
    const expected = shown.map((line) => `${line} (fair)`);
    expect(linesOf([...samples, twin]).slice(-6)).toEqual(["largest moves:", ...expected]);
    expect(linesOf([...samples].reverse()).slice(-5)).toEqual(expected);
  });

  it("says nothing of moves and means where there is no sample", () => {
    expect(linesOf([])).toEqual([
      "0 samples: 0 changed rating, 0 up, 0 down; 0 changed index only, 0 unchanged",
    ]);
  });
});
