import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareCodePoints, sortByCodePoints } from "../../src/model/order.ts";

describe("code point order", () => {
  it("puts capitals before small letters and an emoji above every letter", () => {
    expect(["é", "a", "Z", "z", "\u{1F41B}", "\uFF21"].sort(compareCodePoints)).toEqual([
      "Z",
      "a",
      "z",
      "é",
      "\uFF21",
      "\u{1F41B}",
    ]);
  });

  it("is that of the code points around the two halves of large ones", () => {
    const inOrder = [
      "\uD7FF",
      "\uE000",
      "\uFFFF",
      "\u{10000}",
      "\u{103FF}",
      "\u{10400}",
      "\u{10FC00}",
      "\u{10FFFF}",
    ];
    expect([...inOrder].reverse().sort(compareCodePoints)).toEqual(inOrder);
    for (const [place, text] of inOrder.entries())
      for (const later of inOrder.slice(place + 1)) {
        expect(compareCodePoints(`a${text}b`, `a${later}a`)).toBeLessThan(0);
        expect(compareCodePoints(`a${later}a`, `a${text}b`)).toBeGreaterThan(0);
      }
    expect(compareCodePoints("\u{10FFFF}", "\u{10FFFF}")).toBe(0);
    expect(compareCodePoints("a", "ab")).toBeLessThan(0);
    expect(compareCodePoints("ab", "a")).toBeGreaterThan(0);
  });

  it("is the order of the lists of code points", () => {
    const naive = (a: string, b: string) => {
      const [x, y] = [[...a].map((c) => c.codePointAt(0) ?? 0), [...b].map((c) => c.codePointAt(0) ?? 0)];
      for (let i = 0; i < Math.min(x.length, y.length); i++)
        if (x[i] !== y[i]) return (x[i] ?? 0) - (y[i] ?? 0);
      return x.length - y.length;
    };
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), fc.string({ unit: "grapheme" }), (a, b) => {
        expect(Math.sign(compareCodePoints(a, b))).toBe(Math.sign(naive(a, b)));
      }),
    );
  });
});

describe("texts sorted by code point", () => {
  it("are as the comparison has them, with and without characters that have two halves", () => {
    const texts = (unit: fc.Arbitrary<string>) =>
      fc.array(fc.string({ unit, maxLength: 4 }), { maxLength: 8 });
    const inBasicPlane = fc.constantFrom("a", "B", "é", "\uD7FF", "\uE000", "\uFF21");
    const anywhere = fc.constantFrom("a", "\uD7FF", "\uE000", "\uFFFF", "\u{10000}", "\u{10FFFF}", "\uD800");
    fc.assert(
      fc.property(fc.oneof(texts(inBasicPlane), texts(anywhere)), (list) => {
        expect(sortByCodePoints([...list])).toEqual([...list].sort(compareCodePoints));
      }),
    );
    expect(sortByCodePoints(["\u{1F41B}", "\uFF21", "a"])).toEqual(["a", "\uFF21", "\u{1F41B}"]);
  });
});
