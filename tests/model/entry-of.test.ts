import { describe, expect, it } from "vitest";
import { entryOf } from "../../src/model/entry-of.ts";

describe("an entry that must be there", () => {
  it("gives what the map holds, values that count for false among it", () => {
    const map = new Map<string, number | null>([
      ["a", 0],
      ["b", null],
    ]);
    expect(entryOf(map, "a")).toBe(0);
    expect(entryOf(map, "b")).toBeNull();
  });

  it("names the key that is missing", () => {
    expect(() => entryOf(new Map([["a", 1]]), "b")).toThrow(new RangeError("no entry b in a map of 1"));
  });
});
