import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Exact } from "../../src/model/exact.ts";
import { add, compareExact, equalExact, fraction, ZERO } from "../../src/model/exact.ts";
import { disagreementsOf } from "../../src/quality/disagreements.ts";
import { enumerationDifference } from "../../src/quality/enumeration.ts";
import { compareIdentifications, USUAL_IDENTIFICATION_RULES } from "../../src/quality/identification.ts";
import type { SheetCounts } from "../../src/quality/match-sheets.ts";
import { sheet, smallTree } from "./small-tree.ts";

const TREE = smallTree();

function compare(primary: SheetCounts, recheck: SheetCounts, rules = USUAL_IDENTIFICATION_RULES) {
  return compareIdentifications("S", TREE, primary, recheck, rules);
}

function rowsOf(primary: SheetCounts, recheck: SheetCounts) {
  return disagreementsOf("S", TREE, compare(primary, recheck).matching, { primary, recheck });
}

// 100 animals each. Agreements Baetis 30 + Epeorus 20 + Simulium 20 + Chironomidae 15 = 85; one line 9 (Baetidae
// for Baetis 6, Chironomidae for Orthocladiinae 3); another name 6 (Epeorus for Rhithrogena 4, Acentrella for
// Diphetor 2).
const PRIMARY = sheet(TREE, {
  Baetis: 30,
  Baetidae: 6,
  Epeorus: 24,
  Simulium: 20,
  Chironomidae: 18,
  Acentrella: 2,
});
const RECHECK = sheet(TREE, {
  Baetis: 36,
  Epeorus: 20,
  Rhithrogena: 4,
  Simulium: 20,
  Chironomidae: 15,
  Orthocladiinae: 3,
  Diphetor: 2,
});

describe("compareIdentifications on a table worked by hand", () => {
  const figures = compare(PRIMARY, RECHECK);

  it("gives PTD with and without hierarchical disagreements: 15 and 6 percent", () => {
    expect(figures.matching.agreements).toBe(85);
    expect(figures.disagreement).toEqual({ num: 15, den: 1 });
    expect(figures.agreement).toEqual({ num: 85, den: 1 });
    expect(figures.disagreementWithoutHierarchical).toEqual({ num: 6, den: 1 });
    expect(figures.outcome).toBe("pass");
  });

  it("gives the other figures", () => {
    expect(figures.enumerationDifference).toEqual({ num: 0, den: 1 });
    expect(figures.brayCurtis).toEqual({ num: 85, den: 1 });
    expect(figures.percentSimilarity).toEqual({ num: 85, den: 1 });
    // Genus or finer: 30 + 24 + 20 + 2 of 100, and 36 + 20 + 4 + 20 + 2 of 100.
    expect(figures.completenessPrimary).toEqual({ num: 76, den: 1 });
    expect(figures.completenessRecheck).toEqual({ num: 82, den: 1 });
    expect(figures.completenessDifference).toEqual({ num: 6, den: 1 });
    expect(figures.gains).toBe(0);
    expect(figures.losses).toBe(0);
  });

  it("lists every disagreement, the heaviest first, with its part of the PTD", () => {
    const rows = disagreementsOf("S", TREE, figures.matching, { primary: PRIMARY, recheck: RECHECK });
    const name = (taxon: number | undefined) => (taxon === undefined ? "" : TREE.nameOf(taxon));
    expect(
      rows.map((row) => [
        row.kind,
        name(row.primary),
        name(row.recheck),
        row.animals,
        row.coarser ?? "",
        name(row.commonTaxon),
        row.primaryCount,
        row.recheckCount,
      ]),
    ).toEqual([
      ["coarser", "Baetidae", "Baetis", 6, "primary", "Baetidae", 6, 36],
      ["different-name", "Epeorus", "Rhithrogena", 4, "", "Heptageniidae", 24, 4],
      ["coarser", "Chironomidae", "Orthocladiinae", 3, "primary", "Chironomidae", 18, 3],
      ["different-name", "Acentrella", "Diphetor", 2, "", "Baetidae", 2, 2],
    ]);
    expect(rows[0]?.weight).toEqual({ num: 6, den: 1 });
  });
});

