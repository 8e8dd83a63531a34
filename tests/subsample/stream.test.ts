import { createHash } from "node:crypto";
import fc from "fast-check";
import { xoroshiro128plusFromState } from "pure-rand/generator/xoroshiro128plus";
import { describe, expect, it } from "vitest";
import { randomStream, stateFromDigest, streamFromWords } from "../../src/subsample/stream.ts";
import { deviationByChance } from "./helpers/chi-square.ts";

const WORDS = 2n ** 32n;

/** A stream that says which of its first words `below` takes: the first accepted word gives the value. */
function firstBelow(n: number, word: number): number | undefined {
  let asked = 0;
  const stream = streamFromWords({
    next() {
      asked++;
      // The second word is 0, which is always accepted and gives 0.
      return asked === 1 ? word | 0 : 0;
    },
  });
  const value = stream.below(n);
  return asked === 1 ? value : undefined;
}

describe("below", () => {
  it("gives every number to exactly as many words as any other", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2 ** 32 }), fc.nat(2 ** 31 - 1), (n, at) => {
        const piece = WORDS / BigInt(n);
        const value = Math.min(n - 1, Math.floor((at / 2 ** 31) * n));
        const first = Number(BigInt(value) * piece);
        const last = Number((BigInt(value) + 1n) * piece - 1n);
        expect(firstBelow(n, first)).toBe(value);
        expect(firstBelow(n, last)).toBe(value);
        if (value > 0) expect(firstBelow(n, first - 1)).toBe(value - 1);
        // Beyond the last piece nothing is accepted.
        const after = BigInt(n) * piece;
        expect(firstBelow(n, Number(after) - 1)).toBe(n - 1);
        if (after < WORDS) {
          expect(firstBelow(n, Number(after))).toBe(undefined);
          expect(firstBelow(n, 2 ** 32 - 1)).toBe(undefined);
        }
      }),
      { seed: 4, numRuns: 2000 },
    );
  });

  it("goes through all words for small ranges of words of 8 bits", () => {
    // The same rule on all 2^8 leading bytes: 3 pieces of 85 words of 2^24, and 1 in 256 thrown away.
    const times = new Map<number | undefined, number>();
    for (let byte = 0; byte < 256; byte++) {
      const value = firstBelow(3, byte * 2 ** 24 + 2 ** 24 - 1);
      times.set(value, (times.get(value) ?? 0) + 1);
    }
    expect([...times]).toEqual([
      [0, 85],
      [1, 85],
      [2, 85],
      [undefined, 1],
    ]);
  });

  it("takes two words beyond 2^32, 21 bits of the first", () => {
    const words = [0xffffffff | 0, 0xffffffff | 0, 0x00000800, 0x00000005];
    const stream = streamFromWords({ next: () => words.shift() ?? 0 });
    expect(stream.below(2 ** 53)).toBe(2 ** 53 - 1);
    expect(stream.below(2 ** 53)).toBe(2 ** 32 + 5);
    const rejected = [0xffffffff | 0, 0xffffffff | 0, 0, 7];
    const second = streamFromWords({ next: () => rejected.shift() ?? 0 });
    // 2^53 is not a multiple of this range, so the largest word is thrown away.
    expect(second.below(2 ** 52 + 1)).toBe(7);
    expect(rejected).toEqual([]);
  });

  it("cuts the range of two words into equal pieces as well", () => {
    const of = (n: number, ...words: [high: number, low: number][]) => {
      const queue = words.flatMap(([high, low]) => [(high * 2 ** 11) | 0, low | 0]);
      return streamFromWords({ next: () => queue.shift() ?? 0 }).below(n);
    };
    // 2^33 pieces of 2^20: the number (2^32 x 3 + 2^21) / 2^20.
    expect(of(2 ** 33, [3, 2 ** 21])).toBe(3 * 2 ** 12 + 2);
    expect(of(2 ** 33, [3, 2 ** 21 - 1])).toBe(3 * 2 ** 12 + 1);
    // 2^52 + 1 pieces of 1: the largest is 2^52, the next one is thrown away.
    expect(of(2 ** 52 + 1, [2 ** 20, 0])).toBe(2 ** 52);
    expect(of(2 ** 52 + 1, [2 ** 20, 1], [0, 7])).toBe(7);
  });

  it("has one number only below 1, and nothing below less", () => {
    const stream = randomStream("a/1", "1", "S1");
    expect([stream.below(1), stream.below(1)]).toEqual([0, 0]);
    expect(() => stream.below(0.5)).toThrow(RangeError);
  });

  it("refuses a range without a number in it", () => {
    const stream = randomStream("a/1", "1", "S1");
    expect(() => stream.below(0)).toThrow(RangeError);
    expect(() => stream.below(-1)).toThrow(RangeError);
    expect(() => stream.below(Number.NaN)).toThrow(RangeError);
    expect(() => stream.below(2 ** 54)).toThrow(RangeError);
  });
});

