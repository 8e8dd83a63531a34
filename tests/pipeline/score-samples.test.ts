import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Finding } from "../../src/findings/finding.ts";
import { toNumber } from "../../src/model/exact.ts";
import { valueAsNumber } from "../../src/model/metric-value.ts";
import type { SampleScore } from "../../src/pipeline/result.ts";
import type { ScoreSamplesRequest } from "../../src/pipeline/score-samples.ts";
import { scoreSamples } from "../../src/pipeline/score-samples.ts";

const HEADER = "sample_id,taxon,count,life_stage,part,disposition";

interface Outcome {
  readonly scores: readonly SampleScore[];
  readonly findings: readonly Finding[];
  readonly isRefused: boolean;
}

/** Fills a row up to the width of the header. */
const padded = (row: string) => row + ",".repeat(Math.max(0, 5 - (row.match(/,/g)?.length ?? 0)));

async function score(rows: readonly string[], over: Partial<ScoreSamplesRequest> = {}): Promise<Outcome> {
  const batch = await scoreSamples({
    sheets: [{ name: "sheet.csv", content: `${[HEADER, ...rows.map(padded)].join("\n")}\n` }],
    reference: "hilsenhoff-family-1988",
    ...over,
  });
  const samples = [...batch.samples];
  return {
    scores: samples.map((sample) => sample.score),
    findings: [...batch.findings, ...samples.flatMap((sample) => sample.findings)],
    isRefused: batch.isRefused,
  };
}

const indexOf = (one: SampleScore | undefined) =>
  one?.index === undefined ? undefined : toNumber(one.index);
const metric = (one: SampleScore | undefined, id: string) => {
  const found = one?.metrics.find((metricResult) => metricResult.id === id);
  return found === undefined ? undefined : valueAsNumber(found.value);
};
const log = (rows: readonly string[], columns = "sample_id,stratum") => ({
  name: "log.csv",
  content: `${[columns, ...rows].join("\n")}\n`,
});

