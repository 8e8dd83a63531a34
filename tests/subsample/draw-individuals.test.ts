import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { drawIndividuals } from "../../src/subsample/draw-individuals.ts";
import { randomPlaces } from "../../src/subsample/random-places.ts";
import { randomStream } from "../../src/subsample/stream.ts";
import { binomial } from "./helpers/binomial.ts";
import { everyCourse, tally } from "./helpers/every-course.ts";

const stream = (sampleId = "S1", seed = "1") => randomStream("fixed-count-individual/1", seed, sampleId);
const piles = fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 1, maxLength: 12 });

describe("every possible course of a draw", () => {
  it.each([
    { counts: [3, 2, 1], target: 2 },
    { counts: [3, 2, 1], target: 3 },
    { counts: [4, 0, 3], target: 5 },
    { counts: [1, 1, 1, 1, 1], target: 4 },
    { counts: [2, 2, 2], target: 1 },
  ])("gives each catch of $target from $counts as often as it can be chosen", ({ counts, target }) => {
    const total = counts.reduce((sum, count) => sum + count, 0);
    const courses = everyCourse((source) => drawIndividuals(counts, target, source));
    const [{ oneIn } = { oneIn: 0 }] = courses;
    expect(courses.every((course) => course.oneIn === oneIn)).toBe(true);
    expect(courses.length).toBe(oneIn);
    for (const [key, times] of tally(courses)) {
      const left: number[] = JSON.parse(key);
      const ways = left.reduce((product, x, pile) => product * binomial(counts[pile] ?? 0, x), 1n);
      expect(BigInt(times) * binomial(total, target)).toBe(BigInt(oneIn) * ways);
    }
  });

  it("gives every order of 5 animals equally often", () => {
    const courses = everyCourse((source) => {
      const places = new Int32Array(4);
      randomPlaces(5, 4, source, places);
      const row = ["a", "b", "c", "d", "e"];
      for (const [at, from] of places.entries()) [row[at], row[from]] = [row[from] ?? "", row[at] ?? ""];
      return row.join("");
    });
    const times = tally(courses);
    expect(times.size).toBe(120);
    expect(new Set(times.values())).toEqual(new Set([1]));
  });
});

describe("a draw", () => {
  it("leaves exactly the target, never more of a pile than it held, and the rest where it was", () => {
    fc.assert(
      fc.property(piles, fc.integer({ min: 0, max: 800 }), fc.string(), (counts, target, sampleId) => {
        const before = [...counts];
        const total = counts.reduce((sum, count) => sum + count, 0);
        const left = drawIndividuals(counts, target, stream(sampleId));
        expect(left.length).toBe(counts.length);
        expect(left.reduce((sum, count) => sum + count, 0)).toBe(Math.min(target, total));
        expect(left.every((count, pile) => count >= 0 && count <= (counts[pile] ?? 0))).toBe(true);
        expect(counts).toEqual(before);
        if (target >= total) expect(left).toEqual(counts);
      }),
      { seed: 1, numRuns: 500 },
    );
  });

  it("takes nothing from the stream when everything is kept", () => {
    const silent = {
      below(): number {
        throw new Error("the stream was asked");
      },
    };
    expect(drawIndividuals([5, 0, 3], 8, silent)).toEqual([5, 0, 3]);
    expect(drawIndividuals([5, 0, 3], 9, silent)).toEqual([5, 0, 3]);
    expect(drawIndividuals([], 9, silent)).toEqual([]);
    expect(drawIndividuals([5, 0, 3], 0, silent)).toEqual([0, 0, 0]);
    expect(() => drawIndividuals([5, 0, 3], 7, silent)).toThrow("asked");
  });

  it("of fewer animals is contained in a draw of more with the same stream", () => {
    fc.assert(
      fc.property(piles, fc.nat(300), fc.nat(300), (counts, a, b) => {
        const small = drawIndividuals(counts, Math.min(a, b), stream());
        const large = drawIndividuals(counts, Math.max(a, b), stream());
        expect(small.every((count, pile) => count <= (large[pile] ?? 0))).toBe(true);
      }),
      { seed: 2, numRuns: 300 },
    );
  });

  it("does not notice empty piles", () => {
    const plain = drawIndividuals([40, 30, 20], 50, stream());
    expect(drawIndividuals([0, 40, 0, 0, 30, 20, 0], 50, stream())).toEqual([
      0,
      plain[0],
      0,
      0,
      plain[1],
      plain[2],
      0,
    ]);
  });

  it("takes the same from two heaps of one pile as from the pile", () => {
    const plain = drawIndividuals([40, 30, 20], 50, stream());
    const [a = 0, b = 0, ...others] = drawIndividuals([11, 29, 30, 20], 50, stream());
    expect([a + b, ...others]).toEqual(plain);
  });

  it("is the same whatever was drawn before it and in between", () => {
    const counts = [33, 12, 80, 1, 1, 5];
    const alone = drawIndividuals(counts, 60, stream("S7"));
    for (const size of [1, 50, 3000, 70_000]) {
      drawIndividuals([size, size], size, stream("other"));
      expect(drawIndividuals(counts, 60, stream("S7"))).toEqual(alone);
    }
    const interrupting = stream("S7");
    const nested = {
      below(n: number) {
        drawIndividuals([9, 9, 9], 13, stream("inner"));
        return interrupting.below(n);
      },
    };
    expect(drawIndividuals(counts, 60, nested)).toEqual(alone);
  });

  it("takes counts in typed arrays", () => {
    expect(drawIndividuals(Uint32Array.of(40, 30, 20), 50, stream())).toEqual(
      drawIndividuals([40, 30, 20], 50, stream()),
    );
  });

  it.each([
    [[1, 2.5], 1],
    [[1, -1], 1],
    [[1, Number.NaN], 1],
    [[2 ** 53], 1],
    [[2 ** 52, 2 ** 52], 1],
    [[5], 1.5],
    [[5], -1],
    [[5], Number.POSITIVE_INFINITY],
  ])("refuses counts %j with a target of %d", (counts, target) => {
    expect(() => drawIndividuals(counts, target, stream())).toThrow(RangeError);
  });
});

