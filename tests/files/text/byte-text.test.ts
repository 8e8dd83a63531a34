import fc from "fast-check";
import { expect, it } from "vitest";
import { saysText, textIn } from "../../../src/files/text/byte-text.ts";

const word = fc.string({ unit: fc.constantFrom("a", "b", "1", "ö", "\u007f", "\u0080"), maxLength: 4 });

it("makes a text of bytes between two offsets, and finds that they say a text of ASCII", () => {
  fc.assert(
    fc.property(word, word, fc.nat(3), (said, asked, ahead) => {
      const bytes = new TextEncoder().encode(`${"x".repeat(ahead)}${said}a`);
      const to = bytes.length - 1;
      expect(textIn(bytes, ahead, to)).toBe(said);
      // biome-ignore lint/suspicious/noControlCharactersInRegex: all of ASCII.
      expect(saysText(bytes, ahead, to, asked)).toBe(said === asked && /^[\u0000-\u007f]*$/.test(asked));
    }),
  );
});
