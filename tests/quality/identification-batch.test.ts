import { describe, expect, it } from "vitest";
import { disagreementsOf, sortDisagreements } from "../../src/quality/disagreements.ts";
import { compareIdentifications, USUAL_IDENTIFICATION_RULES } from "../../src/quality/identification.ts";
import type { RecheckedSample } from "../../src/quality/identification-batch.ts";
import {
  disputedTaxa,
  summariseSamples,
  summariseTaxonomists,
} from "../../src/quality/identification-batch.ts";
import { sheet, smallTree } from "./small-tree.ts";

const TREE = smallTree();

function rechecked(
  sampleId: string,
  taxonomist: string,
  primaryCounts: Record<string, number>,
  recheckCounts: Record<string, number>,
): RecheckedSample {
  const primary = sheet(TREE, primaryCounts);
  const recheck = sheet(TREE, recheckCounts);
  const figures = compareIdentifications(sampleId, TREE, primary, recheck, USUAL_IDENTIFICATION_RULES);
  const disagreements = disagreementsOf(sampleId, TREE, figures.matching, { primary, recheck });
  return { figures, primary, recheck, disagreements, taxonomist, date: "" };
}

// PTD: S1 10 of 100 = 10 percent; S2 20 of 50 = 40 percent; S3 0; S4 2 of 10 = 20 percent.
const batch = () => [
  rechecked("S1", "ana", { Baetis: 90, Epeorus: 10 }, { Baetis: 90, Rhithrogena: 10 }),
  rechecked("S2", "ana", { Epeorus: 50 }, { Epeorus: 30, Rhithrogena: 8, Cinygmula: 12 }),
  rechecked("S3", "bo", { Simulium: 7 }, { Simulium: 7 }),
  rechecked("S4", "", { Baetis: 10 }, { Baetis: 8 }),
];

describe("summariseTaxonomists", () => {
  it("gives means over samples and the pooled figure over animals: 25 and 30 of 150", () => {
    const [ana, bo, unknown] = summariseTaxonomists(batch());
    expect(ana).toMatchObject({
      taxonomist: "ana",
      samples: 2,
      failed: 1,
      animals: 150,
      meanDisagreement: { num: 25, den: 1 },
      pooledDisagreement: { num: 20, den: 1 },
      meanEnumerationDifference: { num: 0, den: 1 },
      meanBrayCurtis: { num: 75, den: 1 },
      meanGains: { num: 0, den: 1 },
      outcome: "fail",
    });
    expect(bo).toMatchObject({ taxonomist: "bo", samples: 1, failed: 0, outcome: "pass" });
    expect(unknown?.taxonomist).toBe("");
  });

  it("puts taxonomists into code point order, whoever comes first, and gives every mean", () => {
    const summaries = summariseTaxonomists([...batch()].reverse());
    expect(summaries.map(({ taxonomist }) => taxonomist)).toEqual(["ana", "bo", ""]);
    expect(summaries).toEqual(summariseTaxonomists(batch()));
    // S5: 20 Baetidae for Baetis of 100 and 80 animals: PTD 20 of 100 counted only once more on one sheet.
    const five = rechecked("S5", "ana", { Baetidae: 20, Baetis: 80 }, { Baetis: 90 });
    expect(summariseSamples("x", [five])).toMatchObject({
      meanDisagreement: { num: 20, den: 1 },
      meanDisagreementWithoutHierarchical: { num: 10, den: 1 },
      pooledDisagreement: { num: 20, den: 1 },
      meanPercentSimilarity: { num: 80, den: 1 },
      meanEnumerationDifference: { num: 100, den: 19 },
    });
  });

  it("takes means over the samples that have the figure", () => {
    // Without an animal on a sheet there is neither a similarity of shares nor a difference of totals in percent.
    const empty = rechecked("S6", "ana", {}, { Baetis: 3 });
    expect(empty.figures.percentSimilarity).toBe(undefined);
    const same = rechecked("S7", "ana", { Baetis: 3 }, { Baetis: 3 });
    expect(summariseSamples("ana", [empty, same])).toMatchObject({
      samples: 2,
      meanPercentSimilarity: { num: 100, den: 1 },
      meanBrayCurtis: { num: 50, den: 1 },
    });
  });

  it("summarises nothing as nothing", () => {
    expect(summariseTaxonomists([])).toEqual([]);
    expect(summariseSamples("all", [])).toMatchObject({
      samples: 0,
      meanDisagreement: undefined,
      pooledDisagreement: undefined,
      outcome: "not-computable",
    });
  });
});

