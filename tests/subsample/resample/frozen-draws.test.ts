import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RESAMPLE_ALGORITHMS } from "../../../src/subsample/resample/algorithms.ts";
import { GridDrawer } from "../../../src/subsample/resample/grid-drawer.ts";
import {
  isDrawnWithReplacement,
  JarDrawer,
  LARGEST_JAR,
} from "../../../src/subsample/resample/jar-drawer.ts";
import { BLOCK_LENGTH, SMALL_RANGE, WordBlocks } from "../../../src/subsample/resample/word-block.ts";
import { given } from "./given-words.ts";

// Draws from a fixed seed, as this program once made them: what a version of an algorithm draws never changes.

const words = () => new WordBlocks(RESAMPLE_ALGORITHMS.animals.id, "1", "A", "jar");

const COUNTS = [6, 3, 2, 1];
const LARGE = [9000, 6000, 2000];
const GRIDS = [
  [5, 1, 0],
  [0, 3, 2],
  [0, 0, 0],
].map((grid) => Int32Array.from(grid));
const FULL = [Int32Array.from([30, 0]), Int32Array.from([1, 30])];

/** Three draws one after the other: animals of each pile, and how many different grids. */
function told(drawer: JarDrawer | GridDrawer, piles: number): string {
  const left = new Int32Array(piles);
  const draws = Array.from({ length: 3 }, () => {
    const different = drawer.draw(left);
    return `${left.join(" ")} (${different})`;
  });
  return `${drawer.varies ? "varies" : "level"}: ${draws.join(", ")}`;
}

type Case = readonly [name: string, drawer: () => JarDrawer | GridDrawer, piles: number, outcome: unknown];

const CASES: readonly Case[] = [
  [
    "a jar of whole copies",
    () => new JarDrawer(COUNTS, 12, 36, words()),
    4,
    "varies: 4 3 3 2 (0), 8 4 0 0 (0), 5 4 2 1 (0)",
  ],
  [
    "a jar with animals over",
    () => new JarDrawer(COUNTS, 12, 31, words()),
    4,
    "varies: 4 3 4 1 (0), 5 3 2 2 (0), 5 2 4 1 (0)",
  ],
  [
    "a few of a jar with animals over",
    () => new JarDrawer(COUNTS, 5, 19, words()),
    4,
    "varies: 3 1 0 1 (0), 3 1 0 1 (0), 1 3 0 1 (0)",
  ],
  [
    "a jar that was counted whole",
    () => new JarDrawer(COUNTS, 12, 12, words()),
    4,
    "level: 6 3 2 1 (0), 6 3 2 1 (0), 6 3 2 1 (0)",
  ],
  [
    "a few of a jar that was counted whole",
    () => new JarDrawer(COUNTS, 5, 12, words()),
    4,
    "varies: 2 2 1 0 (0), 3 0 1 1 (0), 2 2 0 1 (0)",
  ],
  [
    "an endless jar",
    () => new JarDrawer(COUNTS, 12, undefined, words()),
    4,
    "varies: 3 5 1 3 (0), 9 2 1 0 (0), 6 2 1 3 (0)",
  ],
  [
    "an odd number from an endless jar",
    () => new JarDrawer(COUNTS, 7, undefined, words()),
    4,
    "varies: 3 3 1 0 (0), 3 2 0 2 (0), 4 2 1 0 (0)",
  ],
  [
    "a jar too large to lay out",
    () => new JarDrawer(COUNTS, 12, 2 ** 20 + 1, words()),
    4,
    "varies: 3 5 1 3 (0), 9 2 1 0 (0), 6 2 1 3 (0)",
  ],
  [
    "many animals of a jar",
    () => new JarDrawer(LARGE, 9000, 20_000, words()),
    3,
    "varies: 4788 3160 1052 (0), 4773 3159 1068 (0), 4823 3133 1044 (0)",
  ],
  [
    "many animals of an endless jar",
    () => new JarDrawer(LARGE, 9000, undefined, words()),
    3,
    "varies: 4780 3129 1091 (0), 4764 3172 1064 (0), 4795 3170 1035 (0)",
  ],
  [
    "more animals than a block has numbers",
    () => new JarDrawer([3000, 999], 3999, undefined, words()),
    2,
    "varies: 3035 964 (0), 2947 1052 (0), 2997 1002 (0)",
  ],
  [
    "no animal",
    () => new JarDrawer(COUNTS, 0, 31, words()),
    4,
    "level: 0 0 0 0 (0), 0 0 0 0 (0), 0 0 0 0 (0)",
  ],
  ["an empty jar", () => new JarDrawer([0, 0], 0, 0, words()), 2, "level: 0 0 (0), 0 0 (0), 0 0 (0)"],
  [
    "a tray of whole copies",
    () => new GridDrawer(GRIDS, 11, 9, words()),
    3,
    "varies: 9 2 0 (2), 0 3 2 (2), 0 3 2 (2)",
  ],
  [
    "a tray with grids over",
    () => new GridDrawer(GRIDS, 11, 8, words()),
    3,
    "varies: 9 2 0 (2), 0 3 2 (2), 0 0 0 (1)",
  ],
  [
    "an endless tray",
    () => new GridDrawer(GRIDS, 11, undefined, words()),
    3,
    "varies: 2 5 4 (2), 5 4 2 (3), 0 6 4 (2)",
  ],
  [
    "a few animals of a tray",
    () => new GridDrawer(GRIDS, 4, 7, words()),
    3,
    "varies: 2 2 0 (2), 0 2 2 (2), 3 1 0 (2)",
  ],
  [
    "a tray sorted whole",
    () => new GridDrawer(GRIDS, 11, 3, words()),
    3,
    "level: 5 4 2 (3), 5 4 2 (3), 5 4 2 (3)",
  ],
  [
    "a few animals of a tray sorted whole",
    () => new GridDrawer(GRIDS, 10, 3, words()),
    3,
    "varies: 5 3 2 (3), 5 3 2 (3), 4 4 2 (3)",
  ],
  [
    "full grids",
    () => new GridDrawer(FULL, 40, undefined, words()),
    2,
    "varies: 1 39 (1), 18 22 (2), 0 40 (1)",
  ],
  [
    "no animal of a tray",
    () => new GridDrawer(GRIDS, 0, 9, words()),
    3,
    "level: 0 0 0 (2), 0 0 0 (2), 0 0 0 (2)",
  ],
  ["a tray without grids", () => new GridDrawer([], 0, 5, words()), 1, "level: 0 (0), 0 (0), 0 (0)"],
];

