import { describe, expect, it } from "vitest";
import { inputFromBytes } from "../../src/files/input.ts";
import { toNumber } from "../../src/model/exact.ts";
import { loadMetricBatch } from "../../src/pipeline/metric-batch.ts";
import { scoreMetricTable } from "../../src/pipeline/score-metric-table.ts";
import type { SetFiles } from "../helpers/sets.ts";
import { row, writeSet } from "../helpers/sets.ts";

const SET: SetFiles = {
  set: {
    strata: [
      { id: "hill", title: "Hill" },
      { id: "plain", title: "Plain" },
    ],
    season: { from: "04-01", to: "10-31" },
    metrics: [{ id: "taxa_richness" }, { id: "percent_ept" }],
    index: { method: "mean" },
    ratings: { on: "unrounded", classes: [{ rating: "any" }] },
  },
  thresholds: [
    row("taxa_richness", "[0,20]", 0, 100, { stratum: "hill" }),
    row("taxa_richness", "[0,10]", 0, 100, { stratum: "plain" }),
    row("percent_ept", "[0,100]", 0, 100),
  ],
};

async function score(table: string, log?: string, options: { stratum?: string; set?: SetFiles } = {}) {
  const { batch, findings } = await loadMetricBatch(
    {
      sheets: [inputFromBytes("metrics.csv", table)],
      sampleLog: log === undefined ? undefined : inputFromBytes("log.csv", log),
    },
    writeSet(options.set ?? SET),
    "/",
  );
  const samples = batch === undefined ? [] : [...scoreMetricTable(batch, { stratum: options.stratum })];
  return {
    rows: samples.map(({ score: one }) => [
      one.sampleId,
      one.stratum,
      one.status,
      one.index === undefined ? undefined : toNumber(one.index),
      one.rating,
      one.flags.join(";"),
    ]),
    said: [...findings, ...samples.flatMap((one) => one.findings)].map(
      (one) => `${one.file}:${one.line}:${one.column} ${one.severity} ${one.code} ${one.message}`,
    ),
  };
}

describe("metric values worked out elsewhere", () => {
  it("are scored one row a metric or one column a metric, with the stratum of the table or the log", async () => {
    const long =
      "sample_id,metric,value,stratum\nA,taxa_richness,10,hill\nA,percent_ept,70,hill\nB,taxa_richness,10,plain\nB,percent_ept,70,plain\n";
    const wide = "sample_id,taxa_richness,percent_ept\nA,10,70\nB,10,70\n";
    const log = "sample_id,stratum\nA,hill\nB,plain\n";
    const expected = [
      ["A", "hill", "scored", 60, "any", ""],
      ["B", "plain", "scored", 85, "any", ""],
    ];
    expect((await score(long)).rows).toEqual(expected);
    expect((await score(wide, log)).rows).toEqual(expected);
    expect((await score(wide, undefined, { stratum: "hill" })).rows.map((one) => one[3])).toEqual([60, 60]);
  });

  it("are exact: a value that equals its limit is at the limit", async () => {
    const set = {
      ...SET,
      thresholds: [
        row("taxa_richness", "[0,4.013)", 1),
        row("taxa_richness", "[4.013,)", 5),
        row("percent_ept", "[0,100]", 1),
      ],
    };
    const found = await score("sample_id,stratum,taxa_richness,percent_ept\nA,hill,4.013,1\n", undefined, {
      set,
    });
    expect(found.rows).toEqual([["A", "hill", "scored", 3, "any", ""]]);
  });

  it("are blank, not 0, where a metric is missing", async () => {
    const { rows, said } = await score("sample_id,stratum,taxa_richness,percent_ept\nA,hill,10,\n");
    expect(rows).toEqual([["A", "hill", "flagged", undefined, "", "missing-metric"]]);
    expect(said).toEqual([
      "metrics.csv:2:1 warning missing-metric percent_ept of A is missing: the table does not give it",
    ]);
  });

  it("refuse a sample with a faulty or an impossible value and go on with the others", async () => {
    const { rows, said } = await score(
      "sample_id,stratum,taxa_richness,percent_ept\nA,hill,ten,70\nB,hill,10,170\nC,hill,-1,70\nD,hill,10,70\n",
    );
    expect(rows.map((one) => [one[0], one[2], one[5]])).toEqual([
      ["A", "refused", "bad-number"],
      ["B", "refused", "impossible-metric"],
      ["C", "refused", "impossible-metric"],
      ["D", "scored", ""],
    ]);
    expect(said.filter((one) => one.includes("impossible-metric"))).toEqual([
      "metrics.csv:3:4 error impossible-metric percent_ept of B goes from 0 to 100",
      "metrics.csv:4:3 error impossible-metric taxa_richness of C goes from 0 to any number",
    ]);
  });

  it("note a metric that the set does not use, with the closest name, and overlook our own score columns", async () => {
    const { said } = await score(
      "sample_id,stratum,taxa_richness,taxa_richness_score,percent_ept,percent_epts\nA,hill,10,50,70,1\n",
    );
    expect(said).toEqual([
      'metrics.csv:0:0 note unused-metric the set bare has no metric "percent_epts"; did you mean "percent_ept"?',
    ]);
  });

  it("heed the log: jars, season, stratum", async () => {
    const log =
      "sample_id,stratum,collected_on,containers_expected,containers_received\nA,hill,2024-01-12,1,1\nB,hill,2024-06-12,2,1\nC,valley,2024-06-12,1,1\n";
    const { rows } = await score("sample_id,taxa_richness,percent_ept\nA,10,70\nB,10,70\nC,10,70\n", log);
    expect(rows.map((one) => [one[0], one[1], one[2], one[5]])).toEqual([
      ["A", "hill", "flagged", "outside-season"],
      ["B", "hill", "held-back", "jars-missing"],
      ["C", "", "refused", "no-stratum"],
    ]);
  });

  it("are compared with the reference sample that the log names", async () => {
    const set: SetFiles = {
      set: { metrics: [{ id: "taxa_richness" }], index: { method: "sum", percent_of_reference: true } },
      thresholds: [row("taxa_richness", "[0,100]", 0, 10, { basis: "percent-of-reference" })],
    };
    const log = "sample_id,reference_sample_id\nR,\nA,R\nB,X\nC,\n";
    const { rows, said } = await score("sample_id,taxa_richness\nA,15\nR,20\nB,15\nC,15\n", log, { set });
    expect(rows.map((one) => [one[0], one[3]])).toEqual([
      ["A", 75],
      ["R", 100],
      ["B", undefined],
      ["C", undefined],
    ]);
    expect(said.filter((one) => one.includes("no-reference-sample"))).toEqual([
      "log.csv:4:2 warning no-reference-sample sample B: its reference sample X is not among the samples",
      "log.csv:5:2 warning no-reference-sample sample C names no reference sample",
    ]);
  });
});
