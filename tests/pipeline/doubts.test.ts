import { describe, expect, it } from "vitest";
import type { ScoreSamplesRequest } from "../../src/pipeline/score-samples.ts";
import { scoreSamples } from "../../src/pipeline/score-samples.ts";
import { scorePlain, shippedSet } from "../helpers/sets.ts";

async function flagsOf(sheet: string, over: Partial<ScoreSamplesRequest> = {}, log?: string) {
  const batch = await scoreSamples({
    sheets: [{ name: "sheet.csv", content: sheet }],
    reference: "hilsenhoff-family-1988",
    ...(log === undefined ? {} : { samples: { name: "log.csv", content: log } }),
    ...over,
  });
  return [...batch.samples].map(({ score }) => [score.sampleId, score.status, score.flags.join(";")]);
}

describe("doubts of a score", () => {
  it("are there when the rows name one of two jars, and not when they name both", async () => {
    const row = (id: string, jar: string) => `${id},Baetidae,60,${jar}`;
    const sheet = [
      "sample_id,taxon,count,container",
      row("A", "1 of 2"),
      row("A", "1 of 2"),
      row("B", "1 of 2"),
      row("B", "2 of 2"),
    ];
    expect(await flagsOf(`${sheet.join("\n")}\n`)).toEqual([
      ["A", "flagged", "jars-uncounted"],
      ["B", "scored", ""],
    ]);
  });

  it("are there when expanded counts reach the least count", async () => {
    const sheet = "sample_id,taxon,count,count_basis\nA,Baetidae,120,expanded\nB,Baetidae,120,counted\n";
    expect(await flagsOf(sheet)).toEqual([
      ["A", "flagged", "expanded-counts"],
      ["B", "scored", ""],
    ]);
  });

  it("are not there for a count within the set's own tolerance of its target, but for one below it", async () => {
    // 200 animals within 20 percent: 160 is in, 159 is not. Tolerance of the demo set; half of the sample was sorted.
    const sheet = "sample_id,taxon,count\nA,Drunella,160\nB,Drunella,159\n";
    const log = "sample_id,stratum,fraction_sorted\nA,upland,0.5\nB,upland,0.5\n";
    expect(await flagsOf(sheet, { reference: "vennaloo-demo" }, log)).toEqual([
      ["A", "scored", ""],
      ["B", "flagged", "under-target"],
    ]);
    // A target of the user's own has no tolerance.
    expect(await flagsOf(sheet, { reference: "vennaloo-demo", target: 200 }, log)).toEqual([
      ["A", "flagged", "under-target"],
      ["B", "flagged", "under-target"],
    ]);
  });

  it("are there when an index lies in no class", async () => {
    const set = await shippedSet("hilsenhoff-family-1988");
    const without = { ...set, classes: set.classes.slice(1) };
    const { index, rating, findings } = scorePlain(without, { family_biotic_index: "2" });
    expect([index, rating, findings.map((one) => one.code)]).toEqual([2, "", ["no-class"]]);
    expect(scorePlain(set, { family_biotic_index: "2" }).findings).toEqual([]);
  });
});
