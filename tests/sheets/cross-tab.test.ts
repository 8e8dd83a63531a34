import { describe, expect, it } from "vitest";
import { ROW_FLAGS } from "../../src/model/rows.ts";
import { brief, readSheets } from "../helpers/reading.ts";

const told = (findings: Awaited<ReturnType<typeof readSheets>>["findings"]) =>
  findings.map((found) => `${brief(found)} ${found.message}`);

describe("cross-tab bench sheets", () => {
  it("reads a row a taxon and a column a sample; blank and 0 are absence", async () => {
    const { sheets, rows, findings } = await readSheets([
      "Taxon,VN-1,VN 2,VN-3\nBaetis,3,,0\nCaenis, ,12,\n",
    ]);
    expect(rows).toEqual(["VN-1|Baetis|3|unknown", "VN 2|Caenis|12|unknown"]);
    expect(sheets.table.samples.texts).toEqual(["VN-1", "VN 2", "VN-3"]);
    expect([0, 1].map((row) => [sheets.table.lineAt(row), sheets.table.columnAt(row)])).toEqual([
      [2, 2],
      [3, 3],
    ]);
    expect(findings).toEqual([]);
  });

  it("leaves out columns that are no samples, with a note for each", async () => {
    const { sheets, findings } = await readSheets([
      "Order,Family,taxon,Common Name,TSN,S1,Total,Notes\nEphemeroptera,Baetidae,Baetis,mayfly,100800,3,3,x\n",
    ]);
    expect(told(findings)).toEqual([
      '1:1 note left-out-column the column "Order" is no sample and was left out',
      '1:2 note left-out-column the column "Family" is no sample and was left out',
      '1:4 note left-out-column the column "Common Name" is no sample and was left out',
      '1:5 note left-out-column the column "TSN" is no sample and was left out',
      '1:7 note left-out-column the column "Total" is no sample and was left out',
      '1:8 note left-out-column the column "Notes" is no sample and was left out',
    ]);
    expect(sheets.table.samples.texts).toEqual(["S1"]);
  });

  it("takes facts of the row for every sample in it", async () => {
    const { sheets, rows } = await readSheets([
      "taxon,life_stage,part,S1,S2\nElmidae,A,,3,4\nPacifastacus,,large-rare,,1\n",
    ]);
    expect(rows).toEqual(["S1|Elmidae|3|adult", "S2|Elmidae|4|adult", "S2|Pacifastacus|1|unknown"]);
    expect(sheets.table.flagsAt(2)).toBe(ROW_FLAGS.largeRare);
  });

  it("refuses the samples with a cell that is no count, each in its own words", async () => {
    const { findings, refused, rows } = await readSheets([
      'taxon,S1,S2,S3\nBaetis,NA,3,1\nCaenis,1,-2,1\nNais,5,1,"1,5"\n',
    ]);
    expect(findings.map((found) => `${brief(found)} ${found.sampleId}`)).toEqual([
      "2:2 error missing-count S1",
      "3:3 error negative-count S2",
      "4:4 error bad-count S3",
    ]);
    expect(refused).toEqual({ S1: ["missing-count"], S2: ["negative-count"], S3: ["bad-count"] });
    expect(rows.length).toBe(6);
  });

  it("refuses a column without any count once, by its header", async () => {
    const { findings, refused, sheets } = await readSheets(["taxon,S1,Voucher\nBaetis,3,yes\nCaenis,1,no\n"]);
    expect(told(findings)).toEqual([
      '1:3 error not-a-sample no cell of the column "Voucher" is a count; the first is "yes" in line 2',
    ]);
    expect(refused).toEqual({ Voucher: ["not-a-sample"] });
    expect(sheets.unreadable).toBe(false);
  });

  it("passes over headings without counts and refuses counts without a taxon", async () => {
    const { findings, refused, rows } = await readSheets([
      "taxon,S1,S2\nEPHEMEROPTERA,,\nBaetis,3,1\n,,\n,7,\n",
    ]);
    expect(findings.map((found) => `${brief(found)} ${found.sampleId}`)).toEqual([
      "5:1 error missing-taxon S1",
      "4:0 warning blank-rows ",
    ]);
    expect(refused).toEqual({ S1: ["missing-taxon"] });
    expect(rows).toEqual(["S1|Baetis|3|unknown", "S2|Baetis|1|unknown"]);
  });

  it("leaves out rows of totals and holds them against the counts", async () => {
    const { findings, rows, refused } = await readSheets([
      "order,taxon,S1,S2,S3\nE,Baetis,3,1,\nE,Caenis,4,2,\n,Total,7,4,\n,TOTAL individuals:,7,3,x\n",
    ]);
    expect(rows.length).toBe(4);
    expect(findings.slice(1).map((found) => `${brief(found)} ${found.sampleId} ${found.message}`)).toEqual([
      '4:2 note left-out-row  the row "Total" sums up others and was left out',
      "4:4 warning wrong-total S2 the total is 4, the counts above it add up to 3",
      '5:2 note left-out-row  the row "TOTAL individuals:" sums up others and was left out',
    ]);
    expect(refused).toEqual({});
  });

  it("points at the cells that contradict the facts of their row", async () => {
    const { sheets, findings } = await readSheets([
      "taxon,number_of_taxa,distinct,S1,S2\nChironomidae,4,,9,3\nNais,1,maybe,2,\n",
    ]);
    expect(findings.map((found) => `${brief(found)} ${found.sampleId}`)).toEqual([
      "2:5 error bad-value S2",
      "3:3 error bad-value S1",
    ]);
    expect([sheets.table.nameColumnAt(0), Object.fromEntries(sheets.refused)]).toEqual([
      1,
      { S2: ["bad-value"], S1: ["bad-value"] },
    ]);
  });

  it.each([
    [
      "a sample column that stands twice",
      "taxon,S1,S1\nBaetis,3,4\n",
      '1:3 error duplicate-header fields 2 and 3 are both called "S1"',
    ],
    [
      "a column of counts without a name",
      "taxon,S1,\nBaetis,3,4\n",
      "1:3 error nameless-column field 3 has no name in the header and a value in line 2",
    ],
    [
      "a row that is too short",
      "taxon,S1,S2\nBaetis,3\n",
      "2:0 error ragged-row the row has 2 cells, the header 3",
    ],
    [
      "no sample column",
      "taxon,order\nBaetis,Ephemeroptera\n",
      "1:0 error missing-column there is a column for the taxon and none for a sample",
    ],
  ])("refuses the run for %s", async (_, text, expected) => {
    const { sheets, findings } = await readSheets([text]);
    expect(told(findings.filter((found) => found.severity === "error"))).toEqual([expected]);
    expect(sheets.unreadable).toBe(true);
  });
});
