import { expect, it } from "vitest";
import { exactOf } from "../../../src/model/exact.ts";
import type { Segment } from "../../../src/model/segment.ts";
import { limitsText } from "../../../src/pipeline/rescore/limits-text.ts";

const at = (value: number, included: boolean, slope?: number) => ({
  at: exactOf(value),
  included,
  ...(slope === undefined ? {} : { slope: exactOf(slope) }),
});

function text(changes: Partial<Segment>): string {
  return limitsText({
    scoreAtLower: exactOf(5),
    scoreAtUpper: exactOf(5),
    basis: "value",
    note: "",
    line: 2,
    ...changes,
  });
}

it.each<[string, Partial<Segment>]>([
  ["[14, 28): 5", { lower: at(14, true), upper: at(28, false) }],
  ["(14, 28]: 5", { lower: at(14, false), upper: at(28, true) }],
  ["(-∞, ∞): 5", {}],
  ["[0, ∞): 5 to 10", { lower: at(0, true), scoreAtUpper: exactOf(10) }],
  ["(-∞, 50] percent of the reference: 5", { upper: at(50, true), basis: "percent-of-reference" }],
  ["[3 + 2 x log10:area, ∞): 5", { lower: at(3, true, 2), covariate: "log10:area" }],
])("a threshold is written as %s", (expected, changes) => {
  expect(text(changes)).toBe(expected);
});
