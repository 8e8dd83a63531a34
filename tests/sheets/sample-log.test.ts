import { describe, expect, it } from "vitest";
import { inputFromBytes } from "../../src/files/input.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import { fact, fractionSorted, numericFact } from "../../src/model/sample-facts.ts";
import { readSampleLog } from "../../src/sheets/sample-log.ts";
import { brief } from "../helpers/reading.ts";

async function readLog(text: string) {
  const findings = new FindingCollector();
  const log = await readSampleLog(inputFromBytes("log.csv", text), {}, findings);
  return {
    log,
    findings: findings.all,
    told: findings.all.map((found) => `${brief(found)} ${found.message}`),
  };
}

describe("sample logs", () => {
  it("keeps the facts as they are written, covariates too, and where they stand", async () => {
    const { log, findings } = await readLog(
      'Sample ID,collected on,tray,grids sorted,Drainage area-km2,note\nS2,2024-06-07,5x6,6, 12.5 ,\nS1,,,,,"a, b"\n',
    );
    expect(findings).toEqual([]);
    expect(log.order).toEqual(["S2", "S1"]);
    const facts = log.samples.get("S2");
    expect(Object.fromEntries(facts?.texts ?? [])).toEqual({
      sample_id: "S2",
      collected_on: "2024-06-07",
      tray: "5x6",
      grids_sorted: "6",
      drainage_area_km2: "12.5",
    });
    expect([facts?.file, facts?.line, facts?.columns.get("drainage_area_km2")]).toEqual(["log.csv", 2, 5]);
    expect(numericFact(facts, "drainage_area_km2")).toBe(12.5);
    expect(fractionSorted(facts)).toBe(0.2);
    expect(fact(log.samples.get("S1"), "note")).toBe("a, b");
  });

  // What decides about scores refuses the sample; what belongs to the record only is a warning.
  it.each([
    ["collected_on", "6/7/2024", "error bad-date"],
    ["collected_on", "2024-02-30", "error bad-date"],
    ["received_on", "2024-02-30", "warning odd-date"],
    ["sorted_on", "yesterday", "warning odd-date"],
    ["area_sampled_m2", "0,72", "error bad-number"],
    ["area_sampled_m2", "0", "error bad-number"],
    ["tray", "30 grids", "error bad-tray"],
    ["grids_sorted", "-2", "error bad-number"],
    ["fraction_sorted", "25%", "error bad-share"],
    ["fraction_sorted", "0", "error bad-share"],
    ["target", "300.5", "error bad-number"],
    ["containers_expected", "two", "error bad-number"],
    ["containers_received", "-1", "error bad-number"],
    ["latitude", "91.5", "warning odd-number"],
    ["longitude", "-190", "warning odd-number"],
    ["mesh_um", "500 um", "warning odd-number"],
    ["mesh_um", "0", "warning odd-number"],
    ["grids_sorted", "0", "error bad-number"],
    ["target", "0", "error bad-number"],
    ["preservative_fraction", "80", "warning odd-share"],
    ["ethanol_percent", "950", "warning odd-number"],
    ["ethanol_ml", "-1", "warning odd-number"],
    ["trainee", "perhaps", "warning odd-value"],
  ])("%s %j is a finding", async (column, cell, expected) => {
    const { log, findings } = await readLog(`sample_id,${column}\nS1,"${cell}"\nS2,\n`);
    expect(findings.map((found) => `${found.severity} ${found.code}`)).toEqual([expected]);
    expect(findings[0]).toMatchObject({
      line: 2,
      column: 2,
      sampleId: "S1",
      message: `${column} "${cell}" cannot be used`,
    });
    const isError = expected.startsWith("error");
    expect(Object.fromEntries(log.refused)).toEqual(isError ? { S1: [expected.slice(6)] } : {});
    // The text is kept as it is written, so that nothing is lost.
    expect([log.samples.get("S1")?.texts.get(column), log.unreadable]).toEqual([cell, false]);
  });

  it.each([
    ["collected_on", "2024-06-07"],
    ["collected_on", "2024-06-07T09:30"],
    ["area_sampled_m2", "0.72"],
    ["tray", "5 × 6"],
    ["grids_sorted", "7.5"],
    ["fraction_sorted", "1"],
    ["containers_received", "0"],
    ["preservative_fraction", "0"],
    ["trainee", "yes"],
    ["latitude", "-90"],
    ["longitude", "180"],
    ["ethanol_ml", "0"],
    ["ethanol_percent", "100"],
    ["crew", "Dip\u200bper crew"],
  ])("%s %j is in order", async (column, cell) => {
    expect((await readLog(`sample_id,${column}\nS1,${cell}\n`)).findings).toEqual([]);
  });

  it("warns of a row that stands twice and refuses rows that contradict each other", async () => {
    const { log, told } = await readLog("sample_id,site_id,crew\nS1,A,x\nS2,B,\nS1,A,x\nS2,C,y\nS2,B,z\n");
    expect(told).toEqual([
      '4:1 warning repeated-log-row sample "S1" has the same row in line 2',
      '5:2 error conflicting-log-rows sample "S2" has site_id "C" here and "B" in line 3',
      '6:3 error conflicting-log-rows sample "S2" has crew "z" here and nothing in line 3',
    ]);
    expect(Object.fromEntries(log.refused)).toEqual({ S2: ["conflicting-log-rows"] });
    expect(log.samples.get("S2")?.texts.get("site_id")).toBe("B");
  });

  it.each([
    ["a row without an id", "sample_id,site_id\n,A\n", ["2:1 error missing-key the row has no sample_id"]],
    [
      "no column of ids",
      "sample,site\nS1,A\n",
      ['1:0 error missing-column there is no column "sample_id"; the columns are sample, site'],
    ],
    [
      "a covariate that stands twice",
      "sample_id,slope,Slope\nS1,1,2\n",
      ['1:3 error duplicate-header fields 2 and 3 are both called "Slope"'],
    ],
    [
      "an id that cannot be read",
      "sample_id,site_id\nS\u00071,A\n",
      ['2:1 error control-character "S\\x071" holds the control character \\x07'],
    ],
    [
      "a broken quote",
      'sample_id,site_id\nS1,"A\n',
      ["2:2 error broken-quoting a quote opens here and is never closed"],
    ],
    [
      "a ragged row whose id is not first",
      "site_id,sample_id\nA,b,S1\n",
      ["2:0 error ragged-row the row has 3 cells, the header 2"],
    ],
  ])("is unreadable for %s", async (_, text, expected) => {
    const { log, told } = await readLog(text);
    expect(told).toEqual(expected);
    expect(log.unreadable).toBe(true);
  });

  it("refuses the sample of a ragged row when its id is first", async () => {
    const { log } = await readLog("sample_id,site_id\nS1,A,b\nS2,B\n");
    expect([Object.fromEntries(log.refused), log.order, log.unreadable]).toEqual([
      { S1: ["ragged-row"] },
      ["S2"],
      false,
    ]);
  });

  it("drops characters that nobody can see, with a warning where they are in an id", async () => {
    const { log, told } = await readLog("sample_id,crew\nS\u200b1,Dip\u200bper\n");
    expect(log.samples.get("S1")?.texts.get("crew")).toBe("Dipper");
    expect(told).toEqual([
      '2:1 warning invisible-character "S\\u200b1" holds characters that cannot be seen',
    ]);
  });

  it("keeps ids and covariates called as the language calls its own things", async () => {
    const { log } = await readLog("sample_id,__proto__\n__proto__,1\nconstructor,2\n");
    expect(log.order).toEqual(["__proto__", "constructor"]);
    expect(log.samples.get("__proto__")?.texts.get("__proto__")).toBe("1");
  });
});