describe("disagreementsOf", () => {
  const rows = (primary: Record<string, number>, recheck: Record<string, number>) =>
    rowsOf(sheet(TREE, primary), sheet(TREE, recheck)).map((row) => [
      row.kind,
      row.primary === undefined ? "" : TREE.nameOf(row.primary),
      row.recheck === undefined ? "" : TREE.nameOf(row.recheck),
      row.animals,
      row.primaryCount,
      row.recheckCount,
      row.coarser,
    ]);

  it("tells numbers from what one sheet missed, on either side", () => {
    expect(rows({ Baetis: 9, Simulium: 2 }, { Baetis: 4 })).toEqual([
      ["number", "Baetis", "Baetis", 5, 9, 4, undefined],
      ["missed", "Simulium", "", 2, 2, 0, undefined],
    ]);
    expect(rows({ Baetis: 4 }, { Baetis: 9, Simulium: 2 })).toEqual([
      ["number", "Baetis", "Baetis", 5, 4, 9, undefined],
      ["missed", "", "Simulium", 2, 0, 2, undefined],
    ]);
  });

  it("says which sheet is the coarser one", () => {
    expect(rows({ Baetis: 3 }, { Baetidae: 3 })).toEqual([
      ["coarser", "Baetis", "Baetidae", 3, 3, 3, "recheck"],
    ]);
    expect(rows({ Baetidae: 3 }, { Baetis: 3 })).toEqual([
      ["coarser", "Baetidae", "Baetis", 3, 3, 3, "primary"],
    ]);
  });

  it("puts the graver kind first where the animals are equal", () => {
    expect(
      rows({ Baetidae: 2, Simulium: 4, Acentrella: 2 }, { Baetis: 2, Simulium: 2, Epeorus: 2 }).map(
        ([kind]) => kind,
      ),
    ).toEqual(["different-name", "coarser", "number"]);
  });
});

describe("compareIdentifications and its limits", () => {
  it("lets 15 percent pass and the next animal fail", () => {
    expect(compare(sheet(TREE, { Baetis: 85, Epeorus: 15 }), sheet(TREE, { Baetis: 100 })).outcome).toBe(
      "pass",
    );
    const failed = compare(sheet(TREE, { Baetis: 84, Epeorus: 16 }), sheet(TREE, { Baetis: 100 }));
    expect(failed.outcome).toBe("fail");
    expect(failed.disagreementJudgement).toEqual({ outcome: "fail", missedBy: { num: 1, den: 1 } });
    expect(failed.enumerationJudgement).toEqual({ outcome: "pass" });
  });

  it("holds the figure without hierarchical disagreements against the limit when asked to", () => {
    const primary = sheet(TREE, { Baetis: 60, Baetidae: 40 });
    const recheck = sheet(TREE, { Baetis: 100 });
    expect(compare(primary, recheck).outcome).toBe("fail");
    const rules = { ...USUAL_IDENTIFICATION_RULES, hierarchical: "ignore" as const };
    expect(compare(primary, recheck, rules)).toMatchObject({
      outcome: "pass",
      disagreement: { num: 40, den: 1 },
      disagreementWithoutHierarchical: { num: 0, den: 1 },
    });
  });

  it("fails on numbers alone: 95 and 106 differ by 5.47 percent, 95 and 105 by exactly 5", () => {
    const counted = (n: number) => sheet(TREE, { Baetis: n });
    expect(compare(counted(95), counted(106)).enumerationJudgement.outcome).toBe("fail");
    expect(compare(counted(95), counted(105))).toMatchObject({
      enumerationDifference: { num: 5, den: 1 },
      enumerationJudgement: { outcome: "pass" },
    });
    const byMean = { ...USUAL_IDENTIFICATION_RULES, enumeration: "mean" as const };
    expect(compare(counted(95), counted(105), byMean)).toMatchObject({
      enumerationDifference: { num: 10, den: 1 },
      outcome: "fail",
    });
  });

  it("judges completeness only when somebody set a limit", () => {
    const primary = sheet(TREE, { Baetis: 80, Baetidae: 10, Epeorus: 10 });
    const recheck = sheet(TREE, { Baetis: 90, Epeorus: 10 });
    expect(compare(primary, recheck).outcome).toBe("pass");
    const limit = { side: "at-most", at: fraction(5) } as const;
    const strict = compare(primary, recheck, { ...USUAL_IDENTIFICATION_RULES, completenessLimit: limit });
    expect(strict.completenessJudgement).toEqual({ outcome: "fail", missedBy: { num: 5, den: 1 } });
    expect(strict.outcome).toBe("fail");
  });

  it("counts families that only one of the two found", () => {
    const figures = compare(
      sheet(TREE, { Baetis: 9, Simulium: 1 }),
      sheet(TREE, { Baetis: 8, Epeorus: 1, Orthocladiinae: 1 }),
    );
    expect([figures.gains, figures.losses]).toEqual([2, 1]);
  });

  it("has no figure for two empty sheets, and 100 percent against an empty one", () => {
    const empty = new Map<number, number>();
    expect(compare(empty, empty)).toMatchObject({
      disagreement: undefined,
      agreement: undefined,
      enumerationDifference: undefined,
      outcome: "not-computable",
    });
    expect(compare(empty, sheet(TREE, { Baetis: 3 }))).toMatchObject({
      disagreement: { num: 100, den: 1 },
      enumerationDifference: { num: 100, den: 1 },
      completenessPrimary: undefined,
      completenessDifference: undefined,
      outcome: "fail",
    });
  });
});

