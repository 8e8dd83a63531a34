import { describe, expect, it } from "vitest";
import type { ParentGroup } from "../../src/taxa/parents.ts";
import { decideLarger, resolveParents } from "../../src/taxa/parents.ts";

// family 0, genus 1, species 2 and 3; the genus is lower than the family
const THREE_LEVELS: readonly ParentGroup[] = [
  { parent: 1, finer: [2, 3] },
  { parent: 0, finer: [1, 2, 3] },
];

describe("parents over three levels, worked by hand", () => {
  // Family 12, genus 8, species 6 and 2.
  const counts = [12, 8, 6, 2];

  it("distinct moves nobody", () => {
    const { counts: after, moves } = resolveParents("distinct", counts, THREE_LEVELS);
    expect([...after]).toEqual(counts);
    expect(moves).toEqual([]);
  });

  it("remove leaves the species", () => {
    const { counts: after, gone } = resolveParents("remove", counts, THREE_LEVELS);
    expect([...after]).toEqual([0, 0, 6, 2]);
    expect([...gone]).toEqual([1, 1, 0, 0]);
  });

  it("merge leaves the family: 12 + 8 + 6 + 2", () => {
    expect([...resolveParents("merge", counts, THREE_LEVELS).counts]).toEqual([28, 0, 0, 0]);
  });

  it("larger decides from below: 6 + 2 is not more than 8, so the genus has 16; 16 is more than 12", () => {
    expect(decideLarger(counts, THREE_LEVELS)).toEqual(["parent", "finer"]);
    expect([...resolveParents("larger", counts, THREE_LEVELS).counts]).toEqual([0, 16, 0, 0]);
  });

  it("distribute goes from below: the genus' 8 as 6 and 2, then the family's 12 as 12 to 4, that is 9 and 3", () => {
    const { counts: after, moves } = resolveParents("distribute", counts, THREE_LEVELS);
    expect([...after]).toEqual([0, 0, 21, 7]);
    expect(moves).toEqual([
      { from: 1, to: 2, animals: 6 },
      { from: 1, to: 3, animals: 2 },
      { from: 0, to: 2, animals: 9 },
      { from: 0, to: 3, animals: 3 },
    ]);
  });
});

describe("the larger side", () => {
  const ONE: readonly ParentGroup[] = [{ parent: 0, finer: [1, 2] }];

  it.each([
    [
      [10, 6, 5],
      [0, 6, 5],
    ],
    [
      [11, 6, 5],
      [22, 0, 0],
    ],
    [
      [12, 6, 5],
      [23, 0, 0],
    ],
  ])("%j becomes %j: finer records need more animals than the parent", (before, after) => {
    expect([...resolveParents("larger", before, ONE).counts]).toEqual(after);
  });
});

describe("parents over a batch", () => {
  const ONE: readonly ParentGroup[] = [{ parent: 0, finer: [1, 2] }];

  it("shares by the batch where the sample has none of the finer records", () => {
    const batch = { counts: [10, 30, 10] };
    expect([...resolveParents("distribute", [8, 0, 0], ONE, batch).counts]).toEqual([0, 6, 2]);
    expect([...resolveParents("distribute", [8, 1, 1], ONE, batch).counts]).toEqual([0, 5, 5]);
  });

  it("shares by the batch's records that are left, not by parents among them", () => {
    // The genus has no animals to share and is done with; the family's 8 go 6 to 2, none to the genus.
    const batch = { counts: [0, 5, 30, 10] };
    expect([...resolveParents("distribute", [8, 0, 0, 0], THREE_LEVELS, batch).counts]).toEqual([0, 0, 6, 2]);
  });

  it("shares nothing where nobody has any of the finer records", () => {
    for (const batch of [undefined, { counts: [8, 0, 0] }]) {
      const { counts, gone, moves } = resolveParents("distribute", [8, 0, 0], ONE, batch);
      expect([...counts]).toEqual([8, 0, 0]);
      expect([...gone]).toEqual([0, 0, 0]);
      expect(moves).toEqual([]);
    }
  });

  it("says nothing of records without animals", () => {
    expect(resolveParents("remove", [0, 6, 5], ONE).moves).toEqual([]);
    expect(resolveParents("merge", [8, 0, 5], ONE).moves).toEqual([{ from: 2, to: 0, animals: 5 }]);
  });

  it("follows the batch's decision in every sample", () => {
    const larger = decideLarger([10, 30, 10], ONE);
    expect(larger).toEqual(["finer"]);
    const batch = { counts: [10, 30, 10], larger };
    expect([...resolveParents("larger", [8, 1, 0], ONE, batch).counts]).toEqual([0, 1, 0]);
    expect([...resolveParents("larger", [8, 1, 0], ONE).counts]).toEqual([9, 0, 0]);
  });
});

it("does not change the counts it is given", () => {
  const counts = [10, 30, 10];
  for (const method of ["distinct", "remove", "merge", "larger", "distribute"] as const)
    resolveParents(method, counts, [{ parent: 0, finer: [1, 2] }]);
  expect(counts).toEqual([10, 30, 10]);
});
