import { describe, expect, it } from "vitest";
import { toNumber } from "../../src/model/exact.ts";
import { findSpanFaults } from "../../src/scoring/check-spans.ts";
import { decimal, segment } from "../helpers/segments.ts";

const faults = (intervals: readonly string[], step?: string) =>
  findSpanFaults(
    intervals.map((interval) => segment(interval, "1")),
    step === undefined ? undefined : decimal(step),
  ).map(({ kind, from, to }) => [kind, toNumber(from), to === undefined ? "open" : toNumber(to)]);

describe("gaps and overlaps of neighbouring spans", () => {
  it.each<[string, string[], unknown[]]>([
    ["none where each limit belongs to one side", ["[0,14)", "[14,28]", "(28,"], []],
    ["a single value that belongs to neither side", ["[0,55)", "[55,75)", "(75,100]"], [["gap", 75, 75]]],
    ["a single value that belongs to both sides", ["[2,5]", "[5,8]"], [["overlap", 5, 5]]],
    ["a stretch between", ["[0,3.75]", "[3.76,4.25]"], [["gap", 3.75, 3.76]]],
    ["a stretch shared", ["[0,11]", "[10,17]"], [["overlap", 10, 11]]],
    ["a span inside another", ["[0,100]", "[40,50)"], [["overlap", 40, 50]]],
    ["two open ends", ["[0,", "[10,"], [["overlap", 10, "open"]]],
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
