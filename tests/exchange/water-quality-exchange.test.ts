import { describe, expect, it } from "vitest";
import { waterQualityExchange } from "../../src/exchange/water-quality-exchange.ts";
import { rowsOf } from "./rows.ts";
import { record, sample } from "./sample.ts";

const tablesOf = (...samples: ReturnType<typeof sample>[]) => rowsOf(waterQualityExchange, samples).tables;

/*
 * Columns with their limits, from the JSON Schema of the exchange, package wqx 3.0.209 (MIT),
 * json-schema/biological.json and json-schema/activitymetric.json, https://github.com/datastreamapp/wqx.
 */
const LIMITS: Readonly<Record<string, number>> = {
  "Project ID": 35,
  "Monitoring Location ID": 55,
  "Activity ID": 35,
  "Activity Type": 69,
  "Activity Media Name": 10,
  "Activity Start Date": 10,
  "Assemblage Sampled Name": 26,
  "Sample Collection Equipment Comment": 4000,
  "Net Mesh Size Unit": 12,
  "Chemical Preservative Used": 250,
  "Biological Intent": 17,
  "Subject Taxonomic Name": 131,
  "Unidentified Species ID": 120,
  "Frequency Class Descriptor": 23,
  "Characteristic Name": 255,
  "Result Unit": 12,
  "Result Value Type": 20,
  "Result Status ID": 11,
  "Result Comment": 4000,
  "Metric Type ID": 35,
  "Metric Type Context": 50,
  "Activity Metric Value Unit": 12,
  "Activity Metric Comment": 4000,
  "Index ID": 35,
};
const NUMBERS = ["Net Mesh Size Measure", "Result Value", "Activity Metric Value", "Activity Metric Score"];
/** Names of the index upload; see the template of the exchange. Their limits in the schema are not their own. */
const INDEX = [
  "Index ID",
  "Index Type ID",
  "Index Score",
  "Index Qualifier Code",
  "Index Comment",
  "Index Calculated Date",
  "Monitoring Location ID",
];

describe("columns", () => {
  it("have the names and limits of the exchange", () => {
    const [results, metrics, indices] = waterQualityExchange.tables;
    for (const column of [...(results?.columns ?? []), ...(metrics?.columns ?? [])]) {
      if (column.kind === "number") expect(NUMBERS).toContain(column.name);
      else
        expect([column.name, "most" in column ? column.most : 0]).toEqual([column.name, LIMITS[column.name]]);
    }
    expect(indices?.columns.map(({ name }) => name)).toEqual(INDEX);
  });
});