describe("the main road", () => {
  it("gives the mean tolerance of the animals that have a value", async () => {
    // Family values of Hilsenhoff 1988 (from memory): Baetidae 4, Perlidae 1, Chironomidae 6.
    // (30 x 4 + 10 x 1 + 60 x 6) / 100 = 490 / 100 = 4.9, rated good (4.26 to 5.00)
    const { scores } = await score(["A,Baetidae,30", "A,Perlidae,10", "A,Chironomidae,60"]);
    expect([indexOf(scores[0]), scores[0]?.rating, scores[0]?.status, scores[0]?.individualsScored]).toEqual([
      4.9,
      "good",
      "scored",
      100,
    ]);
  });

  it("rounds the index to two decimals before it is classed: 751/200 = 3.755 is 3.76, very good", async () => {
    // 751 = 4 x 187 + 1 x 3 with 190 animals; with 10 of value 0 more the sum stays: 751 / 200 = 3.755
    // Baetidae 4 x 187 = 748, Perlidae 1 x 3 = 3, Leuctridae 0 x 10 = 0 (values of Hilsenhoff 1988 from memory)
    const { scores } = await score(["A,Baetidae,187", "A,Perlidae,3", "A,Leuctridae,10"]);
    expect([indexOf(scores[0]), scores[0]?.rating]).toEqual([3.76, "very good"]);
    // 750 / 200 = 3.75 is at the limit: excellent
    const at = await score(["A,Baetidae,187", "A,Perlidae,2", "A,Leuctridae,11"]);
    expect([indexOf(at.scores[0]), at.scores[0]?.rating]).toEqual([3.75, "excellent"]);
  });

  it("does not count what does not count, and says so", async () => {
    const { scores, findings } = await score([
      "A,Baetidae,100,nymph",
      "A,Baetidae,7,exuviae",
      "A,Ephemeroptera,3,adult",
      "A,Lymnaeidae,4,shell",
      "A,Actinopterygii,1",
      "A,Cambaridae,2",
      "A,Unionidae,1,,,released",
    ]);
    // Crayfish count: 100 + 2
    expect(scores[0]?.individualsCounted).toBe(102);
    const codes = findings.map((one) => `${one.line} ${one.code}`);
    expect(codes).toEqual([
      "3 excluded-animals",
      "4 excluded-animals",
      "5 excluded-animals",
      "6 excluded-animals",
      "8 released-animals",
    ]);
    expect(scores[0]?.status).toBe("scored");
  });

  it("counts a released mussel as recorded, whatever its policy, and draws no animal that does not count", async () => {
    const rows = ["A,Baetis,150", "A,Hesperoperla,60", "A,Unionidae,500,,,released", "A,Actinopterygii,500"];
    const { scores } = await score(rows, { reference: "vennaloo-demo", stratum: "upland" });
    expect([scores[0]?.individualsCounted, scores[0]?.individualsScored]).toEqual([210, 200]);
  });

  it("counts distinct taxa: no parent beside its child, stages once, large and rare finds as taxa only", async () => {
    const rows = [
      "A,Heptageniidae,5",
      "A,Epeorus,10",
      "A,Rhithrogena,10",
      "A,Simulium,20,larva",
      "A,Simulium,5,pupa",
      "A,Pacifastacus,1,,large-rare",
    ];
    const { scores } = await score(rows, { reference: "vennaloo-demo", stratum: "upland", target: null });
    // Epeorus, Rhithrogena, Simulium and the crayfish: 4 taxa; the family adds none but its 5 animals count.
    expect(metric(scores[0], "taxa_richness")).toBe(4);
    expect(scores[0]?.individualsScored).toBe(50);
    // Simulium 25 of 50 animals
    expect(metric(scores[0], "percent_dominant_taxon")).toBe(50);
  });

  it("refuses a sample with an unknown name and scores the others", async () => {
    const { scores, findings, isRefused } = await score(["A,Betis,100", "B,Baetidae,100"]);
    expect(isRefused).toBe(false);
    expect(scores.map((one) => [one.sampleId, one.status, one.flags])).toEqual([
      ["A", "refused", ["unknown-taxon"]],
      ["B", "scored", []],
    ]);
    expect(findings.find((one) => one.code === "unknown-taxon")).toMatchObject({
      file: "sheet.csv",
      line: 2,
      column: 2,
      sampleId: "A",
    });
  });

  it("lets the lab's own list decide", async () => {
    const names = { name: "names.csv", content: "sheet_name,accepted_name\nBetis,Baetis\n" };
    const { scores } = await score(["A,Betis,100"], { names });
    expect(scores[0]?.status).toBe("scored");
  });

  it("refuses a sample without a stratum the set knows, but not when the set has only one", async () => {
    const rows = ["A,Baetis,120", "B,Baetis,120", "C,Baetis,120"];
    const { scores } = await score(rows, {
      reference: "vennaloo-demo",
      samples: log(["A,upland", "B,hills", "C,"]),
    });
    expect(scores.map((one) => [one.status, one.flags])).toEqual([
      ["flagged", ["under-target"]],
      ["refused", ["no-stratum"]],
      ["refused", ["no-stratum"]],
    ]);
    const family = await score(rows, { samples: log(["A,upland", "B,hills", "C,"]) });
    expect(family.scores.map((one) => one.status)).toEqual(["scored", "scored", "scored"]);
  });

  it("holds a sample back whose jars are not all in", async () => {
    const samples = log(["A,2,1", "B,2,2"], "sample_id,containers_expected,containers_received");
    const { scores } = await score(["A,Baetidae,120", "B,Baetidae,120"], { samples });
    expect(scores.map((one) => [one.status, indexOf(one), one.flags])).toEqual([
      ["held-back", undefined, ["jars-missing"]],
      ["scored", 4, []],
    ]);
  });

  it("flags a sample outside the season, one with few animals, and one not in the log", async () => {
    const samples = log(
      ["A,upland,2024-01-12,1", "B,upland,2024-06-12,1"],
      "sample_id,stratum,collected_on,fraction_sorted",
    );
    const rows = ["A,Baetis,120", "B,Baetis,99", "C,Baetis,120"];
    const { scores, findings } = await score(rows, {
      reference: "vennaloo-demo",
      samples,
      stratum: "upland",
      target: null,
    });
    expect(scores.map((one) => one.flags)).toEqual([["outside-season"], ["few-animals"], []]);
    expect(findings.filter((one) => one.code === "not-in-log").map((one) => one.sampleId)).toEqual(["C"]);
  });

  it("gives an empty sample no index and no nought", async () => {
    const { scores } = await score(["A,Baetidae,0"]);
    expect([scores[0]?.status, indexOf(scores[0]), scores[0]?.rating]).toEqual(["flagged", undefined, ""]);
    expect(scores[0]?.flags).toContain("no-animals");
  });

  it("keeps taxa and samples with the names of object properties apart", async () => {
    const { scores } = await score(["__proto__,Baetidae,100", "constructor,Perlidae,100"]);
    expect(scores.map((one) => [one.sampleId, indexOf(one)])).toEqual([
      ["__proto__", 4],
      ["constructor", 1],
    ]);
  });

  it("draws the animals that subsample draws", async () => {
    const rows = ["A,Baetis,150", "A,Hesperoperla,80", "A,Chironomidae,170", "A,Epeorus,3"];
    const { scores } = await score(rows, { reference: "vennaloo-demo", stratum: "valley", seed: "7" });
    expect(scores[0]?.individualsScored).toBe(200);
    expect(scores[0]?.draw).toMatchObject({ status: "drawn", target: 200, seed: "7" });
  });

  it("does not depend on the order of rows, on splitting them, or on other samples", async () => {
    const base = [
      "Baetis,61",
      "Hesperoperla,44",
      "Chironomidae,93",
      "Epeorus,38",
      "Simulium,27",
      "Leuctra,5",
    ];
    const text = (one: SampleScore | undefined) =>
      JSON.stringify(one, (_, value) => (typeof value === "bigint" ? `${value}n` : value));
    const options = { reference: "vennaloo-demo", stratum: "upland", seed: "field" };
    const plain = await score(
      base.map((row) => `A,${row}`),
      options,
    );
    expect([plain.scores[0]?.individualsCounted, plain.scores[0]?.individualsScored]).toEqual([268, 200]);
    await fc.assert(
      fc.asyncProperty(
        fc.shuffledSubarray(base, { minLength: base.length }),
        fc.array(fc.tuple(fc.constantFrom("B", "C"), fc.constantFrom(...base)), { maxLength: 6 }),
        fc.integer({ min: 1, max: 60 }),
        async (order, others, part) => {
          const rows = order.map((row) => `A,${row}`);
          // One row of the sample is split in two; rows of other samples stand around it.
          const [name = "", count = "0"] = (order[0] ?? "").split(",");
          const first = Math.min(part, Number(count));
          rows[0] = `A,${name},${first}`;
          rows.push(...others.map(([id, row]) => `${id},${row}`), `A,${name},${Number(count) - first}`);
          const { scores } = await score(rows, options);
          expect(text(scores.find((one) => one.sampleId === "A"))).toBe(text(plain.scores[0]));
        },
      ),
      { numRuns: 25 },
    );
  });

  it("refuses the whole run when rows of any sample could be hidden", async () => {
    const { isRefused, scores, findings } = await score(['A,"Baetidae,100', "B,Perlidae,3"]);
    expect([isRefused, scores]).toEqual([true, []]);
    expect(findings.some((one) => one.severity === "error" && one.line === 2)).toBe(true);
  });

  it("throws for what a program got wrong", async () => {
    await expect(score(["A,Baetis,1"], { seed: "01" })).rejects.toThrow(RangeError);
    await expect(score(["A,Baetis,1"], { target: 0 })).rejects.toThrow(RangeError);
    await expect(score(["A,Baetis,1"], { reference: "vennaloo-dem" })).rejects.toThrow(/vennaloo-demo/);
    await expect(scoreSamples({ sheets: ["no-such.csv"], reference: "vennaloo-demo" })).rejects.toThrow(
      /no-such\.csv/,
    );
  });
});
