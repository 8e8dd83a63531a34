import { describe, expect, it } from "vitest";
import type { SetDefinitionInput } from "../../../src/model/reference-set.ts";
import { measureBatch } from "../../../src/pipeline/measure-batch.ts";
import { smallBatch, valuesOf } from "../../helpers/small-batch.ts";

/**
 * "Calculation of Metrics", hand-out of the University of Vermont EPSCoR streams project (Vermont DEC metric
 * definitions), items 1 and 2, as seen on documentine.com ("calculation-of-metrics-apps-epscor-w3-uvm-edu").
 */
const set: Partial<SetDefinitionInput> = {
  metrics: [{ id: "taxa_richness" }, { id: "estimated_total" }],
};

describe("the hand-out's item 2: richness with ambiguous parents, mean over replicates", () => {
  // Genus-level immatures add no taxon when a species of the genus is in the same replicate.
  const sheet = `sample_id,taxon,count
R1,Ephemerella sp,2
R1,Ephemerella dorothea,3
R1,Ephemerella invaria,0
R2,Ephemerella sp,0
R2,Ephemerella dorothea,4
R2,Ephemerella invaria,2
`;
  const log = "sample_id,replicate_of\nR1,\nR2,R1\n";
  const names =
    "sheet_name,accepted_name\nEphemerella sp,Ephemerella\nEphemerella dorothea,Ephemerella dorothea\nEphemerella invaria,Ephemerella invaria\n";

  async function richness(replicates: "each" | "mean" | "pooled") {
    const batch = await smallBatch({ sheet, log, names, set });
    return [...measureBatch(batch, { seed: "1", replicates })].map(
      ({ score }) => valuesOf<"taxa_richness">(score).taxa_richness,
    );
  }

  it("is 1 and 2 in the replicates", async () => {
    expect(await richness("each")).toEqual([1, 2]);
  });

  it("has the mean 1.5, which is not the 2 of the pooled sample", async () => {
    expect(await richness("mean")).toEqual([1.5]);
    expect(await richness("pooled")).toEqual([2]);
  });
});

describe("the hand-out's item 1: animals of the sample from the fraction sorted", () => {
  it("makes 1200 of 300 animals in a quarter", async () => {
    const batch = await smallBatch({
      sheet: "sample_id,taxon,count\nS,Epeorus,300\n",
      log: "sample_id,fraction_sorted\nS,0.25\n",
      set,
    });
    const [one] = [...measureBatch(batch, { seed: "1", replicates: "each" })];
    expect(one && valuesOf<"estimated_total">(one.score).estimated_total).toBe(1200);
    // The same when the count rule then draws 100 of the 300: the draw stands for all of them.
    const [drawn] = [...measureBatch(batch, { seed: "1", replicates: "each", target: 100 })];
    expect(drawn && valuesOf<"estimated_total">(drawn.score).estimated_total).toBe(1200);
  });
});