describe("disputedTaxa", () => {
  it("lists the names most often disputed with what the other sheet said instead", () => {
    const taxa = disputedTaxa(batch(), TREE).map((row) => [
      TREE.nameOf(row.taxon),
      row.samples,
      row.animalsPrimary,
      row.animalsRecheck,
      row.agreed,
      row.disputed,
      row.disputedSamples,
      row.mostOftenInstead === undefined ? "" : TREE.nameOf(row.mostOftenInstead),
    ]);
    expect(taxa).toEqual([
      // Epeorus: 10 Rhithrogena in S1; 8 Rhithrogena and 12 Cinygmula in S2.
      ["Epeorus", 2, 60, 30, 30, 30, 2, "Rhithrogena"],
      ["Rhithrogena", 2, 0, 18, 0, 18, 2, "Epeorus"],
      ["Cinygmula", 1, 0, 12, 0, 12, 1, "Epeorus"],
      ["Baetis", 2, 100, 98, 98, 2, 1, ""],
    ]);
    expect(disputedTaxa(batch(), TREE)[0]?.percentDisputed).toEqual({ num: 50, den: 1 });
  });

  it("names the one most often found instead, the first by name when two are", () => {
    const often = (counts: Record<string, number>) => {
      const [first] = disputedTaxa([rechecked("S", "", { Epeorus: 9 }, counts)], TREE);
      return first?.mostOftenInstead === undefined ? "" : TREE.nameOf(first.mostOftenInstead);
    };
    expect(often({ Cinygmula: 4, Rhithrogena: 5 })).toBe("Rhithrogena");
    expect(often({ Cinygmula: 5, Rhithrogena: 4 })).toBe("Cinygmula");
    expect(often({ Rhithrogena: 4, Cinygmula: 4, Epeorus: 1 })).toBe("Cinygmula");
  });

  it("adds up over samples before it says what was found instead", () => {
    const samples = [
      rechecked("S1", "", { Epeorus: 4 }, { Cinygmula: 4 }),
      rechecked("S2", "", { Epeorus: 3 }, { Rhithrogena: 3 }),
      rechecked("S3", "", { Epeorus: 3 }, { Rhithrogena: 3 }),
    ];
    for (const order of [samples, [...samples].reverse()]) {
      const [first] = disputedTaxa(order, TREE);
      expect(first?.mostOftenInstead === undefined ? "" : TREE.nameOf(first.mostOftenInstead)).toBe(
        "Rhithrogena",
      );
    }
  });

  it("counts animals that only one sheet has once, and under no other name", () => {
    const found = disputedTaxa([rechecked("S", "", { Epeorus: 9, Simulium: 2 }, { Epeorus: 9 })], TREE);
    expect(found.map((row) => [TREE.nameOf(row.taxon), row.disputed, row.mostOftenInstead])).toEqual([
      ["Simulium", 2, undefined],
    ]);
  });
});

describe("sortDisagreements", () => {
  it("puts the rows of a batch into one order, whatever the order of the samples", () => {
    const rows = batch().flatMap(({ disagreements }) => disagreements);
    const sorted = sortDisagreements(rows, TREE);
    expect(sorted.map(({ sampleId, kind, animals }) => [sampleId, kind, animals])).toEqual([
      ["S2", "different-name", 12],
      ["S1", "different-name", 10],
      ["S2", "different-name", 8],
      ["S4", "number", 2],
    ]);
    expect(sortDisagreements([...rows].reverse(), TREE)).toEqual(sorted);
    // Of equal weight the graver kind stands first, then the sample, then names, one that is missing before all.
    const equal = [
      rechecked("S9", "", { Baetis: 3 }, { Baetis: 1 }),
      rechecked("S8", "", { Simulium: 2 }, {}),
      rechecked("S8", "", {}, { Simulium: 2 }),
      rechecked("S8", "", {}, { Epeorus: 2 }),
      rechecked("S7", "", { Baetis: 2 }, { Simulium: 2 }),
      rechecked("S9", "", { Baetis: 2 }, { Baetidae: 2 }),
      rechecked("S6", "", { Epeorus: 2 }, { Simulium: 2 }),
    ].flatMap(({ disagreements }) => disagreements);
    const order = [
      ["different-name", "S6"],
      ["different-name", "S7"],
      ["coarser", "S9"],
      ["number", "S9"],
      ["missed", "S8"],
      ["missed", "S8"],
      ["missed", "S8"],
    ];
    for (const mixed of [equal, [...equal].reverse()]) {
      const found = sortDisagreements(mixed, TREE);
      expect(found.map(({ kind, sampleId }) => [kind, sampleId])).toEqual(order);
      expect(found.slice(-3).map(({ recheck }) => recheck)).toEqual([
        TREE.numberOf("Epeorus"),
        TREE.numberOf("Simulium"),
        undefined,
      ]);
    }
  });
});
