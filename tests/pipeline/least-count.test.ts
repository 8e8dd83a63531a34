import { describe, expect, it } from "vitest";
import { toNumber } from "../../src/model/exact.ts";
import { scoreSamples } from "../../src/pipeline/score-samples.ts";
import { writeSet } from "../helpers/sets.ts";

/** A sample of so many animals under a set that asks for 100. */
async function scored(animals: number, belowLeast: "flag" | "no-index") {
  const reference = writeSet({
    set: {
      count_rule: { target: null, least: 100, below_least: belowLeast },
      index: { method: "metric", metric: "taxa_richness" },
    },
  });
  const content = `sample_id,taxon,count\nS,Chironomidae,${animals - 1}\nS,Simulium,1\n`;
  const batch = await scoreSamples({ sheets: [{ name: "sheet.csv", content }], reference });
  const [sample] = [...batch.samples];
  const index = sample?.score.index;
  return [
    sample?.score.status,
    index === undefined ? undefined : toNumber(index),
    sample?.score.rating,
    sample?.score.flags.join(),
    sample?.score.metrics.length,
  ];
}

describe("the least count of a set", () => {
  it("is enough when it is just reached", async () => {
    expect(await scored(100, "flag")).toEqual(["scored", 2, "any", "", 1]);
    expect(await scored(100, "no-index")).toEqual(["scored", 2, "any", "", 1]);
  });

  it("flags a smaller sample, or leaves it without an index; its metrics are given", async () => {
    expect(await scored(99, "flag")).toEqual(["flagged", 2, "any", "few-animals", 1]);
    expect(await scored(99, "no-index")).toEqual(["flagged", undefined, "", "few-animals", 1]);
  });
});
