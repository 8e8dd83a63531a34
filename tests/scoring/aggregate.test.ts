import { describe, expect, it } from "vitest";
import { toNumber } from "../../src/model/exact.ts";
import type { Aggregation } from "../../src/scoring/aggregate.ts";
import { aggregate } from "../../src/scoring/aggregate.ts";
import { decimal } from "../helpers/segments.ts";

const parts = (scores: readonly (string | undefined)[], weights: readonly string[] = []) =>
  scores.map((score, index) => ({
    score: score === undefined ? undefined : decimal(score),
    weight: decimal(weights[index] ?? "1"),
  }));
const indexOf = (
  scores: readonly (string | undefined)[],
  how: Aggregation,
  weights: readonly string[] = [],
) => {
  const index = aggregate(parts(scores, weights), how);
  return index === undefined ? undefined : toNumber(index);
};

describe("the index from its scores", () => {
  it("is their mean", () => {
    // Pacific Streamkeepers Module 4, record 55 (seen): scores 2, 3, 4, 2 give 2.75; record 73: 3, 4, 4, 4 give 3.75.
    expect(indexOf(["2", "3", "4", "2"], { method: "mean", missing: "blank" })).toBe(2.75);
    expect(indexOf(["3", "4", "4", "4"], { method: "mean", missing: "blank" })).toBe(3.75);
  });

  it("is their sum, their weighted mean or their scaled sum", () => {
    expect(indexOf(["1", "3", "5"], { method: "sum", missing: "blank" })).toBe(9);
    // (1 x 1 + 4 x 3) / 4 = 3.25
    expect(indexOf(["1", "4"], { method: "weighted-mean", missing: "blank" }, ["1", "3"])).toBe(3.25);
    // 12 metrics of 10: factor 100 / 120 (published as 0.8333); sum 90 gives 75
    const scaled: Aggregation = {
      method: "scaled-sum",
      missing: "blank",
      scaleTo: decimal("100"),
      bestSum: decimal("120"),
    };
    expect(indexOf(Array(12).fill("7.5"), scaled)).toBe(75);
  });

  it("heeds weights only where the set asks for a weighted mean", () => {
    expect(indexOf(["1", "4"], { method: "mean", missing: "blank" }, ["1", "3"])).toBe(2.5);
    expect(indexOf(["1", "4"], { method: "sum", missing: "blank" }, ["1", "3"])).toBe(5);
  });

  it("is no scaled sum without its scale and its best sum", () => {
    const scaled = { method: "scaled-sum", missing: "blank" } as const;
    expect(indexOf(["1"], scaled)).toBeUndefined();
    expect(indexOf(["1"], { ...scaled, scaleTo: decimal("100") })).toBeUndefined();
    expect(indexOf(["1"], { ...scaled, bestSum: decimal("5") })).toBeUndefined();
    expect(indexOf(["1"], { ...scaled, scaleTo: decimal("100"), bestSum: decimal("5") })).toBe(20);
  });

  it("is blank when a metric is missing, never a sum with a nought in it", () => {
    expect(indexOf(["5", undefined, "5"], { method: "sum", missing: "blank" })).toBeUndefined();
    expect(indexOf([undefined], { method: "mean", missing: "leave-out" })).toBeUndefined();
    expect(indexOf([], { method: "mean", missing: "blank" })).toBeUndefined();
  });

  it("leaves a missing metric out where the set says so, without lowering the index", () => {
    expect(indexOf(["5", undefined, "4"], { method: "mean", missing: "leave-out" })).toBe(4.5);
    const scaled: Aggregation = {
      method: "scaled-sum",
      missing: "leave-out",
      scaleTo: decimal("100"),
      bestSum: decimal("30"),
    };
    // Two perfect tens of three possible: 20 of at best 20 is 100.
    expect(indexOf(["10", undefined, "10"], scaled)).toBe(100);
  });
});