describe("rows", () => {
  it("give animals as counts", () => {
    expect(tablesOf(sample()).get("results.csv")).toEqual([
      {
        "Project ID": "Vennaloo survey",
        "Monitoring Location ID": "V1",
        "Activity ID": "V1-2023",
        "Activity Type": "Sample-Routine",
        "Activity Media Name": "Biological",
        "Activity Start Date": "2023-05-16",
        "Assemblage Sampled Name": "Benthic Macroinvertebrates",
        "Sample Collection Equipment Comment": "D-frame net",
        "Net Mesh Size Measure": 500,
        "Net Mesh Size Unit": "um",
        "Chemical Preservative Used": "",
        "Biological Intent": "Population Census",
        "Subject Taxonomic Name": "Baetis",
        "Unidentified Species ID": "",
        "Frequency Class Descriptor": "Nymph",
        "Characteristic Name": "Count",
        "Result Value": 12,
        "Result Unit": "count",
        "Result Value Type": "Actual",
        "Result Status ID": "Preliminary",
        "Result Comment": "identified by TRV",
      },
    ]);
  });

  it("name field duplicates, estimates and animals put back, and leave out what does not count", () => {
    const facts = new Map([...sample().facts, ["duplicate_of", "V1-2022"]]);
    const records = [
      record({ isExpanded: true }),
      record({ fate: "released", why: "protected" }),
      record({ fate: "excluded", why: "a fish" }),
    ];
    const rows = tablesOf(sample({ facts, records })).get("results.csv") ?? [];
    expect(rows.map((row) => [row["Activity Type"], row["Result Value Type"]])).toEqual([
      ["Quality Control Sample-Field Replicate", "Estimated"],
      ["Quality Control Sample-Field Replicate", "Actual"],
    ]);
    expect(rows[1]?.["Result Comment"]).toContain("put back alive, not part of the index: protected");
  });

  it("give metrics with their scores, and the index with its rating", () => {
    const tables = tablesOf(sample({ flags: ["under-target"] }));
    expect(tables.get("metrics.csv")?.[0]).toMatchObject({
      "Metric Type ID": "taxa_richness",
      "Metric Type Context": "vennaloo-demo",
      "Activity Metric Value": 26,
      "Activity Metric Value Unit": "count",
      "Activity Metric Score": 10,
      "Index ID": "V1-2023:vennaloo-demo",
    });
    expect(tables.get("indices.csv")).toEqual([
      {
        "Index ID": "V1-2023:vennaloo-demo",
        "Index Type ID": "vennaloo-demo",
        "Index Score": 87.5,
        "Index Qualifier Code": "",
        "Index Comment":
          "rating: excellent | Demonstration index, version 1.0.0 (invented) | 200 animals scored | random fixed count of 200, seed 1 | flags: under-target",
        "Index Calculated Date": "",
        "Monitoring Location ID": "V1",
      },
    ]);
  });

  it("leave out a metric without the score that the exchange requires, and say so", () => {
    const metrics = [
      { id: "m", name: "M", unit: "nats", value: 2.1, whyMissing: "", score: undefined },
      { id: "n", name: "N", unit: "nats", value: 2.1, whyMissing: "", score: 3 },
    ];
    const { tables, notes } = rowsOf(waterQualityExchange, [sample({ metrics })]);
    expect(
      tables.get("metrics.csv")?.map((row) => [row["Metric Type ID"], row["Activity Metric Value Unit"]]),
    ).toEqual([["n", "None"]]);
    expect(tables.get("metrics.csv")?.[0]?.["Activity Metric Comment"]).toBe("N | unit: nats");
    expect(notes).toEqual([
      "sample with a metric that has no score: the exchange requires one, so its row is left out",
    ]);
  });

  it("keep every text within its limit, and long ids apart", () => {
    const long = "a".repeat(60);
    const records = [record({ written: ["x".repeat(5000)] })];
    const { tables, notes } = rowsOf(waterQualityExchange, [
      sample({ sampleId: `${long}1`, records }),
      sample({ sampleId: `${long}2`, records }),
    ]);
    for (const [file, rows] of tables)
      for (const row of rows)
        for (const [name, cell] of Object.entries(row))
          if (typeof cell === "string" && LIMITS[name] !== undefined)
            expect([...cell].length, `${file} ${name}`).toBeLessThanOrEqual(LIMITS[name]);
    expect(new Set(tables.get("results.csv")?.map((row) => row["Activity ID"])).size).toBe(2);
    expect(new Set(tables.get("indices.csv")?.map((row) => row["Index ID"])).size).toBe(2);
    expect(notes).toContain('cell in "Activity ID", which takes 35 characters: a longer text was shortened');
  });

  it("name what the exchange requires and the log lacks, and skip samples that were not scored", () => {
    const bare = sample({ facts: new Map(), siteId: "", collectedOn: "" });
    const { tables, notes } = rowsOf(waterQualityExchange, [
      bare,
      sample({ status: "held-back", records: [] }),
    ]);
    expect(tables.get("results.csv")).toHaveLength(1);
    expect(notes).toEqual([
      "sample without a project, which the exchange requires",
      "sample without a day, which the exchange requires",
      "sample without a site",
      "sample refused or held back, so without rows",
    ]);
  });
});
