import { describe, expect, it } from "vitest";
import { expectBatch } from "../../../src/pipeline/subsample/expected-batch.ts";
import { brief } from "../../helpers/reading.ts";
import { smallRows } from "../../helpers/small-draw.ts";

async function expectSmall(sheet: string, n: number, log?: string) {
  const { rows, policy } = await smallRows(sheet, log);
  return [...expectBatch(rows, policy, n)];
}

describe("expected richness of a batch", () => {
  it("of 3, 2 and 1 animals is 26/15 for two: 1 - 3/15 + 1 - 6/15 + 1 - 10/15 (Hurlbert 1971, by hand)", async () => {
    const [a] = await expectSmall("sample_id,taxon,count\nA,Zapada,3\nA,Simulium,2\nA,Physa,1\n", 2);
    expect([a?.status, a?.taxa, a?.counted]).toEqual(["computed", 3, 6]);
    expect(a?.expected?.expected).toBeCloseTo(26 / 15, 12);
    // Two animals are of 1 or 2 taxa; 2 with probability 11/15, so the variance is 11/15 x 4/15.
    expect(a?.expected?.standardError).toBeCloseTo(Math.sqrt(44) / 15, 12);
  });

  it("takes life stages of a taxon together, and leaves out what does not count or was searched for", async () => {
    const plain = await expectSmall("sample_id,taxon,count\nA,Zapada,30\nA,Simulium,20\n", 10);
    const [other] = await expectSmall(
      "sample_id,taxon,count,life_stage,part\nA,Zapada,30,nymph,\nA,Simulium,15,larva,\nA,Simulium,5,pupa,\nA,Actinopterygii,9,,\nA,Pteronarcys,2,,large-rare\n",
      10,
    );
    expect(other?.expected).toEqual(plain[0]?.expected);
  });

  it("says nothing of a sample with fewer animals, and names it", async () => {
    const [a] = await expectSmall("sample_id,taxon,count\nA,Zapada,9\n", 10);
    expect([a?.status, a?.expected, a?.taxa, a?.counted]).toEqual(["too-few", undefined, 1, 9]);
    expect([a?.findings.map(brief), a?.flags]).toEqual([
      ["2:1 note no-expected-richness"],
      ["no-expected-richness"],
    ]);
  });

  it("refuses unknown names, faulty rows and expanded counts", async () => {
    const sheet =
      "sample_id,taxon,count,count_basis\nA,Zapadda,9,\nB,Zapada,x,\nC,Zapada,9,expanded\nD,Zapada,9,\n";
    const all = await expectSmall(sheet, 5);
    expect(all.map(({ status, flags }) => [status, flags])).toEqual([
      ["refused", ["unknown-taxon"]],
      ["refused", ["bad-count"]],
      ["refused", ["expanded-counts"]],
      ["computed", []],
    ]);
  });
});
