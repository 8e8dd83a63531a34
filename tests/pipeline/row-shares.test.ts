import { describe, expect, it } from "vitest";
import type { ScoredSample } from "../../src/pipeline/score-batch.ts";
import { scoreBatch } from "../../src/pipeline/score-batch.ts";
import { saying, smallBatch, valuesOf } from "../helpers/small-batch.ts";

const HEADER = "sample_id,taxon,count,container,mount_fraction,count_basis,part,life_stage\n";

async function score(rows: string): Promise<ScoredSample> {
  const batch = await smallBatch({
    sheet: HEADER + rows,
    set: {
      metrics: [{ id: "taxa_richness" }, { id: "percent_dominant_taxon" }],
    },
  });
  const [first] = scoreBatch(batch, { seed: "1", target: undefined, stratum: undefined });
  if (first === undefined) throw new Error("no sample");
  return first;
}

describe("two jars of one sample", () => {
  // Jar 1: 12 of 15 animals, a quarter sorted. Jar 2: 4 of 20, all sorted. The plain sum says 16 of 35, 45.7
  // percent; the jars held 48 + 4 of 60 + 20 animals, 65.0 percent. Worked by hand.
  const UNEQUAL = "S,Baetis,12,1,0.25,,,\nS,Caenis,3,1,0.25,,,\nS,Baetis,4,2,1,,,\nS,Caenis,16,2,1,,,\n";

  it("sorted to different fractions are refused as a plain sum", async () => {
    const { score: scored, findings } = await score(UNEQUAL);
    expect([scored.status, scored.index, scored.flags]).toEqual([
      "refused",
      undefined,
      ["unequal-fractions"],
    ]);
    expect(saying(findings, "unequal-fractions")).toEqual([
      "4 error rows of S stand for 0.25 (line 2) and for 1 of what was sorted, so they cannot be summed as they are",
    ]);
  });

  it.each([
    ["both to the same fraction", UNEQUAL.replaceAll(",1,,,", ",1/4,,,").replaceAll("2,1/4", "2,0.250")],
    ["both whole, one saying so", "S,Baetis,4,1,1,,,\nS,Caenis,16,2,,,,\n"],
    [
      "with counts that were expanded already",
      "S,Baetis,48,1,,expanded,,\nS,Caenis,12,1,0.25,expanded,,\nS,Baetis,4,2,,,,\n",
    ],
    ["beside the search for large and rare animals", "S,Baetis,4,1,0.5,,,\nS,Caenis,1,2,,,large-rare,\n"],
    ["beside remains that do not count", "S,Baetis,4,1,0.5,,,\nS,Glossosoma,3,2,,,,case\n"],
    ["beside a row of no animals", "S,Baetis,4,1,0.5,,,\nS,Caenis,0,2,1,,,\n"],
  ])("are summed: %s", async (_, rows) => {
    const { score: scored, findings } = await score(rows);
    expect(saying(findings, "unequal-fractions")).toEqual([]);
    expect(["scored", "flagged"]).toContain(scored.status);
  });

  it("give the right percentage once their counts are expanded", async () => {
    const expanded =
      "S,Baetis,48,1,,expanded,,\nS,Caenis,12,1,,expanded,,\nS,Baetis,4,2,,,,\nS,Caenis,16,2,,,,\n";
    const { score: scored } = await score(expanded);
    expect(valuesOf<"percent_dominant_taxon">(scored).percent_dominant_taxon).toBe(65);
  });

  it("are refused where only one says that it was sorted in part", async () => {
    const { score: scored } = await score("S,Baetis,4,1,0.5,,,\nS,Caenis,3,2,,,,\n");
    expect([scored.status, scored.flags]).toEqual(["refused", ["unequal-fractions"]]);
  });
});
