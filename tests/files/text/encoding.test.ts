import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type BadBytes, decodeText, knownEncoding } from "../../../src/files/text/encoding.ts";

async function decode(bytes: Uint8Array, encoding: string, pieces: number[] = [bytes.length || 1]) {
  async function* chunks(): AsyncGenerator<Uint8Array> {
    for (let at = 0, turn = 0; at < bytes.length; turn++) {
      const size = pieces[turn % pieces.length] ?? 1;
      yield bytes.slice(at, at + size);
      at += size;
    }
  }
  let text = "";
  let bad: { at: number; byte: number } | undefined;
  for await (const piece of decodeText(chunks(), encoding)) {
    if (typeof piece === "string") text += piece;
    else bad = { at: text.length, byte: (piece satisfies BadBytes).badByte };
  }
  return { text, bad };
}

/** Code points of the bytes 0x80 to 0x9F in windows-1252: WHATWG Encoding Standard, index-windows-1252.txt. */
const UPPER = [
  0x20ac, 0x81, 0x201a, 0x192, 0x201e, 0x2026, 0x2020, 0x2021, 0x2c6, 0x2030, 0x160, 0x2039, 0x152, 0x8d,
  0x17d, 0x8f, 0x90, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x2dc, 0x2122, 0x161, 0x203a,
  0x153, 0x9d, 0x17e, 0x178,
];

describe("decoding", () => {
  it("gives the same text for UTF-8 however the bytes are cut", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.string({ unit: "binary", maxLength: 60 }),
        fc.array(fc.integer({ min: 1, max: 7 }), { minLength: 1, maxLength: 5 }),
        async (text, pieces) => {
          const bytes = new TextEncoder().encode(text);
          // What cannot be encoded (lone surrogates) is replaced by the encoder already.
          const whole = Buffer.from(bytes).toString("utf8");
          expect(await decode(bytes, "utf-8", pieces)).toEqual({ text: whole, bad: undefined });
        },
      ),
    );
  });

  it.each(["utf-16le", "utf-16be"])(
    "gives the same text for %s however the bytes are cut",
    async (encoding) => {
      await fc.assert(
        fc.asyncProperty(
          fc.string({ unit: "grapheme", maxLength: 40 }),
          fc.array(fc.integer({ min: 1, max: 7 }), { minLength: 1, maxLength: 5 }),
          async (text, pieces) => {
            const bytes = Buffer.from(text, "utf16le");
            if (encoding === "utf-16be") bytes.swap16();
            expect((await decode(bytes, encoding, pieces)).text).toBe(text);
          },
        ),
      );
    },
  );

  it("finds the first bad byte as an independent reading of the UTF-8 grammar does", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.uint8Array({ maxLength: 24 }),
        fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 1, maxLength: 3 }),
        async (bytes, pieces) => {
          const at = firstBadByte(bytes);
          const { text, bad } = await decode(bytes, "utf-8", pieces);
          expect(bad?.byte).toBe(at === undefined ? undefined : bytes[at]);
          if (at !== undefined) expect(Buffer.byteLength(text.slice(0, bad?.at))).toBe(at);
        },
      ),
      { numRuns: 500 },
    );
  });

  it("goes on after a bad byte, so that other faults are found", async () => {
    const bytes = Buffer.from("a\xe9b\xff,c\n", "latin1");
    expect(await decode(bytes, "utf-8", [2])).toEqual({
      text: "a\ufffdb\ufffd,c\n",
      bad: { at: 1, byte: 0xe9 },
    });
  });

  it("reports a character that the file ends within", async () => {
    const bytes = Buffer.from("ab\u00e9").subarray(0, 3);
    expect((await decode(bytes, "utf-8", [1])).bad).toEqual({ at: 2, byte: 0xc3 });
  });

  it("knows every byte of windows-1252", async () => {
    const bytes = Uint8Array.from({ length: 256 }, (_, byte) => byte);
    const { text } = await decode(bytes, "windows-1252", [13]);
    const expected = Array.from(bytes, (byte) =>
      byte >= 0x80 && byte <= 0x9f ? (UPPER[byte - 0x80] ?? 0) : byte,
    );
    expect(Array.from(text, (character) => character.codePointAt(0))).toEqual(expected);
  });

  it("reads encodings whose characters take several bytes", async () => {
    // "Gammarus" and a katakana word in Shift_JIS: 0x83 0x8F 0x83 0x80 is ワム (JIS X 0208, rows 5).
    const bytes = Buffer.from([0x47, 0x83, 0x8f, 0x83, 0x80]);
    expect((await decode(bytes, "shift_jis", [2])).text).toBe("G\u30ef\u30e0");
  });

  it.each([
    ["windows-1252", "windows-1252"],
    ["Latin1", "windows-1252"],
    [" CP1252 ", "windows-1252"],
    ["UTF8", "utf-8"],
    ["utf-16le", "utf-16le"],
    ["iso-8859-2", "iso-8859-2"],
    ["klingon", undefined],
    ["", undefined],
  ])("understands the label %j", (label, name) => {
    expect(knownEncoding(label)).toBe(name);
  });
});

/** By the table of well-formed UTF-8 byte sequences (The Unicode Standard, table 3-7). */
function firstBadByte(bytes: Uint8Array): number | undefined {
  for (let at = 0; at < bytes.length; ) {
    const first = bytes[at] ?? 0;
    if (first < 0x80) {
      at++;
      continue;
    }
    const length = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
    if (first < 0xc2 || first > 0xf4) return at;
    const low = first === 0xe0 ? 0xa0 : first === 0xf0 ? 0x90 : 0x80;
    const high = first === 0xed ? 0x9f : first === 0xf4 ? 0x8f : 0xbf;
    for (let more = 1; more < length; more++) {
      const byte = bytes[at + more];
      const [from, to] = more === 1 ? [low, high] : [0x80, 0xbf];
      if (byte === undefined || byte < from || byte > to) return at;
    }
    at += length;
  }
  return undefined;
}
