import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { placeInJson } from "../../src/reference/json-places.ts";

const TEXT = `{
  "id": "a",
  "list": [
    1, { "deep": "x\\"},{" },
    [ true ]
  ],
  "last": null
}`;

describe("the place of a value in JSON", () => {
  it.each([
    [[], 1, 1],
    [["id"], 2, 3],
    [["list"], 3, 3],
    [["list", 0], 4, 5],
    [["list", 1], 4, 8],
    [["list", 1, "deep"], 4, 10],
    [["list", 2, 0], 5, 7],
    [["last"], 7, 3],
    // A key that is missing: the place of what should hold it.
    [["nothing"], 1, 1],
    [["list", 1, "nothing"], 4, 8],
    [["list", 9], 3, 3],
    [["id", "deeper"], 2, 3],
  ] as const)("%j", (path, line, column) => {
    expect(placeInJson(TEXT, path)).toEqual({ line, column });
  });

  it("finds every key of any object, however it is written", () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.jsonValue(), { maxKeys: 6 }), fc.nat(4), (object, indent) => {
        const text = JSON.stringify(object, undefined, indent);
        const lines = text.split("\n");
        for (const key of Object.keys(object)) {
          const { line, column } = placeInJson(text, [key]);
          const rest = lines
            .slice(line - 1)
            .join("\n")
            .slice(column - 1);
          expect(rest.startsWith(JSON.stringify(key))).toBe(true);
        }
      }),
    );
  });
});
