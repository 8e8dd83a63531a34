import { describe, expect, it } from "vitest";
import { closestTexts, didYouMean } from "../../src/metrics/closest.ts";

describe("texts that a mistyped one may have meant", () => {
  it("stand nearest first, equally near ones by code point, three at most", () => {
    expect(closestTexts("habbit", ["habitat", "rabbit", "habits", "habit", "hobbit"])).toEqual([
      "habit",
      "hobbit",
      "rabbit",
    ]);
  });

  it("may differ in as many letters as the length allows, that many included", () => {
    expect(closestTexts("abc", ["abd", "acd", "ab", "a"])).toEqual(["ab", "abd"]);
    expect(closestTexts("abcd", ["ab", "abxy", "axyz", "abcdef", "abcdefg"])).toEqual([
      "ab",
      "abcdef",
      "abxy",
    ]);
    expect(closestTexts("abcdefg", ["abcd", "abcxyz1", "abc"])).toEqual(["abcd"]);
  });

  it("may be written in small or capital letters", () => {
    expect(closestTexts("HABIT", ["Habit"])).toEqual(["Habit"]);
  });

  it("end a sentence, or leave it as it is", () => {
    expect(didYouMean("habt", ["habit", "habits"])).toBe('; did you mean "habit" or "habits"?');
    expect(didYouMean("zzzz", ["habit"])).toBe("");
  });
});
