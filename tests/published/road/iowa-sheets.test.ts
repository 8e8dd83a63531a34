import { describe, expect, it } from "vitest";
import type { SetDefinitionInput } from "../../../src/model/reference-set.ts";
import { scoreBatch } from "../../../src/pipeline/score-batch.ts";
import { loadSmall, smallBatch, valuesOf } from "../../helpers/small-batch.ts";
import type { PublishedSheet } from "../metrics/iowa-sheets.ts";
import { IOWA_SHEETS } from "../metrics/iowa-sheets.ts";

/**
 * Three bench count sheets of the Iowa DNR River & Stream Biological Monitoring public records (records 6091,
 * 5349 and 5521; source beside the data) through the whole road, from CSV to values, with the shipped tree of
 * taxa. The printed numbers are lines and individuals; the others are worked from the printed counts by hand.
 */
const METRICS = [
  "taxa_richness",
  "individuals",
  "ept_richness",
  "percent_ept",
  "percent_chironomidae",
  "percent_dominant_taxon",
  "percent_three_dominant_taxa",
  "shannon_diversity_e",
  "shannon_diversity_2",
] as const;
const set: Partial<SetDefinitionInput> = { metrics: METRICS.map((id) => ({ id })) };

/** The sheet as CSV, and a list of names in which the lab keeps every species as it is called. */
function filesOf({ rows }: PublishedSheet, distinct = "") {
  const sheet = rows.map(({ name, count }) => `S,${name},${count},${distinct}\n`).join("");
  const kept = rows.filter(({ name }) => name.includes(" ")).map(({ name }) => `${name},${name}\n`);
  return {
    sheet: `sample_id,taxon,count,distinct\n${sheet}`,
    names: `sheet_name,accepted_name\n${kept.join("")}`,
    set,
  };
}

async function valuesOfSheet(sheet: PublishedSheet, distinct = "") {
  const batch = await smallBatch(filesOf(sheet, distinct));
  const [scored] = [...scoreBatch(batch, { seed: "1", metricsOnly: true })];
  if (scored === undefined) throw new Error("no sample came out");
  return { ...valuesOf<(typeof METRICS)[number]>(scored.score), counted: scored.score.individualsCounted };
}

describe.each(IOWA_SHEETS.map((sheet) => [sheet.record, sheet] as const))(
  "bench count sheet of record %s through the whole road",
  (_record, sheet) => {
    it("has no error and counts the printed individuals", async () => {
      const { findings } = await loadSmall(filesOf(sheet));
      expect(findings.filter((one) => one.severity === "error")).toEqual([]);
      const values = await valuesOfSheet(sheet);
      expect(values.counted).toBe(sheet.printed.individuals);
      expect(values.individuals).toBe(sheet.printed.individuals);
    });

    it("has the printed number of lines when every line is said to be distinct", async () => {
      expect((await valuesOfSheet(sheet, "yes")).taxa_richness).toBe(sheet.printed.lines);
    });

    it("keeps ambiguous parents as animals and drops them as taxa", async () => {
      const values = await valuesOfSheet(sheet);
      const { worked } = sheet;
      expect(values.taxa_richness).toBe(worked.distinct);
      expect(values.ept_richness).toBe(worked.ept);
      expect(values.percent_ept).toBeCloseTo(worked.percentEpt, 2);
      expect(values.percent_chironomidae).toBeCloseTo(worked.percentChironomidae, 2);
      expect(values.percent_dominant_taxon).toBeCloseTo(worked.dominant1, 2);
      expect(values.percent_three_dominant_taxa).toBeCloseTo(worked.dominant3, 2);
      expect(values.shannon_diversity_e).toBeCloseTo(worked.shannon, 3);
      expect(values.shannon_diversity_2).toBeCloseTo(worked.shannon2, 4);
    });
  },
);
