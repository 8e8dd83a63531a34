import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cleanName, NORMALISATION, normaliseName } from "../../src/names/normalise.ts";

/**
 * FROZEN. Draws order their piles by these names: a change here changes every stored draw. Never edit an
 * expected value; new rules get a new version of `NORMALISATION` beside the old one.
 */
const FROZEN: readonly (readonly [string, string])[] = [
  ["Baetis", "Baetis"],
  ["BAETIS TRICAUDATUS", "Baetis tricaudatus"],
  ["baetis  tricaudatus ", "Baetis tricaudatus"],
  ["Baetis\u00a0tricaudatus", "Baetis tricaudatus"],
  ["\ufeffBaetis\u200b tricau\u00addatus", "Baetis tricaudatus"],
  ["Baetis\r\ntricaudatus\t", "Baetis tricaudatus"],
  ["Baetis\u2003sp.\u202fA", "Baetis sp. a"],
  ["Cricotopus/Orthocladius", "Cricotopus/orthocladius"],
  ["Elmidae (L)", "Elmidae (l)"],
  ["Ae\u0301schna", "Aéschna"],
  ["Aéschna", "Aéschna"],
  ["æshna", "Æshna"],
  ["ßelmis", "ßelmis"],
  ["ısonychia", "ısonychia"],
  ["\u01c5x", "\u01c4x"],
  ["İsonychia", "I\u0307sonychia".normalize("NFC")],
  ["__proto__", "__proto__"],
  ["?Baetis", "?baetis"],
  ["", ""],
  [" \u00a0\ufeff ", ""],
];

describe("the normalised name, frozen", () => {
  it("has the version that stored draws name", () => {
    expect(NORMALISATION).toBe("name-key/1");
  });

  it.each(FROZEN)("%j is %j", (written, normalised) => {
    expect(normaliseName(written)).toBe(normalised);
  });
});

describe("normalising", () => {
  it("does nothing to a name that is normalised", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), (text) => {
        const once = normaliseName(text);
        expect(normaliseName(once)).toBe(once);
      }),
      { numRuns: 2000 },
    );
  });

  it("does not depend on composition, white space or capitals", () => {
    const latin = fc.stringMatching(/^[a-zéèöñ]{1,8}$/);
    fc.assert(
      fc.property(fc.array(latin, { minLength: 1, maxLength: 3 }), (words) => {
        const plain = normaliseName(words.join(" "));
        expect(normaliseName(words.join("\u00a0 \t").normalize("NFD"))).toBe(plain);
        expect(normaliseName(` ${words.join(" ").toUpperCase()} `)).toBe(plain);
      }),
    );
  });

  it("keeps capitals when it only cleans", () => {
    expect(cleanName("  Baetis  sp.\u00a0A ")).toBe("Baetis sp. A");
  });
});
