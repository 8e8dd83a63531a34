import { describe, expect, it } from "vitest";
import type { SetDefinitionInput } from "../../src/model/reference-set.ts";
import type { MeasureChoices } from "../../src/pipeline/measure-batch.ts";
import { measureBatch } from "../../src/pipeline/measure-batch.ts";
import type { SmallFiles } from "../helpers/small-batch.ts";
import { saying, smallBatch, valuesOf } from "../helpers/small-batch.ts";

const head = "sample_id,taxon,count\n";
const set: Partial<SetDefinitionInput> = {
  metrics: [
    { id: "taxa_richness" },
    { id: "individuals" },
    { id: "percent_diptera" },
    { id: "density_per_m2" },
  ],
};

async function measured(files: SmallFiles, choices: Partial<MeasureChoices>) {
  const batch = await smallBatch({ set, ...files });
  return [...measureBatch(batch, { seed: "1", replicates: "each", ...choices })].map((one) => ({
    id: one.score.sampleId,
    parents: one.parents,
    replicates: one.replicates,
    status: one.score.status,
    counted: one.score.individualsCounted,
    ...valuesOf<"taxa_richness" | "individuals" | "percent_diptera" | "density_per_m2">(one.score),
    findings: one.findings,
  }));
}

describe("replicates", () => {
  // Two of three replicates share Epeorus; in all there are three taxa.
  const sheet = `${head}R1,Epeorus,30\nR1,Simulium,10\nX,Simulium,4\nR2,Epeorus,10\nR3,Rhithrogena,50\n`;
  const log =
    "sample_id,replicate_of,fraction_sorted,area_sampled_m2\nR1,,0.5,0.1\nR2,R1,0.5,0.1\nR3,R1,0.5,0.2\nX,,1,0.1\n";

  it("each stand by themselves unless asked otherwise", async () => {
    const each = await measured({ sheet, log }, {});
    expect(each.map(({ id, taxa_richness, replicates }) => [id, taxa_richness, replicates])).toEqual([
      ["R1", 2, 1],
      ["X", 1, 1],
      ["R2", 1, 1],
      ["R3", 1, 1],
    ]);
  });

  it("have a mean of their values", async () => {
    const [group, other] = await measured({ sheet, log }, { replicates: "mean" });
    expect(group).toMatchObject({ id: "R1", replicates: 3, status: "scored" });
    expect(group?.taxa_richness).toBeCloseTo(4 / 3, 12); // (2 + 1 + 1) / 3
    expect(group?.counted).toBeCloseTo(100 / 3, 12); // (40 + 10 + 50) / 3
    expect(group?.percent_diptera).toBeCloseTo(25 / 3, 12); // (25 + 0 + 0) / 3
    expect(group?.density_per_m2).toBeCloseTo((800 + 200 + 500) / 3, 9);
    expect(other).toMatchObject({ id: "X", replicates: 1, taxa_richness: 1 });
  });

  it("have a value of the pooled sample, which is another number", async () => {
    const [group, other] = await measured({ sheet, log }, { replicates: "pooled" });
    expect(group).toMatchObject({
      id: "R1",
      replicates: 3,
      counted: 100,
      taxa_richness: 3,
      percent_diptera: 10, // 10 of 100
      density_per_m2: 500, // 100 / 0.5 / (0.1 + 0.1 + 0.2)
    });
    expect(other).toMatchObject({ id: "X", replicates: 1, density_per_m2: 40 });
  });

  it("are pooled before they are drawn", async () => {
    const [group] = await measured({ sheet, log }, { replicates: "pooled", target: 20 });
    expect(group).toMatchObject({ counted: 100, individuals: 20, density_per_m2: 500 });
  });

  it("of different fractions sorted are not pooled", async () => {
    const uneven = log.replace("R2,R1,0.5", "R2,R1,1");
    const [group, other] = await measured({ sheet, log: uneven }, { replicates: "pooled" });
    expect(group?.status).toBe("refused");
    expect(saying(group?.findings ?? [], "replicate-fractions")).toEqual([
      "2 error the replicates of R1 were sorted to different fractions (R1 0.5, R2 1, R3 0.5), so they cannot be pooled",
    ]);
    expect(other?.status).toBe("scored");
    const [mean] = await measured({ sheet, log: uneven }, { replicates: "mean" });
    expect(mean).toMatchObject({ status: "scored", replicates: 3 });
  });

  it("refused on their own leave the mean, flagged, and refuse the pool", async () => {
    const faulty = `${sheet}R3,Nobody,1\n`;
    const [mean] = await measured({ sheet: faulty, log }, { replicates: "mean" });
    expect(mean).toMatchObject({ status: "flagged", replicates: 2, taxa_richness: 1.5 });
    const [pooled] = await measured({ sheet: faulty, log }, { replicates: "pooled" });
    expect(pooled?.status).toBe("refused");
  });

  it("whose jars are missing hold the pool back", async () => {
    const jars =
      "sample_id,replicate_of,containers_expected,containers_received\nR1,,1,1\nR2,R1,2,1\nR3,R1,1,1\n";
    const [pooled] = await measured({ sheet, log: jars }, { replicates: "pooled" });
    expect(pooled?.status).toBe("held-back");
  });

  it("lack a mean where one of them lacks the value", async () => {
    const partial = log.replace("R2,R1,0.5", "R2,R1,");
    const [mean] = await measured({ sheet, log: partial }, { replicates: "mean" });
    expect(mean?.density_per_m2).toBeUndefined();
    expect(mean?.taxa_richness).toBeCloseTo(4 / 3, 12);
  });

  it("may name a visit that is no sample, or one another in a circle", async () => {
    const visit = "sample_id,replicate_of\nR1,V\nR2,V\nR3,R2\n";
    const byVisit = await measured({ sheet, log: visit }, { replicates: "mean" });
    expect(byVisit.map(({ id, replicates }) => [id, replicates])).toEqual([
      ["V", 3],
      ["X", 1],
    ]);
    const circle = "sample_id,replicate_of\nR1,R2\nR2,R1\nR3,R3\n";
    const round = await measured({ sheet, log: circle }, { replicates: "mean" });
    expect(round.map(({ id, replicates }) => [id, replicates])).toEqual([
      ["R1", 2],
      ["X", 1],
      ["R3", 1],
    ]);
  });
});