describe("identification figures in general", () => {
  const names = fc.constantFrom(...TREE.names);
  const counts = fc
    .array(fc.tuple(names, fc.integer({ min: 1, max: 50 })), { maxLength: 10 })
    .map((entries) => sheet(TREE, Object.fromEntries(entries)));

  it("agrees wholly with itself", () => {
    fc.assert(
      fc.property(counts, (own) => {
        fc.pre(own.size > 0);
        const figures = compare(own, own);
        expect(figures.disagreement).toEqual({ num: 0, den: 1 });
        expect(figures.enumerationDifference).toEqual({ num: 0, den: 1 });
        expect(figures.brayCurtis).toEqual({ num: 100, den: 1 });
        expect(figures.completenessDifference).toEqual({ num: 0, den: 1 });
        expect(rowsOf(own, own)).toEqual([]);
      }),
    );
  });

  it("is the same in both directions, but for gains and losses", () => {
    fc.assert(
      fc.property(counts, counts, (a, b) => {
        const there = compare(a, b);
        const back = compare(b, a);
        expect(back.disagreement).toEqual(there.disagreement);
        expect(back.disagreementWithoutHierarchical).toEqual(there.disagreementWithoutHierarchical);
        expect(back.enumerationDifference).toEqual(there.enumerationDifference);
        expect(back.completenessDifference).toEqual(there.completenessDifference);
        expect(back.outcome).toBe(there.outcome);
        expect([back.gains, back.losses]).toEqual([there.losses, there.gains]);
      }),
    );
  });

  it("has disagreements whose weights add up to the PTD, and never more without hierarchical ones", () => {
    fc.assert(
      fc.property(counts, counts, (a, b) => {
        fc.pre(a.size + b.size > 0);
        const figures = compare(a, b);
        const sum = rowsOf(a, b).reduce<Exact>((total, { weight }) => add(total, weight), ZERO);
        expect(equalExact(sum, figures.disagreement ?? fraction(-1))).toBe(true);
        const without = figures.disagreementWithoutHierarchical ?? fraction(-1);
        expect(compareExact(without, figures.disagreement ?? fraction(-2))).toBeLessThanOrEqual(0);
      }),
    );
  });

  it("has PDE by the mean that is twice PDE by the sum", () => {
    fc.assert(
      fc.property(fc.nat({ max: 10_000 }), fc.nat({ max: 10_000 }), (n1, n2) => {
        fc.pre(n1 + n2 > 0);
        const sum = enumerationDifference(n1, n2, "sum") ?? fraction(-1);
        expect(equalExact(add(sum, sum), enumerationDifference(n1, n2, "mean") ?? fraction(-3))).toBe(true);
      }),
    );
    expect(enumerationDifference(0, 0, "sum")).toBeUndefined();
  });
});
