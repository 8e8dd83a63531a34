import fc from "fast-check";
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

  it("are found whatever order they come in, also where it was ascending for a while", () => {
    const text = fc.string({ unit: fc.constantFrom("a", "b", "\u{1F980}", "\uFF21"), maxLength: 3 });
    fc.assert(
      fc.property(fc.array(text), fc.nat(40), fc.array(text), (some, sorted, others) => {
        const order = [...some.slice(0, sorted).sort(), ...some.slice(sorted)];
        const texts = new Dictionary();
        const known: string[] = [];
        for (const one of order) {
          expect(texts.numberOf(one) ?? -1).toBe(known.indexOf(one));
          if (!known.includes(one)) known.push(one);
          expect(texts.add(one)).toBe(known.indexOf(one));
        }
        expect(texts.texts).toEqual(known);
        for (const one of [...others, ""]) expect(texts.numberOf(one) ?? -1).toBe(known.indexOf(one));
      }),
    );
  });
});
