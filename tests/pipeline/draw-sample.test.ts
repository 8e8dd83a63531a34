import { describe, expect, it } from "vitest";
import { scoreSamples } from "../../src/pipeline/score-samples.ts";
import { writeSet } from "../helpers/sets.ts";

type CountRule = { within_percent?: number; draw_above?: "target" | "range" };

/** Animals scored of a sample of so many, half of it sorted, under a set that counts 200; and its flags. */
async function kept(animals: number, rule: CountRule, target?: number) {
  const reference = writeSet({ set: { count_rule: { target: 200, least: null, ...rule } } });
  const sheet = `sample_id,taxon,count\nS,Chironomidae,${animals - 1}\nS,Simulium,1\n`;
  const batch = await scoreSamples({
    sheets: [{ name: "sheet.csv", content: sheet }],
    samples: { name: "log.csv", content: "sample_id,fraction_sorted\nS,0.5\n" },
    reference,
    ...(target === undefined ? {} : { target }),
  });
  const [sample] = [...batch.samples];
  return [sample?.score.individualsScored, sample?.score.draw?.status, sample?.score.flags.join()];
}

describe("the fixed count of a set", () => {
  it("draws every larger sample down to the target unless the set says otherwise", async () => {
    expect(await kept(201, {})).toEqual([200, "drawn", ""]);
    expect(await kept(201, { within_percent: 20 })).toEqual([200, "drawn", ""]);
    expect(await kept(201, { within_percent: 20, draw_above: "target" })).toEqual([200, "drawn", ""]);
  });

  // The range: Barbour MT et al. 1999, EPA 841-B-99-002, chapter 7.
  it("takes a count within the range as it is where the set says so", async () => {
    const rule: CountRule = { within_percent: 20, draw_above: "range" };
    expect(await kept(160, rule)).toEqual([160, "whole", ""]);
    expect(await kept(159, rule)).toEqual([159, "under-target", "under-target"]);
    expect(await kept(240, rule)).toEqual([240, "whole", ""]);
    expect(await kept(241, rule)).toEqual([200, "drawn", ""]);
  });

  it("has no range without a tolerance, and none around a target asked for", async () => {
    expect(await kept(201, { draw_above: "range" })).toEqual([200, "drawn", ""]);
    expect(await kept(230, { within_percent: 20, draw_above: "range" }, 200)).toEqual([200, "drawn", ""]);
  });
});
