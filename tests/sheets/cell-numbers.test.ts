import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CellNumbers } from "../../src/sheets/cell-numbers.ts";

const bytes = (text: string) => new TextEncoder().encode(text);
/** As the algorithm is published (Fowler, Noll and Vo). */
function fnv1a(text: string): number {
  let hash = 0x811c9dc5n;
  for (const byte of bytes(text)) hash = ((hash ^ BigInt(byte)) * 0x01000193n) & 0xffffffffn;
  return Number(hash);
}

describe("cells numbered by their bytes", () => {
  it("gives every text the number of its first appearance", () => {
    fc.assert(
      fc.property(fc.array(fc.string({ maxLength: 6 }), { maxLength: 200 }), (texts) => {
        const cells = new CellNumbers();
        const numbers = new Map<string, number>();
        for (const text of texts) {
          const cell = bytes(text);
          const known = cells.find(cell, 0, cell.length);
          expect(known).toBe(numbers.get(text) ?? -1);
          if (known < 0) numbers.set(text, cells.add(cell, 0, cell.length));
        }
        expect(cells.size).toBe(numbers.size);
        expect([...numbers.values()]).toEqual([...numbers.keys()].map((_, at) => at));
      }),
    );
  });

  it("finds where a cell ends and which it is in one look", () => {
    const ends = /[,\n"]/;
    const meaning = new Uint8Array(256);
    for (const byte of bytes(',\n"')) meaning[byte] = byte;
    fc.assert(
      fc.property(fc.array(fc.string({ unit: fc.constantFrom(...'ab ()ü,\n"') })), (texts) => {
        const cells = new CellNumbers();
        for (const text of texts) {
          const line = bytes(`,${text}\n`);
          const [cell = ""] = text.split(ends);
          const to = 1 + bytes(cell).length;
          expect(cells.findFrom(line, 1, meaning)).toBe(cells.find(line, 1, to));
          expect(cells.end).toBe(to);
          if (cells.find(line, 1, to) < 0) cells.add(line, 1, to);
        }
      }),
    );
  });

  it("tells cells apart that fall on one another", () => {
    // Pairs of one FNV-1a hash of 32 bits; recalled, and worked out here.
    const pairs = [
      ["costarring", "liquid"],
      ["declinate", "macallums"],
      ["altarage", "zinke"],
    ] as const;
    const cells = new CellNumbers();
    for (const [one, other] of pairs) {
      expect(fnv1a(one)).toBe(fnv1a(other));
      const first = cells.add(bytes(one), 0, one.length);
      expect(cells.find(bytes(other), 0, other.length)).toBe(-1);
      const second = cells.add(bytes(other), 0, other.length);
      expect(cells.find(bytes(one), 0, one.length)).toBe(first);
      expect(cells.find(bytes(other), 0, other.length)).toBe(second);
    }
  });

  it("is no cell's that is a part or more of it", () => {
    const cells = new CellNumbers();
    const number = cells.add(bytes("S-1"), 0, 3);
    expect(cells.is(number, bytes("S-1"), 0, 3)).toBe(true);
    expect(cells.is(number, bytes("S-1"), 0, 2)).toBe(false);
    expect(cells.is(number, bytes("S-11"), 0, 4)).toBe(false);
    expect(cells.is(-1, bytes(""), 0, 0)).toBe(false);
  });
});
