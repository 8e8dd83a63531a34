import { describe, expect, it } from "vitest";
import { ONE, toNumber } from "../../src/model/exact.ts";
import { EFFICIENCY_RULE, MISSED_RULE, sortingFigure } from "../../src/quality/sorting.ts";
import type { CheckedSample } from "../../src/quality/sorting-groups.ts";
import { groupSortingChecks } from "../../src/quality/sorting-groups.ts";

function checked(
  sampleId: string,
  sorted: number,
  recovered: number,
  sorter: string,
  lot: string,
  sortedOn: string,
): CheckedSample {
  const check = { sampleId, sorted, recovered, fractionChecked: ONE };
  return { figure: sortingFigure(check, EFFICIENCY_RULE), sorter, lot, sortedOn };
}

const batch = () => [
  checked("A", 190, 10, "ana", "L1", "2024-05-02"),
  checked("B", 80, 20, "ana", "L1", "2024-06-09"),
  checked("C", 99, 1, "bo", "L1", "2024-05-30"),
  checked("D", 0, 0, "bo", "L2", "2024-06-01"),
  checked("E", 95, 5, "", "", ""),
];

describe("groupSortingChecks", () => {
  it("sums a sorter's checks: 270 of 300 found, and the mean of 95 and 80", () => {
    const [ana, bo, unknown] = groupSortingChecks(batch(), "sorter");
    expect(ana).toMatchObject({
      sorter: "ana",
      checks: 2,
      passed: 1,
      failed: 1,
      sorted: 270,
      missed: { num: 30, den: 1 },
      pooledEfficiency: { num: 90, den: 1 },
      meanEfficiency: { num: 175, den: 2 },
      lowestEfficiency: { num: 80, den: 1 },
      outcome: "fail",
    });
    expect(bo).toMatchObject({ sorter: "bo", checks: 2, passed: 1, notComputable: 1, outcome: "pass" });
    expect(bo?.meanEfficiency).toEqual({ num: 99, den: 1 });
    expect(unknown).toMatchObject({ sorter: "", checks: 1, outcome: "pass" });
  });

  it("groups by lot, by the parts of a lot, and by month, unknown last", () => {
    expect(groupSortingChecks(batch(), "lot").map(({ lot, outcome }) => [lot, outcome])).toEqual([
      ["L1", "fail"],
      ["L2", "not-computable"],
      ["", "pass"],
    ]);
    expect(
      groupSortingChecks(batch(), "sorter-lot").map(({ sorter, lot, checks }) => [sorter, lot, checks]),
    ).toEqual([
      ["ana", "L1", 2],
      ["bo", "L1", 1],
      ["bo", "L2", 1],
      ["", "", 1],
    ]);
    expect(groupSortingChecks(batch(), "month").map(({ month, checks }) => [month, checks])).toEqual([
      ["2024-05", 2],
      ["2024-06", 2],
      ["", 1],
    ]);
  });

  it("counts what is undecided, and leaves the group undecided", () => {
    const check = { sampleId: "U", sorted: 100, recovered: 10, fractionChecked: ONE };
    const open = { figure: sortingFigure(check, MISSED_RULE), sorter: "ana", lot: "L1", sortedOn: "" };
    const [group] = groupSortingChecks([open], "sorter");
    expect(group).toMatchObject({
      undecided: 1,
      passed: 0,
      failed: 0,
      notComputable: 0,
      outcome: "undecided",
    });
    expect(group).toMatchObject({ lot: "", month: "" });
  });

  it("does not depend on the order of the checks", () => {
    const turned = groupSortingChecks([...batch()].reverse(), "lot");
    expect(turned).toEqual(groupSortingChecks(batch(), "lot"));
    // Each group tells what it is a group of and nothing else.
    for (const { sorter, month } of turned) expect([sorter, month]).toEqual(["", ""]);
    for (const { month } of groupSortingChecks(batch(), "sorter-lot")) expect(month).toBe("");
    for (const { sorter, lot } of groupSortingChecks(batch(), "month"))
      expect([sorter, lot]).toEqual(["", ""]);
    for (const { lot, month } of groupSortingChecks(batch(), "sorter"))
      expect([lot, month]).toEqual(["", ""]);
  });

  it("keeps people with odd names apart", () => {
    const odd = [
      checked("A", 9, 1, "__proto__", "x", ""),
      checked("B", 9, 1, "constructor", "x", ""),
      checked("C", 9, 1, 'a","b', "x", ""),
      checked("D", 9, 1, "a", 'b","x', ""),
    ];
    expect(groupSortingChecks(odd, "sorter-lot").map(({ sorter }) => sorter)).toEqual([
      "a",
      "__proto__",
      'a","b',
      "constructor",
    ]);
    const efficiency = groupSortingChecks(odd, "sorter")[0]?.pooledEfficiency;
    expect(efficiency === undefined ? undefined : toNumber(efficiency)).toBe(90);
  });
});
