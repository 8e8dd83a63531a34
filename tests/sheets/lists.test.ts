import { describe, expect, it } from "vitest";
import { inputFromBytes } from "../../src/files/input.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import { readAmendments } from "../../src/sheets/amendment.ts";
import { readMetricTable } from "../../src/sheets/metric-table.ts";
import { readNamesList } from "../../src/sheets/names-list.ts";
import { readPickLog } from "../../src/sheets/pick-log.ts";
import { readSiteConditions } from "../../src/sheets/site-condition.ts";
import { readSortingChecks } from "../../src/sheets/sorting-check.ts";
import { brief } from "../helpers/reading.ts";

async function read<Result>(
  reader: (
    input: ReturnType<typeof inputFromBytes>,
    options: object,
    findings: FindingCollector,
  ) => Promise<Result>,
  text: string,
) {
  const findings = new FindingCollector();
  const result = await reader(inputFromBytes("list.csv", text), {}, findings);
  return { result, told: findings.all.map((found) => `${brief(found)} ${found.message}`) };
}

describe("the lab's list of names", () => {
  it("keeps decisions by the name on the sheet", async () => {
    const { result, told } = await read(
      readNamesList,
      "sheet_name,accepted_name,note\n Betis , Baetis ,slip\nCafe\u0301a  sp.,Caenis,\n'-x,Nais,\n",
    );
    expect(told).toEqual([]);
    expect([...result.entries]).toEqual([
      ["Betis", { accepted: "Baetis", line: 2, note: "slip" }],
      ["Caf\u00e9a sp.", { accepted: "Caenis", line: 3, note: "" }],
      ["-x", { accepted: "Nais", line: 4, note: "" }],
    ]);
    expect([result.file, result.unreadable, result.digest.rows]).toEqual(["list.csv", false, 3]);
  });

  it("notes open cases and repeats, and refuses contradictions", async () => {
    const { result, told } = await read(
      readNamesList,
      "sheet_name,accepted_name\nBetis,\nCanis,Caenis\nCanis,Caenis\nCanis,Canidae\n",
    );
    expect(told).toEqual([
      '2:2 note open-name "Betis" has no accepted name yet',
      '4:1 note repeated-name "Canis" stands in line 3 already, with the same accepted name',
      '5:2 error conflicting-names "Canis" is "Canidae" here and "Caenis" in line 3',
    ]);
    expect([[...result.entries.keys()], result.unreadable]).toEqual([["Canis"], true]);
  });

  it("refuses an accepted name without a name on the sheet", async () => {
    const { result, told } = await read(readNamesList, "sheet_name,accepted_name\n,Baetis\n");
    expect([told, result.unreadable]).toEqual([["2:1 error missing-key the row has no sheet_name"], true]);
  });
});

describe("metric tables", () => {
  const readOne = (text: string) =>
    read((input, options, findings) => readMetricTable([input], options, findings), text);
  const values = (table: Awaited<ReturnType<typeof readMetricTable>>) =>
    Object.fromEntries(
      [...table.samples].map(([id, sample]) => [
        id,
        Object.fromEntries(
          [...sample.values].map(([metric, { value }]) => [metric, `${value.num}/${value.den}`]),
        ),
      ]),
    );

  it("reads long and cross-tab tables to the same exact values", async () => {
    const long = await readOne(
      "sample_id,metric,value,stratum\nS1,taxa_richness,23,upland\nS1,tolerance_index,4.013,\nS2,taxa_richness,,valley\n",
    );
    const cross = await readOne(
      "sample_id,site_id,stratum,flags,Taxa Richness,tolerance_index\nS1,A,upland,under-target,23,4.013\nS2,B,valley,,,\n",
    );
    for (const { result, told } of [long, cross]) {
      expect(told).toEqual([]);
      expect(values(result)).toEqual({
        S1: { taxa_richness: "23/1", tolerance_index: "4013/1000" },
        S2: {},
      });
      expect([...result.samples.values()].map((sample) => sample.stratum)).toEqual(["upland", "valley"]);
      expect(result.metrics).toEqual(["taxa_richness", "tolerance_index"]);
    }
    expect(cross.result.samples.get("S1")?.values.get("tolerance_index")?.place).toEqual({
      file: "list.csv",
      line: 2,
      column: 6,
    });
  });

  it("refuses samples with a value that is no number or is given twice differently", async () => {
    const { result, told } = await readOne(
      'sample_id,metric,value,stratum\nS1,a,"1,5",x\nS2,a,1,x\nS2,a,1.0,y\nS3,a,1,\nS3,a,2,\nS4,,3,\n',
    );
    expect(told).toEqual([
      '2:3 error bad-number a "1,5" is no plain number',
      '4:4 error conflicting-values sample "S2" is in the stratum "y" here and "x" before',
      '4:3 warning repeated-value a of sample "S2" stands in list.csv:3 already, with the same value',
      '6:3 error conflicting-values a of sample "S3" stands in list.csv:5 already, with another value',
      "7:2 error missing-metric-name the row has no metric",
    ]);
    expect(Object.fromEntries(result.refused)).toEqual({
      S1: ["bad-number"],
      S2: ["conflicting-values"],
      S3: ["conflicting-values"],
      S4: ["missing-metric-name"],
    });
    expect([...result.samples.keys()]).toEqual(["S1", "S2", "S3", "S4"]);
  });
});

