import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { endsOfCells, wholeIn } from "../../src/runs/plain-line.ts";

const bytes = (text: string) => new TextEncoder().encode(text);

describe("where the cells of a line end", () => {
  it.each([
    ["a,b\nc", 0, 3, [1, 3]],
    ["x\nä,\n", 2, 5, [4, 5]],
    [",", 0, 1, [0, 1]],
    ["a,b,c\n", 0, -1, undefined],
    ["a\n", 0, -1, undefined],
    ['a,"b"\n', 0, -1, undefined],
    ["", 0, -1, undefined],
  ])("%j from %i on", (text, start, end, found) => {
    const ends = new Int32Array(2);
    expect(endsOfCells(bytes(text), start, ends)).toBe(end);
    if (found !== undefined) expect([...ends]).toEqual(found);
  });
});

describe("a whole number of a line", () => {
  it("is what a run writes, and nothing else", () => {
    const text = fc.oneof(
      fc.nat().map(String),
      fc.string({ unit: fc.constantFrom("0", "1", "9", "-", " ", "/", ":", "a"), maxLength: 12 }),
    );
    fc.assert(
      fc.property(text, fc.nat(3), (said, ahead) => {
        const line = bytes(`${"7".repeat(ahead)}${said}7`);
        const number = /^(0|[1-9]\d{0,9})$/.test(said) ? Number(said) : -1;
        expect(wholeIn(line, ahead, ahead + said.length)).toBe(number);
      }),
    );
  });
});
