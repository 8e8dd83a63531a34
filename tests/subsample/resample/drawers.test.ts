import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { GridDrawer } from "../../../src/subsample/resample/grid-drawer.ts";
import { JarDrawer } from "../../../src/subsample/resample/jar-drawer.ts";
import { WordBlocks } from "../../../src/subsample/resample/word-block.ts";
import { given } from "./given-words.ts";

const words = (id: string) => new WordBlocks("test/1", "1", id);
const sum = (values: ArrayLike<number>) => Array.from(values).reduce((total, value) => total + value, 0);

/** Mean and variance of the animals of each pile over many draws. */
function moments(drawer: JarDrawer | GridDrawer, piles: number, draws = 20_000) {
  const left = new Int32Array(piles);
  const sums = new Float64Array(piles);
  const squares = new Float64Array(piles);
  for (let draw = 0; draw < draws; draw++) {
    drawer.draw(left);
    for (let pile = 0; pile < piles; pile++) {
      sums[pile] = (sums[pile] ?? 0) + (left[pile] ?? 0);
      squares[pile] = (squares[pile] ?? 0) + (left[pile] ?? 0) ** 2;
    }
  }
  const means = Array.from(sums, (total) => total / draws);
  return { means, variances: means.map((mean, pile) => (squares[pile] ?? 0) / draws - mean ** 2) };
}

/** Draws from a jar of not more than 2^14 animals that has an end, one animal and one half of a number at a time. */
function plainDraws(counts: readonly number[], n: number, jar: number, stream: WordBlocks): () => number[] {
  const total = sum(counts);
  const copies = Math.floor(jar / Math.max(total, 1));
  const over = jar - copies * total;
  const row = Array.from({ length: copies + (over > 0 ? 1 : 0) }, (_, copy) =>
    counts.flatMap((count, pile) => Array.from({ length: count }, () => ({ pile, isOver: copy === copies }))),
  ).flat();
  return () => {
    const halves: number[] = [];
    const half = (range: number): number => {
      if (halves.length === 0) {
        const word = stream.next();
        halves.push(word >>> 16, word & 0xffff);
      }
      const product = (halves.shift() as number) * range;
      return product % 65536 < 65536 % range ? half(range) : Math.floor(product / 65536);
    };
    const left = counts.map(() => 0);
    let undecided = total;
    let open = over;
    for (let place = 0, drawn = 0; drawn < n; place++) {
      const other = place + half(row.length - place);
      const found = row[other] as (typeof row)[number];
      [row[place], row[other]] = [found, row[place] as (typeof row)[number]];
      if (found.isOver) {
        if (stream.below(undecided--) >= open) continue;
        open--;
      }
      left[found.pile] = (left[found.pile] as number) + 1;
      drawn++;
    }
    return left;
  };
}

describe("draws from the jar that animals speak for", () => {
  it("hold exactly the fixed count, whatever the jar", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 12 }), { minLength: 1, maxLength: 8 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.oneof(fc.constant(undefined), fc.double({ min: 1, max: 7, noNaN: true })),
        (counts, share, fold) => {
          const total = sum(counts);
          const n = Math.floor(total * share);
          const jar = fold === undefined ? undefined : Math.round(total * fold);
          const drawer = new JarDrawer(counts, n, jar, words("count"));
          const left = new Int32Array(counts.length);
          for (let draw = 0; draw < 5; draw++) {
            drawer.draw(left);
            expect(sum(left)).toBe(n);
            // No pile gives more than its copies, the additional ones included.
            const copies = jar === undefined ? n : Math.ceil(jar / Math.max(total, 1));
            for (const [pile, count] of counts.entries())
              expect(left[pile]).toBeLessThanOrEqual(count * copies);
          }
        },
      ),
    );
  });

  it("are all the same when everything was sorted and the target takes every animal", () => {
    const drawer = new JarDrawer([3, 1, 2], 6, 6, words("whole"));
    const left = new Int32Array(3);
    for (let draw = 0; draw < 10; draw++) {
      drawer.draw(left);
      expect([...left]).toEqual([3, 1, 2]);
    }
    expect(drawer.varies).toBe(false);
    expect(new JarDrawer([3, 1, 2], 5, 6, words("whole")).varies).toBe(true);
  });

  it("vary as draws without replacement do, and without an end as draws with it", () => {
    const counts = [30, 15, 5];
    const variance = (p: number, n: number, jar: number | undefined) =>
      n * p * (1 - p) * (jar === undefined ? 1 : (jar - n) / (jar - 1));
    for (const jar of [100, undefined]) {
      const { means, variances } = moments(new JarDrawer(counts, 40, jar, words("moments")), 3);
      for (const [pile, count] of counts.entries()) {
        const p = count / 50;
        expect(means[pile]).toBeCloseTo(40 * p, 0);
        // The standard error of a variance over 20,000 draws is 1 percent of it.
        expect(variances[pile]).toBeGreaterThan(variance(p, 40, jar) * 0.95);
        expect(variances[pile]).toBeLessThan(variance(p, 40, jar) * 1.05);
      }
    }
  });

  it("take every animal equally often when the jar is no whole multiple", () => {
    // 10 animals in a jar of 17: each stands there 1.7 times on average.
    const { means } = moments(new JarDrawer([1, 1, 1, 1, 1, 1, 1, 1, 1, 1], 10, 17, words("rest")), 10);
    for (const mean of means) expect(Math.abs(mean - 1)).toBeLessThan(0.02);
  });

  it("throw halves of random numbers away that favour an animal, and no others", () => {
    // 2^16 = 3 x 21845 + 1: of products of a half with 3 only one that leaves 0 is thrown away, and
    // 43691 x 3 = 2 x 2^16 + 1 is the first that is kept: the animal of the third pile.
    const drawn = (n: number, ...numbers: readonly number[]) => {
      const stream = given(...numbers);
      const left = new Int32Array(3);
      new JarDrawer([1, 1, 1], n, undefined, stream).draw(left);
      return [...left, stream.at];
    };
    expect(drawn(1, 0xaaab_0000)).toEqual([0, 0, 1, 1]);
    expect(drawn(1, 0x0000_aaab)).toEqual([0, 0, 1, 1]);
    expect(drawn(2, 0x0001_0000, 0x0000_ffff)).toEqual([1, 0, 1, 2]);
  });

  it("take half a random number for an animal from 16,384 on down, a whole one from more", () => {
    const drawn = (animals: number, jar: number | undefined) => {
      const stream = given(0xffff_0001, 0x0000_0001);
      const left = new Int32Array(2);
      new JarDrawer([animals - 1, 1], 2, jar, stream).draw(left);
      return [...left, stream.at];
    };
    // The last animal and the first: by two halves of one number, or by two numbers.
    expect(drawn(16_384, undefined)).toEqual([1, 1, 1]);
    expect(drawn(16_385, undefined)).toEqual([1, 1, 2]);
    expect(drawn(16_384, 16_384)).toEqual([1, 1, 1]);
    expect(drawn(16_385, 16_385)).toEqual([1, 1, 2]);
  });

  it("are refused where there are too few animals", () => {
    expect(() => new JarDrawer([2, 2], 5, undefined, words("few"))).toThrow(RangeError);
    expect(() => new JarDrawer([2, 2], 4, 3, words("few"))).toThrow(RangeError);
  });
});

