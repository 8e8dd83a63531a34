import { describe, expect, it } from "vitest";
import {
  ALGORITHM_IDS,
  GRID_ALGORITHMS,
  GRID_ORDER_ALGORITHMS,
  INDIVIDUAL_ALGORITHMS,
  selectAlgorithm,
} from "../../src/subsample/algorithms.ts";

const LISTS = [INDIVIDUAL_ALGORITHMS, GRID_ALGORITHMS, GRID_ORDER_ALGORITHMS] as const;

describe("the register of algorithms", () => {
  it("has unique ids of a name and a version, and a sentence for each", () => {
    expect(new Set(ALGORITHM_IDS).size).toBe(ALGORITHM_IDS.length);
    for (const id of ALGORITHM_IDS) expect(id).toMatch(/^[a-z]+(-[a-z]+)*\/[1-9][0-9]*$/);
    for (const list of LISTS) for (const { summary } of list) expect(summary).toMatch(/^[A-Z].{40,}\.$/);
  });

  it("lists the versions of a name from 1 on without a gap: old ones are never taken away", () => {
    for (const list of LISTS) {
      const [name] = list[0]?.id.split("/") ?? [];
      expect(list.map(({ id }) => id)).toEqual(list.map((_, place) => `${name}/${place + 1}`));
    }
  });

  it("gives the newest version unless another one is asked for", () => {
    for (const list of LISTS) {
      const ids = list.map(({ id }) => id);
      expect(selectAlgorithm<unknown>(list).id).toBe(ids.at(-1));
      for (const id of ids) expect(selectAlgorithm<unknown>(list, id).id).toBe(id);
    }
    expect(() => selectAlgorithm(INDIVIDUAL_ALGORITHMS, "none/1")).toThrow(RangeError);
  });
});
