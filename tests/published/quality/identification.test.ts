import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Exact } from "../../../src/model/exact.ts";
import { exactOf, fraction, toNumber } from "../../../src/model/exact.ts";
import { enumerationDifference } from "../../../src/quality/enumeration.ts";
import { compareIdentifications, USUAL_IDENTIFICATION_RULES } from "../../../src/quality/identification.ts";
import { judge } from "../../../src/quality/judgement.ts";
import { USUAL_LIMITS } from "../../../src/quality/limits.ts";
import type { SheetCounts } from "../../../src/quality/match-sheets.ts";
import { meanExact } from "../../../src/quality/percent.ts";
import { brayCurtisSimilarity, percentSimilarity } from "../../../src/quality/sheet-similarity.ts";
import { sheet, smallTree } from "../../quality/small-tree.ts";
import { entry, number, numbers, part } from "./entries.ts";

const TREE = smallTree();

function compare(primary: SheetCounts, recheck: SheetCounts) {
  return compareIdentifications("S", TREE, primary, recheck, USUAL_IDENTIFICATION_RULES);
}

function value(exact: Exact | undefined): number {
  return exact === undefined ? Number.NaN : toNumber(exact);
}

describe("difference in enumeration (formulas as recalled from Stribling et al. 2003 and 2008)", () => {
  it("TAX-01: by the sum, within 5 percent", () => {
    const { input, expected, tolerance } = entry("TAX-01");
    const found = enumerationDifference(number(input, "n1"), number(input, "n2"), "sum");
    expect(Math.abs(value(found) - number(expected, "pde_pct"))).toBeLessThanOrEqual(tolerance);
    expect(judge(found, USUAL_LIMITS.enumeration).outcome).toBe(expected.result);
  });

  it("TAX-02: by the mean, twice as large", () => {
    const { input, expected, tolerance } = entry("TAX-02");
    const found = enumerationDifference(number(input, "n1"), number(input, "n2"), "mean");
    expect(Math.abs(value(found) - number(expected, "rpd_pct"))).toBeLessThanOrEqual(tolerance);
  });
});

describe("disagreement and completeness (formulas as recalled; the limit of 15 percent was read)", () => {
  it("TAX-03: 180 of 211 agree", () => {
    const { input, expected, tolerance } = entry("TAX-03");
    const agreed = number(input, "comp_pos");
    const figures = compare(
      sheet(TREE, { Baetis: agreed, Epeorus: number(input, "n1") - agreed }),
      sheet(TREE, { Baetis: agreed, Simulium: number(input, "n2") - agreed }),
    );
    expect(Math.abs(value(figures.disagreement) - number(expected, "ptd_pct"))).toBeLessThanOrEqual(
      tolerance,
    );
    expect(Math.abs(value(figures.agreement) - number(expected, "pta_pct"))).toBeLessThanOrEqual(tolerance);
    expect(figures.disagreementJudgement.outcome).toBe(expected.result);
  });

  it("TAX-08: animals named to the target level on both sheets, and the difference", () => {
    const { input, expected, tolerance } = entry("TAX-08");
    const named = (key: string) => {
      const x = number(part(input, key), "x");
      return sheet(TREE, { Baetis: x, Baetidae: number(part(input, key), "N") - x });
    };
    const figures = compare(named("primary"), named("qc"));
    for (const [found, key] of [
      [figures.completenessPrimary, "ptc_primary_pct"],
      [figures.completenessRecheck, "ptc_qc_pct"],
      [figures.completenessDifference, "abs_diff_pct"],
    ] as const)
      expect(Math.abs(value(found) - number(expected, key))).toBeLessThanOrEqual(tolerance);
  });

  it.each(["TAX-09", "TAX-10", "TAX-11"].map(entry))("$id: published agreement of a station", (one) => {
    const { input, expected, tolerance } = one;
    const total = number(input, "total_organisms");
    const wrong = number(input, "misidentified");
    const figures = compare(
      sheet(TREE, { Baetis: total }),
      sheet(TREE, { Baetis: total - wrong, Epeorus: wrong }),
    );
    expect(Math.abs(value(figures.agreement) / 100 - number(expected, "pta"))).toBeLessThanOrEqual(tolerance);
  });

  it("TAX-12: the printed means of a batch", () => {
    const { input, expected, tolerance } = entry("TAX-12");
    for (const key of Object.keys(input)) {
      const mean = meanExact(numbers(input, key).map(exactOf));
      expect(Math.abs(value(mean) - number(expected, key))).toBeLessThanOrEqual(tolerance);
    }
  });

  it("TAX-13: mean gains of at most two families per sample (the limit holds for the mean)", () => {
    const { input, expected, tolerance } = entry("TAX-13");
    const limit = { side: "at-most", at: fraction(2) } as const;
    for (const batch of ["a", "b"]) {
      const mean = meanExact(numbers(input, `batch_${batch}`).map(exactOf));
      expect(Math.abs(value(mean) - number(expected, `mean_${batch}`))).toBeLessThanOrEqual(tolerance);
      expect(judge(mean, limit).outcome).toBe(expected[`result_${batch}`]);
    }
  });

  it("counts families gained the way TAX-13 means it", () => {
    const found = compare(
      sheet(TREE, { Baetis: 5 }),
      sheet(TREE, { Baetis: 3, Epeorus: 1, Rhithrogena: 1, Simulium: 1 }),
    );
    expect(found.gains).toBe(2);
  });
});

describe("similarity of two sheets", () => {
  // A pair with the same totals as the worked similarity: 170 of 200 and 198 animals agree.
  const figures = compare(
    sheet(TREE, { Baetis: 170, Epeorus: 30 }),
    sheet(TREE, { Baetis: 170, Rhithrogena: 28 }),
  );

  it("TAX-06: Bray-Curtis is twice the agreements over both totals (formula as recalled)", () => {
    const { expected, tolerance } = entry("TAX-06");
    expect(
      Math.abs(value(figures.brayCurtis) / 100 - number(expected, "bray_curtis_similarity")),
    ).toBeLessThanOrEqual(tolerance);
  });

  // The sheets behind TAX-07 are not known; percent similarity is checked against SciPy only: half the city block
  // distance of the shares is what is missing to 1.
  it("agrees with SciPy's distances", () => {
    const { brayCurtis } = JSON.parse(readFileSync(new URL("scipy.json", import.meta.url), "utf8")) as {
      brayCurtis: { a: number[]; b: number[]; distance: number; shareDistance: number }[];
    };
    const counts = (values: number[]) => new Map([...values.entries()].filter(([, count]) => count > 0));
    expect(brayCurtis).toHaveLength(4);
    for (const { a, b, distance, shareDistance } of brayCurtis) {
      expect(value(brayCurtisSimilarity(counts(a), counts(b)))).toBeCloseTo(100 * (1 - distance), 10);
      expect(value(percentSimilarity(counts(a), counts(b)))).toBeCloseTo(100 - 50 * shareDistance, 10);
    }
  });
});
