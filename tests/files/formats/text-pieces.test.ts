import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { TextPieces } from "../../../src/files/formats/text-pieces.ts";

function memory() {
  const pieces: string[] = [];
  let flushes = 0;
  const sink = {
    async write(text: string) {
      pieces.push(text);
    },
    async flush() {
      flushes++;
    },
  };
  return { sink, pieces, flushes: () => flushes };
}

describe("pieces of text", () => {
  it("hold every text in its order, few and none of them empty", async () => {
    const length = fc.oneof(fc.nat(40), fc.constantFrom(0, 65_535, 65_536, 200_000));
    await fc.assert(
      fc.asyncProperty(fc.array(length, { maxLength: 12 }), async (lengths) => {
        const { sink, pieces, flushes } = memory();
        const gathered = new TextPieces(sink);
        const texts = lengths.map((own, at) => String.fromCharCode(97 + at).repeat(own));
        for (const text of texts) await gathered.add(text);
        await gathered.end();
        expect(pieces.join("")).toBe(texts.join(""));
        expect(pieces).not.toContain("");
        expect(pieces.slice(0, -1).every((piece) => piece.length >= 65_536)).toBe(true);
        expect(flushes()).toBe(1);
      }),
    );
  });

  it("have nothing to wait for until a piece is full", async () => {
    const { sink, pieces } = memory();
    const gathered = new TextPieces(sink);
    expect(gathered.add("x".repeat(65_535))).toBe(undefined);
    expect(pieces).toEqual([]);
    await expect(gathered.add("x")).resolves.toBe(undefined);
    expect(pieces.map((piece) => piece.length)).toEqual([65_536]);
  });

  it("tell of a sink that fails", async () => {
    const gathered = new TextPieces({ write: () => Promise.reject(new Error("full")) });
    expect(gathered.add("a")).toBe(undefined);
    await expect(gathered.end()).rejects.toThrow("full");
  });
});
