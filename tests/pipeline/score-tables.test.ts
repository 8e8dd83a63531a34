import { describe, expect, it } from "vitest";
import { scoreBatch } from "../../src/pipeline/score-batch.ts";
import {
  longColumns,
  longRows,
  metricColumns,
  metricRow,
  wideColumns,
  wideRow,
} from "../../src/pipeline/score-tables.ts";
import { smallBatch } from "../helpers/small-batch.ts";

const SHEET = "sample_id,taxon,count\nA,Epeorus,6\nA,Simulium,2\nB,Zzyzx,1\nC,Nematomorpha,1\n";
const LOG = "sample_id,site_id,collected_on,stratum\nA,V1,2024-06-03,all\nB,V2,,all\nC,,,all\n";

async function scored(thresholds = "") {
  const batch = await smallBatch({
    sheet: SHEET,
    log: LOG,
    thresholds,
    set: { metrics: [{ id: "taxa_richness" }, { id: "tolerance_index" }] },
  });
  return { set: batch.compiled.set, scores: [...scoreBatch(batch, { seed: "1" })].map(({ score }) => score) };
}
const names = (columns: readonly { readonly name: string }[]) => columns.map(({ name }) => name);
const LINE =
  "all,taxa_richness,value,0,yes,10,yes,0,10,,,,\nall,tolerance_index,value,0,yes,10,yes,10,0,,,,\n";

describe("the wide layout", () => {
  it("has a score beside each value where the set scores metrics, and none where it does not", async () => {
    const { set, scores } = await scored(LINE);
    expect(names(wideColumns(set)).slice(12)).toEqual([
      "taxa_richness",
      "taxa_richness_score",
      "tolerance_index",
      "tolerance_index_score",
    ]);
    // Epeorus 0 and Simulium 6 in the table of the set: 12 / 8 = 1.5.
    expect(scores.map((score) => wideRow(set, score).slice(12))).toEqual([
      [2, 2, 1.5, 8.5],
      [null, null, null, null],
      [1, 1, null, null],
    ]);
    const plain = await scored();
    expect(names(wideColumns(plain.set)).slice(12)).toEqual(["taxa_richness", "tolerance_index"]);
    expect(plain.scores.map((score) => wideRow(plain.set, score).slice(12))).toEqual([
      [2, 1.5],
      [null, null],
      [1, null],
    ]);
  });

  it("has the ends of intervals only when asked for", async () => {
    const { set } = await scored();
    expect(names(wideColumns(set, true)).slice(-5)).toEqual([
      "index_low",
      "index_high",
      "rating_support",
      "rating_next",
      "interval",
    ]);
  });

  it("leaves empty what a refused sample does not have", async () => {
    const { set, scores } = await scored();
    const refused = scores[1];
    if (refused === undefined) throw new Error("no B");
    expect(wideRow(set, refused).slice(0, 12)).toEqual([
      "B",
      "V2",
      "",
      "all",
      "plain",
      "1.0.0",
      null,
      null,
      "refused",
      null,
      "",
      "unknown-taxon",
    ]);
  });
});

describe("the long layout", () => {
  it("has a row for each metric and one for the index; a sample without rating has its status", async () => {
    const { set, scores } = await scored(LINE);
    expect(names(longColumns())).toEqual([
      "sample_id",
      "reference_set",
      "kind",
      "name",
      "value",
      "score",
      "rating",
    ]);
    expect(names(longColumns(true)).slice(7)).toEqual(["low", "high", "support", "interval"]);
    expect(scores.flatMap((score) => longRows(set, score))).toEqual([
      ["A", "plain", "metric", "taxa_richness", 2, 2, ""],
      ["A", "plain", "metric", "tolerance_index", 1.5, 8.5, ""],
      ["A", "plain", "index", "index", 2, null, "any"],
      ["B", "plain", "index", "index", null, null, "refused"],
      ["C", "plain", "metric", "taxa_richness", 1, 1, ""],
      ["C", "plain", "metric", "tolerance_index", null, null, ""],
      ["C", "plain", "index", "index", 1, null, "any"],
    ]);
  });
});

describe("metric values alone", () => {
  const ids = ["tolerance_index", "nobody_knows"];

  it("are given in the order asked for, empty where there is none", async () => {
    const { scores } = await scored();
    expect(names(metricColumns(ids)).slice(-4)).toEqual(["status", "flags", ...ids]);
    expect(scores.map((score) => metricRow(ids, score))).toEqual([
      ["A", "V1", "2024-06-03", "all", 8, 8, expect.any(String), expect.any(String), 1.5, null],
      ["B", "V2", "", "all", null, null, "refused", "unknown-taxon", null, null],
      ["C", "", "", "all", 1, 1, expect.any(String), expect.any(String), null, null],
    ]);
  });

  it("say by which method and of which replicates they are, where there is a choice", async () => {
    const { scores } = await scored();
    const columns = names(metricColumns(ids, { parents: true, replicates: true }));
    expect(columns.slice(4, 7)).toEqual(["parents", "replicate_value", "replicates"]);
    const [row] = scores.map((score) => metricRow(ids, score, ["remove", "mean", 3]));
    expect(row).toHaveLength(columns.length);
    expect(row?.slice(4, 7)).toEqual(["remove", "mean", 3]);
  });
});