describe("draws from a jar that has an end", () => {
  it("take two animals with one number, the upper half first, and start with a whole one", () => {
    const stream = given(0xffff0001, 0x8000ffff, 0x40000000, 0x80000000);
    const drawer = new JarDrawer([1, 1, 1, 1], 3, 4, stream);
    const left = new Int32Array(4);
    // 0xffff x 4 = 3.99 x 2^16, 1 x 3, 0x8000 x 2 = 2^16: places 3, 1 and 3, whose animal had been changed with 0.
    drawer.draw(left);
    expect([...left, stream.at]).toEqual([1, 1, 0, 1, 2]);
    // Left over was 0xffff. The row is 3 1 0 2 now: 0x4000 x 4 is its place 1; 0 of 3 places is thrown away; 0x8000 x 3
    // is place 2 of 1 3 0 2, and 0, a half like any other, place 2 of 1 0 3 2.
    drawer.draw(left);
    expect([...left, stream.at]).toEqual([1, 1, 0, 1, 4]);
  });

  it("throw halves away that favour a place", () => {
    // 2^16 mod 6 = 4: the half 0 is thrown away, and 10923 x 6 = 65538 leaves 2, which is too; 21846 x 6 leaves 4.
    const stream = given(0x00002aab, 0x55560000);
    const left = new Int32Array(6);
    new JarDrawer([1, 1, 1, 1, 1, 1], 1, 6, stream).draw(left);
    expect([...left, stream.at]).toEqual([0, 0, 1, 0, 0, 0, 2]);
  });

  it("are those of the plain way, animal by animal", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 1, maxLength: 12 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 1, max: 5, noNaN: true }),
        fc.string(),
        (counts, share, fold, id) => {
          const total = sum(counts);
          const n = Math.floor(total * share);
          const jar = Math.round(total * fold);
          const drawer = new JarDrawer(counts, n, jar, words(id));
          const plain = plainDraws(counts, n, jar, words(id));
          const left = new Int32Array(counts.length);
          // Enough to need a second block of numbers.
          for (let draw = 0; draw < 40; draw++) {
            drawer.draw(left);
            expect([...left]).toEqual(plain());
          }
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe("draws from the tray that grids speak for", () => {
  const grids = [Int32Array.from([8, 0]), Int32Array.from([4, 4]), Int32Array.from([0, 8])];

  it("take whole grids, as many as were picked", () => {
    const drawer = new GridDrawer(grids, 24, undefined, words("grids"));
    const left = new Int32Array(2);
    for (let draw = 0; draw < 50; draw++) {
      const different = drawer.draw(left);
      expect(sum(left)).toBe(24);
      expect((left[0] ?? 0) % 4).toBe(0);
      expect(different).toBeGreaterThanOrEqual(1);
      expect(different).toBeLessThanOrEqual(3);
    }
  });

  it("vary by the clumping, and not at all where all grids were picked", () => {
    const { variances } = moments(new GridDrawer(grids, 24, undefined, words("clump")), 2);
    // Three grids with 8, 4 and 0 animals of a pile: variance 32/3 each, three of them.
    expect(variances[0]).toBeGreaterThan(32 * 0.95);
    expect(variances[0]).toBeLessThan(32 * 1.05);
    const all = new GridDrawer(grids, 24, 3, words("all"));
    expect(all.varies).toBe(false);
    expect(moments(all, 2, 50).variances).toEqual([0, 0]);
  });

  it("come down to the fixed count", () => {
    const { means } = moments(new GridDrawer(grids, 10, 6, words("fixed")), 2);
    expect(means[0]).toBeCloseTo(5, 1);
    expect((means[0] ?? 0) + (means[1] ?? 0)).toBeCloseTo(10, 10);
  });

  it("are refused on a tray with fewer grids", () => {
    expect(() => new GridDrawer(grids, 10, 2, words("few"))).toThrow(RangeError);
  });
});