describe("a large sample", () => {
  it("is drawn in the same way with and without a place in memory for each animal", () => {
    const sizes = fc.array(fc.oneof(fc.integer({ min: 0, max: 50 }), fc.integer({ min: 0, max: 40_000 })), {
      minLength: 1,
      maxLength: 8,
    });
    fc.assert(
      fc.property(sizes, fc.integer({ min: 0, max: 3000 }), fc.string(), (counts, target, id) => {
        const dense = drawIndividuals(counts, target, stream(id), "dense");
        expect(drawIndividuals(counts, target, stream(id), "sparse")).toEqual(dense);
        expect(drawIndividuals(counts, target, stream(id))).toEqual(dense);
      }),
      { seed: 3, numRuns: 150 },
    );
  });

  it("may hold a thousand million animals of one kind, and piles beyond 32 bits", () => {
    const left = drawIndividuals([1_000_000_000, 1_000_000_000, 3], 500, stream());
    expect(left.reduce((sum, count) => sum + count, 0)).toBe(500);
    // 250 are expected of each; 5 standard deviations are 56.
    expect(Math.abs((left[0] ?? 0) - 250)).toBeLessThan(56);
    const vast = drawIndividuals([2 ** 50, 2 ** 51, 2 ** 50], 400, stream());
    expect(vast.reduce((sum, count) => sum + count, 0)).toBe(400);
    expect(Math.abs((vast[1] ?? 0) - 200)).toBeLessThan(50);
  });

  it("may leave many animals", () => {
    const left = drawIndividuals([300_000, 200_000], 400_000, stream());
    expect(left.reduce((sum, count) => sum + count, 0)).toBe(400_000);
    expect(Math.abs((left[0] ?? 0) - 240_000)).toBeLessThan(700);
  });

  it("refuses a draw that would not fit into memory", () => {
    expect(() => drawIndividuals([2 ** 40], 2 ** 23, stream())).toThrow(/does not fit into memory/);
  });

  it("may have more piles than 16 bits can number", () => {
    const counts = new Array<number>(70_000).fill(1);
    const left = drawIndividuals(counts, 69_990, stream());
    expect(left.filter((count) => count === 0).length).toBe(10);
    expect(left.length).toBe(70_000);
  });
});

describe("repeated draws", () => {
  it("go on where the stream stands, however the animals are held in memory", () => {
    const counts = [50, 30, 10, 5, 3, 1, 1];
    const [one, other] = [stream(), stream()];
    const dense = [1, 2, 3].map(() => drawIndividuals(counts, 50, one, "dense"));
    expect([1, 2, 3].map(() => drawIndividuals(counts, 50, other, "sparse"))).toEqual(dense);
    expect(dense[0]).toEqual(drawIndividuals(counts, 50, stream()));
    expect(new Set(dense.map(String)).size).toBe(3);
    for (const left of dense) expect(left.reduce((sum, count) => sum + count, 0)).toBe(50);
  });

  it("give a sample that is kept whole as a list of its own", () => {
    const counts = [2, 3];
    const left = drawIndividuals(counts, 5, stream());
    counts[0] = 100;
    expect(left).toEqual([2, 3]);
  });
});
