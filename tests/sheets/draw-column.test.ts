import { describe, expect, it } from "vitest";
import { brief, readSheets } from "../helpers/reading.ts";

describe("the column draw", () => {
  it("is accepted where all rows are of one draw", async () => {
    const { refused, findings } = await readSheets([
      "sample_id,draw,taxon,count\nA,1,Zapada,5\nA,1,Physa,2\n",
    ]);
    expect([refused, findings]).toEqual([{}, []]);
  });

  it("refuses a sample with a later draw: its rows would be summed with those of the first", async () => {
    const { refused, findings } = await readSheets([
      "sample_id,draw,taxon,count\nA,1,Zapada,5\nA,2,Physa,4\nB,10,Zapada,5\nC,,Zapada,5\nD,drawer,Zapada,1\n",
    ]);
    expect(refused).toEqual({ A: ["bad-value"], B: ["bad-value"] });
    expect(findings.map(brief)).toEqual(["3:2 error bad-value", "4:2 error bad-value"]);
  });
});