describe("the stream of a sample", () => {
  it("starts from the SHA-256 of the JSON of algorithm, seed and sample id", () => {
    const digest = createHash("sha256")
      .update('["fixed-count-individual/1","7","VN-\\"01\\" é"]', "utf8")
      .digest();
    const words = xoroshiro128plusFromState([0, 4, 8, 12].map((at) => digest.readInt32BE(at)));
    const expected = Array.from({ length: 20 }, () => Math.floor((words.next() >>> 0) / 2 ** 16));
    const stream = randomStream("fixed-count-individual/1", "7", 'VN-"01" é');
    expect(Array.from({ length: 20 }, () => stream.below(2 ** 16))).toEqual(expected);
  });

  it("differs with every part, and with where a part ends", () => {
    const starts = [
      randomStream("a/1", "1", "S1"),
      randomStream("a/2", "1", "S1"),
      randomStream("a/1", "2", "S1"),
      randomStream("a/1", "1", "S2"),
      randomStream("a/1", "1", "S1", "level-2"),
      randomStream("a/1", "1", "S1", ""),
      randomStream("a/1", "1", 'S1","level-2'),
      randomStream("a/1", "1S", "1"),
    ].map((stream) => stream.below(2 ** 53));
    expect(new Set(starts).size).toBe(starts.length);
  });

  it("never starts from the state that gives zeros for ever", () => {
    expect(stateFromDigest("\0".repeat(32))).toEqual([0, 0, 0, 1]);
    expect(stateFromDigest(`\0\0\0\x05${"\0".repeat(28)}`)).toEqual([5, 0, 0, 0]);
    expect(stateFromDigest(`\xff\xfe\xfd\xfc${"\x80\x01\x02\x03".repeat(7)}`)).toEqual([
      0xfffefdfc | 0,
      0x80010203 | 0,
      0x80010203 | 0,
      0x80010203 | 0,
    ]);
  });

  const consecutive = (make: (number: number) => { below(n: number): number }) => {
    const first = Array.from({ length: 10_000 }, (_, number) => make(number).below(1000));
    const cells = new Array<number>(100).fill(0);
    for (const value of first) cells[Math.floor(value / 10)] = (cells[Math.floor(value / 10)] ?? 0) + 1;
    let products = 0;
    for (const [at, value] of first.slice(1).entries())
      products += (value - 499.5) * ((first[at] ?? 0) - 499.5);
    return {
      chance: deviationByChance(cells, new Array<number>(100).fill(100)),
      correlation: products / 9999 / (1e6 / 12),
    };
  };

  it.each([
    ["seeds", (number: number) => randomStream("fixed-count-individual/1", String(number), "VN-01")],
    ["sample ids", (number: number) => randomStream("fixed-count-individual/1", "1", `VN-${number}`)],
  ])("has unrelated first numbers for consecutive %s", (_, make) => {
    const { chance, correlation } = consecutive(make);
    expect(chance).toBeGreaterThan(1e-5);
    // 4 standard errors of a correlation of 10,000 independent pairs.
    expect(Math.abs(correlation)).toBeLessThan(0.04);
  });

  it("would not pass with a generator started from the seed itself, so the test can tell", () => {
    const { correlation } = consecutive((number) =>
      streamFromWords(xoroshiro128plusFromState([-1, ~number, number, 0])),
    );
    expect(correlation).toBeGreaterThan(0.9);
  });
});