describe("draws that do not change", () => {
  it.each(CASES)("%s", (_, drawer, piles, outcome) => {
    expect(told(drawer(), piles)).toEqual(outcome);
  });

  it("vary where something is left to chance", () => {
    const varies = (n: number, jar: number | undefined) => new JarDrawer(COUNTS, n, jar, words()).varies;
    expect([varies(12, 12), varies(12, 13), varies(11, 12), varies(12, undefined)]).toEqual([
      false,
      true,
      true,
      true,
    ]);
    expect([varies(0, 12), varies(0, undefined)]).toEqual([false, false]);
    const tray = (n: number, onTray: number | undefined) => new GridDrawer(GRIDS, n, onTray, words()).varies;
    expect([tray(11, 3), tray(11, 4), tray(10, 3), tray(11, undefined), tray(0, 4)]).toEqual([
      false,
      true,
      true,
      true,
      false,
    ]);
  });

  it("are with replacement from jars too large to lay out", () => {
    expect([undefined, LARGEST_JAR, LARGEST_JAR + 1].map(isDrawnWithReplacement)).toEqual([
      true,
      false,
      true,
    ]);
  });

  it("are refused for numbers that are none", () => {
    const refused = (n: number, jar: number | undefined) => () => new JarDrawer(COUNTS, n, jar, words());
    expect(refused(-1, 12)).toThrow("-1 animals cannot be drawn from 12");
    expect(refused(1.5, 12)).toThrow("1.5 animals cannot be drawn from 12");
    expect(refused(13, 14)).toThrow("13 animals cannot be drawn from 12");
    expect(refused(12, 11)).toThrow("a jar of 11 animals does not hold the 12 that were counted");
    expect(refused(12, 12.5)).toThrow("a jar of 12.5 animals does not hold the 12 that were counted");
    const tray = (onTray: number) => () => new GridDrawer(GRIDS, 11, onTray, words());
    expect(tray(2)).toThrow("a tray of 2 grids does not hold the 3 that were picked");
    expect(tray(3.5)).toThrow("a tray of 3.5 grids does not hold the 3 that were picked");
  });
});

