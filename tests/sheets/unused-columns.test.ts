import { describe, expect, it } from "vitest";
import { inputFromBytes } from "../../src/files/input.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import { readBenchSheets } from "../../src/sheets/bench-sheet.ts";
import { readSampleLog } from "../../src/sheets/sample-log.ts";

async function sheetFindings(header: string, row: string) {
  const findings = new FindingCollector();
  const sheets = await readBenchSheets([inputFromBytes("a.csv", `${header}\n${row}\n`)], {}, findings);
  return {
    sheets,
    messages: findings.all.map((one) => `${one.column} ${one.severity} ${one.code} ${one.message}`),
  };
}

describe("columns that are not read", () => {
  it.each([
    ["Jar", "container"],
    ["Large_rare", "part"],
    ["released", "disposition"],
    ["life_stge", "life_stage"],
    ["contaner", "container"],
    ["countbasis", "count_basis"],
  ])("%s is a doubt: it looks like %s", async (header, meant) => {
    const { messages } = await sheetFindings(`sample_id,taxon,count,${header}`, "A,Baetis,3,x");
    expect(messages).toEqual([
      `4 warning unused-column the column "${header}" is not used; did you mean ${meant}?`,
    ]);
  });

  it.each(["weather", "Order", "family", "x1", "mood"])(
    "%s is kept out of the way without a word",
    async (header) => {
      expect((await sheetFindings(`sample_id,taxon,count,${header}`, "A,Baetis,3,x")).messages).toEqual([]);
    },
  );

  it("is no doubt where the column that is meant is there", async () => {
    const { messages } = await sheetFindings("sample_id,taxon,count,container,jar", "A,Baetis,3,1 of 1,x");
    expect(messages).toEqual([]);
  });

  it.each(["Stage", "Lifestage", "life stage", "LIFE-STAGE"])(
    "%s is the life stage, long and cross-tab",
    async (header) => {
      const long = await sheetFindings(`sample_id,taxon,count,${header}`, "A,Baetis,3,exuviae");
      expect([long.messages, long.sheets.table.stageAt(0)]).toEqual([[], "exuviae"]);
      const cross = await sheetFindings(`taxon,${header},A`, "Baetis,exuviae,3");
      expect([cross.messages, cross.sheets.table.stageAt(0), cross.sheets.table.samples.texts]).toEqual([
        [],
        "exuviae",
        ["A"],
      ]);
    },
  );

  it("is looked for in the sample log too", async () => {
    const findings = new FindingCollector();
    await readSampleLog(
      inputFromBytes("log.csv", "sample_id,jars_expected,region\nA,2,upland\n"),
      {},
      findings,
    );
    expect(findings.all.map((one) => one.message)).toEqual([
      'the column "jars_expected" is not used; did you mean containers_expected?',
      'the column "region" is not used; did you mean stratum?',
    ]);
  });
});
