import { describe, expect, it } from "vitest";
import { findMetric } from "../../../src/metrics/registry.ts";
import { valueAsNumber } from "../../../src/model/metric-value.ts";
import { communityOf, ready, type SheetEntry } from "../../helpers/metrics/build.ts";
import { treeOf } from "../../helpers/metrics/little-tree.ts";
import type { PublishedSheet } from "./iowa-sheets.ts";
import { IOWA_SHEETS } from "./iowa-sheets.ts";

function values(sheet: PublishedSheet, asPrinted: boolean) {
  const tree = treeOf(sheet.rows);
  const rows = sheet.rows.map(
    ({ name, count }): SheetEntry => [name, count, !asPrinted && sheet.ambiguous.includes(name) ? 0 : 1],
  );
  const community = communityOf(rows, tree);
  return (metric: string): number | undefined => {
    const entry = findMetric(metric);
    if (entry === undefined) throw new Error(`no metric ${metric}`);
    return valueAsNumber(ready(entry, {}, new Map(), tree).evaluate(community, {}));
  };
}

describe.each(IOWA_SHEETS.map((sheet) => [sheet.record, sheet] as const))(
  "bench count sheet of sampling record %s",
  (_record, sheet) => {
    it("has the printed number of lines and individuals", () => {
      const value = values(sheet, true);
      expect(value("taxa_richness")).toBe(sheet.printed.lines);
      expect(value("individuals")).toBe(sheet.printed.individuals);
    });

    it("keeps the animals of ambiguous parents and leaves the parents out of richness", () => {
      const value = values(sheet, false);
      const { worked } = sheet;
      expect(value("individuals")).toBe(sheet.printed.individuals);
      expect(value("taxa_richness")).toBe(worked.distinct);
      expect(value("ept_richness")).toBe(worked.ept);
      expect(value("percent_ept")).toBeCloseTo(worked.percentEpt, 2);
      expect(value("percent_chironomidae")).toBeCloseTo(worked.percentChironomidae, 2);
      expect(value("percent_dominant_taxon")).toBeCloseTo(worked.dominant1, 2);
      expect(value("percent_three_dominant_taxa")).toBeCloseTo(worked.dominant3, 2);
      expect(value("shannon_diversity_e")).toBeCloseTo(worked.shannon, 3);
      expect(value("shannon_diversity_2")).toBeCloseTo(worked.shannon2, 4);
    });
  },
);
