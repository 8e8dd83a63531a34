import { describe, expect, it } from "vitest";
import { Dictionary } from "../../src/model/dictionary.ts";

describe("numbered texts", () => {
  it("have numbers in the order in which they first come", () => {
    const texts = new Dictionary();
    expect([texts.size, texts.texts]).toEqual([0, []]);
    expect(["b", "a", "b", "__proto__"].map((text) => texts.add(text))).toEqual([0, 1, 0, 2]);
    expect(texts.texts).toEqual(["b", "a", "__proto__"]);
    expect(texts.size).toBe(3);
    expect([texts.numberOf("a"), texts.numberOf("c"), texts.numberOf("constructor")]).toEqual([
      1,
      undefined,
      undefined,
    ]);
    expect(texts.textOf(2)).toBe("__proto__");
    expect(() => texts.textOf(3)).toThrow(new RangeError("no text has the number 3"));
  });
});
