import { describe, expect, it } from "vitest";
import { inputFromBytes } from "../../src/files/input.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import { toNumber } from "../../src/model/exact.ts";
import { readSampleIds } from "../../src/sheets/sample-ids.ts";
import { readScoresTable } from "../../src/sheets/scores-table.ts";

async function read(text: string) {
  const findings = new FindingCollector();
  const table = await readScoresTable(inputFromBytes("scores.csv", text), {}, findings);
  const values = [...table.samples.values()].map((sample) => [
    sample.sampleId,
    sample.rating,
    Object.fromEntries([...sample.values].map(([measure, value]) => [measure, toNumber(value)])),
  ]);
  const found = findings.all.map(({ code, line, column, severity }) => [code, line, column, severity]);
  return { table, values, found };
}

const WIDE = `sample_id,site_id,status,index,rating,flags,ept_richness,ept_richness_score,tolerance_index,note
A,S1,scored,62.5,good,,12,7.5,3.75,dry
B,S1,refused,,,unknown-taxon,,,,
C,S2,flagged,40,fair,few-animals,3,2,,x
`;

describe("readScoresTable", () => {
  it("reads the wide layout: index and metrics, no scores, no words", async () => {
    const { table, values, found } = await read(WIDE);
    expect(table.measures).toEqual(["index", "ept_richness", "tolerance_index"]);
    expect(values).toEqual([
      ["A", "good", { index: 62.5, ept_richness: 12, tolerance_index: 3.75 }],
      ["B", "", {}],
      ["C", "fair", { index: 40, ept_richness: 3 }],
    ]);
    expect(table.unreadable).toBe(false);
    expect(found).toEqual([]);
  });

  it("reads the long layout to the same", async () => {
    const { table, values } = await read(`sample_id,reference_set,kind,name,value,score,rating
A,x,metric,ept_richness,12,7.5,
A,x,metric,tolerance_index,3.75,,
A,x,index,index,62.5,,good
B,x,index,index,,,refused
C,x,metric,ept_richness,3,2,
C,x,index,index,40,,fair
`);
    const wide = await read(WIDE);
    expect(table.measures).toEqual(wide.table.measures);
    expect(values).toEqual(wide.values);
  });

  it("takes a status in the place of a rating for no rating", async () => {
    const { values } = await read("sample_id,kind,name,value,rating\nA,index,index,3,flagged\n");
    expect(values).toEqual([["A", "", { index: 3 }]]);
  });

  it("keeps values exact", async () => {
    const { table } = await read("sample_id,index\nA,0.1\n");
    expect(table.samples.get("A")?.values.get("index")).toEqual({ num: 1, den: 10 });
  });

  it("refuses a word among the numbers of a metric, with its place", async () => {
    const { table, found } = await read('sample_id,index,shannon\nA,50,"1,5"\nB,40,1.2\n');
    expect(found).toEqual([["bad-number", 2, 3, "error"]]);
    expect(table.unreadable).toBe(true);
  });

  it("refuses a sample or a metric that stands there twice", async () => {
    const wide = await read("sample_id,index\nA,1\nA,2\n");
    expect(wide.found).toEqual([["repeated-score-row", 3, 1, "error"]]);
    const long = await read("sample_id,kind,name,value\nA,metric,m,1\nA,metric,m,2\n");
    expect(long.found).toEqual([["repeated-score-row", 3, 3, "error"]]);
    expect([wide.table.unreadable, long.table.unreadable]).toEqual([true, true]);
  });

  it("refuses a table without any measure, but not one without rows", async () => {
    const none = await read("sample_id,note\nA,x\n");
    expect(none.found).toEqual([["missing-column", 1, 0, "error"]]);
    expect(none.table.unreadable).toBe(true);
    expect((await read("sample_id,index\n")).table.unreadable).toBe(false);
  });
});

describe("readSampleIds", () => {
  it("reads the ids of any table, each once", async () => {
    const findings = new FindingCollector();
    const read = await readSampleIds(
      inputFromBytes("c.csv", "sorter,sample_id\nana,A\nbo,B\nana,A\n"),
      {},
      findings,
    );
    expect([...read.ids]).toEqual(["A", "B"]);
    expect(read.unreadable).toBe(false);
    expect(findings.all).toEqual([]);
  });

  it("cannot do without the column", async () => {
    const findings = new FindingCollector();
    const read = await readSampleIds(inputFromBytes("c.csv", "sample\nA\n"), {}, findings);
    expect(read.unreadable).toBe(true);
    expect(findings.all.map(({ code }) => code)).toEqual(["missing-column"]);
  });
});
