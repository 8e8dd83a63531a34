import { describe, expect, it } from "vitest";
import { columnsOf, distinctOf, PILE_BITS } from "../../src/taxa/counted-columns.ts";
import { pile } from "./piles.ts";

const { find, yes, no, open } = PILE_BITS;

describe("piles as columns", () => {
  it("say what the piles say", () => {
    const columns = columnsOf([
      pile("Baetis", 3),
      pile("Baetidae", 0, { largeRare: true, distinct: "no", numberOfTaxa: 2 }),
      pile("Baetis tricaudatus", 0, { distinct: "yes", beforeDraw: 4 }),
    ]);
    expect([columns.from, columns.to, columns.countsFrom]).toEqual([0, 3, 0]);
    expect([...columns.counts]).toEqual([3, 0, 0]);
    expect([...columns.before]).toEqual([0, 0, 4]);
    expect([...columns.kinds]).toEqual([1, 2, 1]);
    expect([...columns.bits]).toEqual([open, find | no, yes]);
    expect(columnsOf(columns)).toBe(columns);
  });

  it.each([
    [yes, "yes"],
    [no, "no"],
    [open, ""],
    [no | open, ""],
    [yes | no | open, "yes"],
    [find | no, "no"],
  ])("are distinct by what all their rows say: %i", (bits, distinct) => {
    expect(distinctOf(bits)).toBe(distinct);
  });
});