describe("random numbers of a stream", () => {
  it("are the same for the same algorithm, seed, sample and purpose only", () => {
    const first = (...of: ConstructorParameters<typeof WordBlocks>) => new WordBlocks(...of).next();
    expect(first("a/1", "1", "A", "jar")).toBe(first("a/1", "1", "A", "jar"));
    const all = [
      first("a/1", "1", "A", "jar"),
      first("a/2", "1", "A", "jar"),
      first("a/1", "2", "A", "jar"),
      first("a/1", "1", "B", "jar"),
      first("a/1", "1", "A", "counted"),
      first("a/1", "1", "A"),
    ];
    expect(new Set(all).size).toBe(all.length);
  });

  it("fall into equal parts by their upper half, and those that favour a part are thrown away", () => {
    // 2^32 = 3 x 1431655765 + 1: of the products with 3 only one with nothing below is thrown away.
    expect(given(0, 1).below(3)).toBe(0);
    const stream = given(0, 2863311531);
    expect([stream.below(3), stream.at]).toEqual([2, 2]);
    expect(given(1431655765).below(3)).toBe(0);
    expect(given(1431655766).below(3)).toBe(1);
    expect(given(4294967295).below(3)).toBe(2);
    // From 2^15 on: 2^32 mod 49152 = 16384, so that 174763 x 49152 = 2 x 2^32 + 16384 is kept, and
    // 262144 x 49152 = 3 x 2^32 thrown away.
    const large = given(0, 262144, 174763);
    expect([large.below(49152), large.at]).toEqual([2, 3]);
    // A power of two favours none.
    const even = given(0);
    expect([even.below(4), even.at]).toEqual([0, 1]);
    // 2^32 mod 6 = 4: products that leave 0 or 2 are thrown away, 1431655766 x 6 = 2 x 2^32 + 4 is kept.
    const six = given(0, 715827883, 1431655766);
    expect([six.below(6), six.at]).toEqual([2, 3]);
  });

  it("fall into parts alike by whole numbers of 32 bits and by larger ones", () => {
    const below = (n: number, words: readonly number[]) => {
      const range = BigInt(n);
      const products = words.map((word) => BigInt(word) * range);
      const used = products.findIndex((product) => product % 2n ** 32n >= 2n ** 32n % range);
      return [Number((products[used] as bigint) >> 32n), used + 1];
    };
    const word = fc.oneof(fc.nat(0xffffffff), fc.constantFrom(0, 1, 2, 0xffff, 0x10000, 0xffffffff));
    fc.assert(
      fc.property(
        fc.oneof(fc.integer({ min: 1, max: 2 ** 21 }), fc.constantFrom(1, 3, 32_767, 32_768, 32_769)),
        fc.array(word, { maxLength: 3 }),
        (n, few) => {
          const numbers = [...few, 0x80000001];
          const stream = given(...numbers);
          expect([stream.below(n), stream.at]).toEqual(below(n, numbers));
        },
      ),
    );
    // The least product of a part: 2^32 mod 32767 = 4, and 2^32 mod 49 = 37.
    for (const n of [32_767, 49])
      for (let part = 0; part < n; part += n >> 3)
        for (const more of [0, 1]) {
          const numbers = [Math.ceil((part * 2 ** 32) / n) + more, 0x80000001];
          const stream = given(...numbers);
          expect([stream.below(n), stream.at]).toEqual(below(n, numbers));
        }
  });

  it("give shares of 2^-32", () => {
    expect([given(0).share(), given(1).share(), given(2 ** 31).share()]).toEqual([0, 2 ** -32, 0.5]);
    expect(given(4294967295).share()).toBeLessThan(1);
  });

  it("come in blocks", () => {
    const stream = words();
    expect(stream.at).toBe(BLOCK_LENGTH);
    stream.next();
    expect(stream.at).toBe(1);
    expect(SMALL_RANGE).toBe(16_384);
  });
});
