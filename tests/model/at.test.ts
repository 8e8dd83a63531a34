import { describe, expect, it } from "vitest";
import { at } from "../../src/model/at.ts";

describe("the entry at a place", () => {
  it("is given from arrays, read-only ones and typed ones, whatever it holds", () => {
    const names: readonly string[] = ["Baetis", ""];
    expect([at(names, 0), at(names, 1)]).toEqual(["Baetis", ""]);
    expect(at(Int32Array.of(7, 0), 1)).toBe(0);
    expect(at(Float64Array.of(Number.NaN), 0)).toBeNaN();
    expect([at([false], 0), at([null], 0)]).toEqual([false, null]);
  });

  it.each([
    [[], 0],
    [["Baetis"], 1],
    [["Baetis"], -1],
    [["Baetis"], 0.5],
    [["Baetis"], Number.NaN],
    [Int32Array.of(7, 0), 2],
  ])("is an error that names place and length where there is none: %j, place %s", (list, index) => {
    expect(() => at<string | number>(list, index)).toThrow(
      new RangeError(`no entry ${index} in a list of ${list.length}`),
    );
  });

  it("is an error where the list has a gap", () => {
    const withGap: string[] = ["Baetis"];
    withGap[2] = "Caenis";
    expect(() => at(withGap, 1)).toThrow(new RangeError("no entry 1 in a list of 3"));
  });
});