describe("all ways of dealing with ambiguous parents", () => {
  const sheet = `${head}A,Heptageniidae,10\nA,Epeorus,30\nA,Rhithrogena,10\nA,Simulium,50\n`;

  it("stand side by side, worked by hand", async () => {
    const all = await measured({ sheet }, { parents: "all" });
    expect(all.map((one) => [one.parents, one.taxa_richness, one.individuals, one.percent_diptera])).toEqual([
      ["distinct", 3, 100, 50],
      ["remove", 3, 90, expect.closeTo(5000 / 90, 9)],
      ["merge", 2, 100, 50], // Heptageniidae 10 + 30 + 10, Simulium
      ["larger", 3, 90, expect.closeTo(5000 / 90, 9)], // 40 finer above 10
      ["distribute", 3, 100, 50], // Epeorus 37.5, Rhithrogena 12.5
    ]);
  });

  it("come out of the same draw", async () => {
    const all = await measured({ sheet }, { parents: "all", target: 30 });
    const kept = all.filter(({ parents }) => parents === "distinct" || parents === "merge");
    expect(kept.map(({ individuals }) => individuals)).toEqual([30, 30]);
    expect(new Set(kept.map(({ percent_diptera }) => percent_diptera)).size).toBe(1);
  });

  it("say what concerns the sample once", async () => {
    const all = await measured({ sheet: `${sheet}A,Actinopterygii,1\n` }, { parents: "all" });
    expect(
      all.map(({ findings }) => findings.filter((one) => one.code === "excluded-animals").length),
    ).toEqual([1, 0, 0, 0, 0]);
  });
});

describe("the mean of replicates", () => {
  const log = "sample_id,replicate_of,containers_expected,containers_received\nR1,,1,1\nR2,R1,1,1\n";

  it("of which none can be measured is refused and has no value", async () => {
    const sheet = `${head}R1,Zzyzx,3\nR2,Zzyzx,4\n`;
    const [one] = await measured({ sheet, log }, { replicates: "mean" });
    expect(one).toMatchObject({ id: "R1", status: "refused", replicates: 0, counted: undefined });
    expect(one).not.toHaveProperty("taxa_richness");
  });

  it("of values with logarithms is that of the numbers", async () => {
    // H' of two taxa alike is ln 2, of one taxon 0.
    const sheet = `${head}R1,Epeorus,5\nR1,Simulium,5\nR2,Epeorus,9\n`;
    const batch = await smallBatch({
      sheet,
      log,
      set: { metrics: [{ id: "taxa_richness" }, { id: "shannon_diversity_e" }] },
    });
    const [one] = [...measureBatch(batch, { seed: "1", replicates: "mean" })];
    if (one === undefined) throw new Error("nothing measured");
    expect(valuesOf<"shannon_diversity_e">(one.score).shannon_diversity_e).toBeCloseTo(Math.LN2 / 2, 12);
  });
});
