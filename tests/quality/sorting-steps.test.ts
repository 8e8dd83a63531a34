import { describe, expect, it } from "vitest";
import { fraction, ONE } from "../../src/model/exact.ts";
import type { SortingRule } from "../../src/quality/sorting.ts";
import { EFFICIENCY_RULE, MISSED_RULE, sortingFigure } from "../../src/quality/sorting.ts";
import type { CheckedSample } from "../../src/quality/sorting-groups.ts";
import { sortingStepText, stepForSample, stepForSorterLot } from "../../src/quality/sorting-steps.ts";

const TENTH = fraction(1, 10);

function figure(
  sampleId: string,
  sorted: number,
  recovered: number,
  part = ONE,
  rule: SortingRule = EFFICIENCY_RULE,
) {
  return sortingFigure({ sampleId, sorted, recovered, fractionChecked: part }, rule);
}

function checked(sampleId: string, recovered: number): CheckedSample {
  return { figure: figure(sampleId, 100, recovered), sorter: "ana", lot: "L1", sortedOn: "" };
}

function lotOf(size: number) {
  return { sorter: "ana", lot: "L1", sampleIds: Array.from({ length: size }, (_, at) => `S${100 + at}`) };
}

describe("stepForSample", () => {
  it("asks for nothing when nothing was found, and for the found animals when it passed", () => {
    expect(stepForSample(figure("S", 100, 0))).toBeUndefined();
    expect(stepForSample(figure("S", 0, 0))).toBeUndefined();
    const step = stepForSample(figure("S", 100, 1));
    expect(step).toEqual({ kind: "add-recovered", sampleId: "S", recovered: 1 });
    expect(step && sortingStepText(step)).toBe("add the 1 animal found to the vials and to the counts of S");
    const more = stepForSample(figure("S", 100, 2));
    expect(more && sortingStepText(more)).toBe("add the 2 animals found to the vials and to the counts of S");
  });

  it("asks for a recount after a failure, of the whole residue when only a part was seen", () => {
    const whole = stepForSample(figure("S", 100, 50));
    expect(whole).toEqual({ kind: "recount", sampleId: "S", recovered: 50, isPartlyChecked: false });
    expect(whole && sortingStepText(whole)).toMatch(/^recount S: sort its residue again/);
    const part = stepForSample(figure("S", 100, 50, fraction(1, 4)));
    expect(part && sortingStepText(part)).toMatch(/^recount S: sort its whole residue again/);
  });

  it("asks somebody to decide at an open limit", () => {
    const step = stepForSample(figure("S", 100, 10, ONE, MISSED_RULE));
    expect(step).toEqual({ kind: "decide", sampleId: "S", missed: 10 });
    expect(step && sortingStepText(step)).toMatch(/^decide about S: 10 missed is exactly the limit/);
  });
});

// A second 10 percent when the first fails: Barbour et al. 1999 (EPA 841-B-99-002, 7.3).
describe("stepForSorterLot", () => {
  it("asks for nothing while no sample failed, or when all of the lot has been checked", () => {
    expect(stepForSorterLot([checked("S100", 3)], lotOf(20), TENTH)).toBeUndefined();
    expect(stepForSorterLot([], lotOf(20), TENTH)).toBeUndefined();
    expect(stepForSorterLot([checked("S100", 50)], lotOf(1), TENTH)).toBeUndefined();
  });

  it("asks for a second share after a failure in the first", () => {
    const step = stepForSorterLot([checked("S100", 50), checked("S101", 0)], lotOf(20), TENTH);
    expect(step).toEqual({ kind: "check-second-share", sorter: "ana", lot: "L1", samples: 2 });
    expect(step && sortingStepText(step)).toBe(
      "check 2 more samples of ana's part of lot L1, not looked at before (qc choose --round 2); " +
        "if one of them fails too, check the rest of this sorter's lot",
    );
  });

  it("asks for the rest once the second share has been checked too", () => {
    const both = [checked("S100", 50), checked("S101", 0), checked("S102", 0), checked("S103", 20)];
    const step = stepForSorterLot(both, lotOf(20), TENTH);
    expect(step?.kind).toBe("check-rest");
    expect(step?.kind === "check-rest" ? step.unchecked : []).toEqual(lotOf(20).sampleIds.slice(4));
  });

  it("asks for the rest at once where a share is all that is left", () => {
    const step = stepForSorterLot([checked("S101", 50)], lotOf(2), TENTH);
    expect(step).toEqual({ kind: "check-rest", sorter: "ana", lot: "L1", unchecked: ["S100"] });
    expect(step && sortingStepText(step)).toBe("check the rest of ana's part of lot L1: S100");
  });

  it("knows no numbers without a sample log", () => {
    const step = stepForSorterLot([checked("S100", 50)], undefined, TENTH);
    expect(step).toEqual({ kind: "check-second-share", sorter: "ana", lot: "L1", samples: undefined });
    expect(step && sortingStepText(step)).toMatch(/^check a second share of/);
  });

  it("lists what is left in code point order, and names the lot only when there is one", () => {
    const whole = { sorter: "", lot: "", sampleIds: ["S9", "S10", "S1", "S2"] };
    const failed = { ...checked("S1", 50), sorter: "", lot: "" };
    const rest = stepForSorterLot([failed, { ...checked("S2", 0), sorter: "", lot: "" }], whole, TENTH);
    expect(rest && sortingStepText(rest)).toBe("check the rest of the lot: S10, S9");
    const second = stepForSorterLot([failed], whole, TENTH);
    expect(second && sortingStepText(second)).toMatch(
      /^check 1 more sample of the lot, not looked at before/,
    );
    const nobody = stepForSorterLot([{ ...failed, lot: "L7" }], undefined, TENTH);
    expect(nobody && sortingStepText(nobody)).toMatch(/^check a second share of lot L7, not/);
  });

  it("counts a sample that was checked twice once", () => {
    const twice = [checked("S100", 50), checked("S100", 0)];
    expect(stepForSorterLot(twice, lotOf(10), TENTH)?.kind).toBe("check-second-share");
  });
});
