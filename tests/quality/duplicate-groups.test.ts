import { describe, expect, it } from "vitest";
import { groupDuplicates } from "../../src/quality/duplicate-groups.ts";

function links(...pairs: [string, string][]) {
  return groupDuplicates(pairs.map(([sampleId, of]) => ({ sampleId, of })));
}

describe("groupDuplicates", () => {
  it("makes pairs and larger groups, the primary first", () => {
    expect(links(["A-D", "A"], ["B-1", "B"], ["B-2", "B"])).toEqual({
      groups: [
        { primary: "A", sampleIds: ["A", "A-D"] },
        { primary: "B", sampleIds: ["B", "B-1", "B-2"] },
      ],
      circular: [],
    });
  });

  it("follows a duplicate of a duplicate to the first primary", () => {
    expect(links(["A-2", "A-1"], ["A-1", "A"]).groups).toEqual([
      { primary: "A", sampleIds: ["A", "A-2", "A-1"] },
    ]);
  });

  it("makes no group of a circle, nor of what hangs on it", () => {
    const found = links(["A", "B"], ["B", "A"], ["C", "A"], ["D", "D"], ["E", "F"]);
    expect(found.circular).toEqual(["A", "B", "C", "D"]);
    expect(found.groups).toEqual([{ primary: "F", sampleIds: ["F", "E"] }]);
  });

  it("takes the first of two links of a sample", () => {
    expect(links(["A", "B"], ["A", "C"]).groups).toEqual([{ primary: "B", sampleIds: ["B", "A"] }]);
  });

  it("takes ids for what they are, also odd ones", () => {
    expect(links(["__proto__", "constructor"]).groups).toEqual([
      { primary: "constructor", sampleIds: ["constructor", "__proto__"] },
    ]);
    expect(links()).toEqual({ groups: [], circular: [] });
  });
});