describe("pick logs", () => {
  it("reads what was picked, grids not picked yet, and portions exactly", async () => {
    const { result, told } = await read(
      readPickLog,
      "sample_id,order,level,grid,picked,portion,sorter\nS1,1,1,17,52,,KMO\nS1,2,1,3,31,1/3,KMO\nS1,3,1,9,,,\n",
    );
    expect(told).toEqual([]);
    expect(result.samples.get("S1")).toEqual([
      { level: 1, grid: 17, picked: 52, sorter: "KMO", place: { file: "list.csv", line: 2, column: 4 } },
      {
        level: 1,
        grid: 3,
        picked: 31,
        portion: { num: 1, den: 3 },
        sorter: "KMO",
        place: { file: "list.csv", line: 3, column: 4 },
      },
      { level: 1, grid: 9, picked: undefined, sorter: "", place: { file: "list.csv", line: 4, column: 4 } },
    ]);
  });

  it("reports every fault of a row and refuses its sample", async () => {
    const { result, told } = await read(
      readPickLog,
      "sample_id,level,grid,picked,portion\nS1,0,A3,~50,2\nS2,1,,5,\n",
    );
    expect(told).toEqual([
      '2:2 error bad-number level "0" cannot be used',
      '2:3 error bad-number grid "A3" cannot be used',
      '2:4 error bad-count count "~50" is an estimate',
      '2:5 error bad-share portion "2" cannot be used',
      "3:3 error bad-number grid is blank",
    ]);
    expect([...result.refused.keys()]).toEqual(["S1", "S2"]);
    expect([...result.samples]).toEqual([
      ["S1", []],
      ["S2", []],
    ]);
  });
});

describe("sorting checks", () => {
  it("reads checks of all or a part of the residue", async () => {
    const { result, told } = await read(
      readSortingChecks,
      "sample_id,sorted_count,recovered_count,fraction_checked,sorter\nS1,312,14,,KMO\nS2,200,3,0.25,\n",
    );
    expect(told).toEqual([]);
    expect(result.checks).toEqual([
      {
        sampleId: "S1",
        sorted: 312,
        recovered: 14,
        fractionChecked: { num: 1, den: 1 },
        sorter: "KMO",
        place: { file: "list.csv", line: 2, column: 1 },
      },
      {
        sampleId: "S2",
        sorted: 200,
        recovered: 3,
        fractionChecked: { num: 1, den: 4 },
        sorter: "",
        place: { file: "list.csv", line: 3, column: 1 },
      },
    ]);
  });

  it("refuses rows with a fault", async () => {
    const { result, told } = await read(
      readSortingChecks,
      "sample_id,sorted_count,recovered_count,fraction_checked\nS1,312.5,,25%\n",
    );
    expect(told).toEqual([
      '2:2 error bad-count sorted_count: count "312.5" is not a whole number',
      "2:3 error blank-count recovered_count: the count is blank",
      '2:4 error bad-share fraction_checked "25%" cannot be used',
    ]);
    expect([result.checks, [...result.refused.keys()]]).toEqual([[], ["S1"]]);
  });
});

describe("amendments", () => {
  it("reads corrections", async () => {
    const { result, told } = await read(
      readAmendments,
      "sample_id,taxon,old_count,new_count,reason,by,on\nS1,Baetis,61,58,re-identified,TRV,2024-07-01\n",
    );
    expect(told).toEqual([]);
    expect(result.amendments).toEqual([
      {
        sampleId: "S1",
        taxon: "Baetis",
        oldCount: 61,
        newCount: 58,
        reason: "re-identified",
        by: "TRV",
        on: "2024-07-01",
        place: { file: "list.csv", line: 2, column: 4 },
      },
    ]);
  });

  it("refuses a correction without a reason, a taxon or a number, and warns of an odd date", async () => {
    const { result, told } = await read(
      readAmendments,
      "sample_id,taxon,old_count,new_count,reason,by,on\nS1,,x,58,,TRV,1.7.2024\n",
    );
    expect(told).toEqual([
      '2:3 error bad-count old_count: count "x" says that animals were there, not how many',
      "2:2 error missing-taxon the row has no taxon",
      "2:5 error missing-reason the correction has no reason",
      '2:7 warning odd-date on "1.7.2024" cannot be used',
    ]);
    expect([result.amendments, [...result.refused.keys()]]).toEqual([[], ["S1"]]);
  });
});

describe("conditions of sites", () => {
  it("reads sites and samples, the sample when a row names both", async () => {
    const { result, told } = await read(
      readSiteConditions,
      "site_id,sample_id,condition,stratum\nV1,,Reference,upland\nV2,V2-a,stressed,\n",
    );
    expect(told).toEqual([]);
    expect([...result.sites.values()]).toEqual([
      { of: "site", id: "V1", condition: "reference", stratum: "upland", line: 2 },
    ]);
    expect([...result.samples.values()]).toEqual([
      { of: "sample", id: "V2-a", condition: "stressed", stratum: "", line: 3 },
    ]);
  });

  it("refuses contradictions, and rows and tables that do not say what they are about", async () => {
    const { result, told } = await read(
      readSiteConditions,
      "site_id,condition\nV1,reference\nV1,stressed\nV1,reference\nV2,\n,reference\n",
    );
    expect(told).toEqual([
      '3:1 error conflicting-values "V1" stands in line 2 already, with another condition or stratum',
      '4:1 warning repeated-value "V1" stands in line 2 already, with the same condition',
      '5:2 error missing-condition "V2" has no condition',
      "6:1 error missing-key the row has no site_id",
    ]);
    expect([[...result.refused.keys()], result.unreadable]).toEqual([["V1", "V2"], true]);
    const none = await read(readSiteConditions, "condition\nreference\n");
    expect([none.told, none.result.unreadable]).toEqual([
      ["1:0 error missing-column there is neither a column site_id nor a column sample_id"],
      true,
    ]);
  });
});
