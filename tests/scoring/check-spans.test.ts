import { describe, expect, it } from "vitest";
import type { Exact } from "../../src/model/exact.ts";
import { toNumber } from "../../src/model/exact.ts";
import { findSpanFaults } from "../../src/scoring/check-spans.ts";
import { decimal, segment } from "../helpers/segments.ts";

const faults = (intervals: readonly string[], step?: string) =>
  findSpanFaults(
    intervals.map((interval) => segment(interval, "1")),
    step === undefined ? undefined : decimal(step),
  ).map(({ kind, from, to }) => [kind, end(from), end(to)]);
const end = (limit: Exact | undefined) => (limit === undefined ? "open" : toNumber(limit));

describe("gaps and overlaps of neighbouring spans", () => {
  it.each<[string, string[], unknown[]]>([
    ["none where each limit belongs to one side", ["[0,14)", "[14,28]", "(28,"], []],
    ["a single value that belongs to neither side", ["[0,55)", "[55,75)", "(75,100]"], [["gap", 75, 75]]],
    ["a single value that belongs to both sides", ["[2,5]", "[5,8]"], [["overlap", 5, 5]]],
    ["a stretch between", ["[0,3.75]", "[3.76,4.25]"], [["gap", 3.75, 3.76]]],
    ["a stretch shared", ["[0,11]", "[10,17]"], [["overlap", 10, 11]]],
    ["a span inside another", ["[0,100]", "[40,50)"], [["overlap", 40, 50]]],
    ["two open ends", ["[0,", "[10,"], [["overlap", 10, "open"]]],
    ["two open ends in the order of their lower limits", ["[10,20]", "[0,"], [["overlap", 10, 20]]],
    ["two spans open below", ["(,10]", "(,5]"], [["overlap", "open", 5]]],
    ["a span open below and one open on both sides", ["(,10]", "(,"], [["overlap", "open", 10]]],
    ["the same in the other order", ["(,", "(,10]"], [["overlap", "open", 10]]],
    ["two spans that hold every value", ["(,", "(,"], [["overlap", "open", "open"]]],
    [
      "no gap between two spans that a wider one holds",
      ["[0,100]", "[40,50)", "[60,70)"],
      [
        ["overlap", 40, 50],
        ["overlap", 60, 70],
      ],
    ],
    [
      "what follows the wider of two spans",
      ["[0,50]", "[40,100]", "[120,130]"],
      [
        ["overlap", 40, 50],
        ["gap", 100, 120],
      ],
    ],
    [
      "what follows the open one of two spans",
      ["[0,50]", "[40,", "[60,70]"],
      [
        ["overlap", 40, 50],
        ["overlap", 60, 70],
      ],
    ],
    [
      "what an open span hides",
      ["[0,", "[40,50]", "[60,70]"],
      [
        ["overlap", 40, 50],
        ["overlap", 60, 70],
      ],
    ],
    [
      "that the closed one of two spans with the same upper limit reaches further",
      ["[0,10)", "[5,10]", "(10,20]"],
      [["overlap", 5, 10]],
    ],
    [
      "that the closed one reaches further in the other order, too",
      ["[0,10]", "[5,10)", "(10,20]"],
      [["overlap", 5, 10]],
    ],
    [
      "that two open limits leave their value out",
      ["[0,10)", "[5,10)", "(10,20]"],
      [
        ["overlap", 5, 10],
        ["gap", 10, 10],
      ],
    ],
    ["that a shorter closed span reaches less far", ["[0,10)", "[5,8]", "[10,20]"], [["overlap", 5, 8]]],
    ["rows in any order", ["(28,", "[0,14)", "[14,28]"], []],
  ])("finds %s", (_, intervals, expected) => {
    expect(faults(intervals)).toEqual(expected);
  });

  it("does not call a printed step a gap when values are rounded to it first", () => {
    expect(faults(["[0,3.75]", "[3.76,4.25]"], "0.01")).toEqual([]);
    expect(faults(["[0,3.75]", "[3.77,4.25]"], "0.01")).toEqual([["gap", 3.75, 3.77]]);
    expect(faults(["[0,3.75)", "[3.76,4.25]"], "0.01")).toEqual([["gap", 3.75, 3.76]]);
  });
});
