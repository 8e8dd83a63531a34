import { describe, expect, it } from "vitest";
import { exactOf, toNumber } from "../../../src/model/exact.ts";
import { chooseSamples } from "../../../src/quality/choose.ts";
import { meanExact } from "../../../src/quality/percent.ts";
import { sortingFigure } from "../../../src/quality/sorting.ts";
import { randomStream } from "../../../src/subsample/stream.ts";
import { entries, entry, number, numbers } from "./entries.ts";

function figure(sorted: number, recovered: number, fractionChecked = 1, limit = 90) {
  return sortingFigure(
    { sampleId: "S", sorted, recovered, fractionChecked: exactOf(fractionChecked) },
    { kind: "efficiency", limitPercent: exactOf(limit) },
  );
}

function efficiency(sorted: number, recovered: number, fractionChecked = 1): number {
  const found = figure(sorted, recovered, fractionChecked).efficiency;
  return found === undefined ? Number.NaN : toNumber(found);
}

describe("sorting efficiency and its limit (Barbour et al. 1999, EPA 841-B-99-002, form 3)", () => {
  const cases = entries("SORT-0").filter(({ input }) => "limit_pct" in input);

  it("has five cases", () => {
    expect(cases.map(({ id }) => id)).toEqual(["SORT-01", "SORT-02", "SORT-04", "SORT-05", "SORT-06"]);
  });

  it.each(cases)("$id", ({ input, expected, tolerance }) => {
    const found = figure(
      number(input, "originally_sorted"),
      number(input, "recovered_by_checker"),
      1,
      number(input, "limit_pct"),
    );
    const published = expected.sorting_efficiency_pct;
    if (published === null) expect(found.efficiency).toBeUndefined();
    else {
      const value = found.efficiency === undefined ? Number.NaN : toNumber(found.efficiency);
      expect(Math.abs(value - Number(published))).toBeLessThanOrEqual(tolerance);
    }
    expect(found.outcome.replace("-", " ")).toBe(expected.result);
  });
});

describe("other wordings and tables of sorting efficiency", () => {
  it("SORT-08: a total that includes the recovered animals gives the same figure", () => {
    const { input, expected, tolerance } = entry("SORT-08");
    const recovered = number(input, "recovered");
    const sorted = number(input, "total_count_including_recovered") - recovered;
    expect(
      Math.abs(efficiency(sorted, recovered) - number(expected, "sorting_efficiency_pct")),
    ).toBeLessThanOrEqual(tolerance);
  });

  it("SORT-09: a quarter of the residue (the formula is common practice, as recalled)", () => {
    const { input, expected, tolerance } = entry("SORT-09");
    const found = figure(
      number(input, "originally_sorted"),
      number(input, "found_in_checked_part"),
      number(input, "fraction_checked"),
    );
    expect(toNumber(found.missed)).toBe(number(expected, "estimated_missed"));
    expect(found.isEstimate).toBe(true);
    const value = found.efficiency === undefined ? Number.NaN : toNumber(found.efficiency);
    expect(Math.abs(value - number(expected, "sorting_efficiency_pct"))).toBeLessThanOrEqual(tolerance);
  });

  it("SORT-10: the printed means of reported efficiencies", () => {
    const { input, expected, tolerance } = entry("SORT-10");
    for (const [list, mean] of [
      ["spot_check", "mean_spot"],
      ["whole_resort", "mean_resort"],
    ] as const) {
      const found = meanExact(numbers(input, list).map(exactOf));
      const value = found === undefined ? Number.NaN : toNumber(found);
      expect(Math.abs(value - number(expected, mean))).toBeLessThanOrEqual(tolerance);
    }
  });

  it("SORT-11: a tenth of a lot of 47, a second tenth when it fails, everything of a trainee's", () => {
    const { input, expected } = entry("SORT-11");
    const lot = Array.from({ length: number(input, "n_in_lot") }, (_, at) => `A${100 + at}`);
    const trainees = Array.from({ length: number(input, "trainee_lot") }, (_, at) => `T${100 + at}`);
    const candidates = [
      ...lot.map((sampleId) => ({ sampleId, group: "L1", trainee: false })),
      ...trainees.map((sampleId) => ({ sampleId, group: "L2", trainee: true })),
    ];
    const chosen = (round: number) =>
      chooseSamples(candidates, {
        share: exactOf(0.1),
        round,
        checked: new Set(),
        stream: (group) => randomStream("recheck-choice/1", "1", group),
      }).map((group) => group.chosen.length);
    expect(chosen(1)).toEqual([number(expected, "first_round"), number(expected, "trainee_checks")]);
    expect(chosen(2)).toEqual([number(expected, "second_round"), 0]);
  });
});
