import { describe, expect, it } from "vitest";
import {
  richnessDegrees,
  richnessVariance,
  UnseenFinds,
  unseenTaxa,
} from "../../../src/scoring/intervals/unseen-taxa.ts";

describe("taxa that were not met", () => {
  it("of an endless jar are Chao's lower bound", () => {
    // f1 = 8, f2 = 4, n = 101: (100 / 101) 64 / 8 = 7.9208; formula recalled, arithmetic by hand.
    expect(unseenTaxa({ once: 8, twice: 4, each: 1 }, 101, 0)).toBeCloseTo(7.920792079, 8);
  });

  it("without a taxon met twice are the bias-corrected form", () => {
    expect(unseenTaxa({ once: 5, twice: 0, each: 1 }, 1_000_000_000, 0)).toBeCloseTo(10, 6);
    expect(unseenTaxa({ once: 1, twice: 0, each: 1 }, 100, 0.5)).toBe(0);
    // 5 x 4 / (2 x 101/100 + 1 x 4) by hand.
    expect(unseenTaxa({ once: 5, twice: 0, each: 1 }, 101, 0.5)).toBeCloseTo(20 / 6.02, 12);
  });

  it("are none of less than one taxon met once, as points by grids may give", () => {
    expect(unseenTaxa({ once: 0.5, twice: 0, each: 1.5 }, 4, 0.2)).toBe(0);
  });

  it("need two units at least, animals or grids", () => {
    // 9 / (2 x 2/1 x 1) by hand.
    expect(unseenTaxa({ once: 3, twice: 1, each: 1 }, 2, 0)).toBeCloseTo(2.25, 12);
    expect(unseenTaxa({ once: 3, twice: 1, each: 1 }, 1, 0)).toBe(0);
    expect(unseenTaxa({ once: 3, twice: 0, each: 1 }, 1, 0.1)).toBe(0);
    expect(unseenTaxa({ once: 0, twice: 0, each: 1 }, 0, 0)).toBe(0);
  });

  it("get fewer the more of the jar was looked at, and none are left at its end", () => {
    // Half of it: 64 / ((101/100) 8 + 1 x 8) by hand.
    expect(unseenTaxa({ once: 8, twice: 4, each: 1 }, 101, 0.5)).toBeCloseTo(64 / (8.08 + 8), 8);
    expect(unseenTaxa({ once: 8, twice: 4, each: 1 }, 101, 1)).toBe(0);
    expect(unseenTaxa({ once: 1, twice: 0, each: 1 }, 101, 1)).toBe(0);
    expect(unseenTaxa({ once: 0, twice: 4, each: 1 }, 101, 0)).toBe(0);
  });
});

describe("the variance of a number of taxa", () => {
  const rare = { once: 8, twice: 4, each: 1 };

  it("is the number of taxa that another draw adds", () => {
    // f0 (1 - (1 - f1 / (n f0 + f1))^n) with f0 = 7.9208, n = 101: close to f0 (1 - e^-1.01).
    const found = richnessVariance({ rare, units: 101, share: 0, drawn: 101, inDraw: 30, inAll: 30 });
    expect(found).toBeCloseTo(7.920792 * (1 - (1 - 8 / (101 * 7.920792 + 8)) ** 101), 5);
  });

  it("is nothing where everything was looked at", () => {
    expect(richnessVariance({ rare, units: 101, share: 1, drawn: 101, inDraw: 30, inAll: 30 })).toBe(0);
  });

  it("is what all have beyond one draw where no taxon was met once", () => {
    const common = { once: 0, twice: 4, each: 1 };
    expect(richnessVariance({ rare: common, units: 101, share: 0, drawn: 101, inDraw: 30, inAll: 35 })).toBe(
      5,
    );
  });

  it("is read off the animals counted where they are more than two draws", () => {
    const facts = { rare, units: 400, share: 0, drawn: 100, inDraw: 20, inAll: 30 };
    // The curve taken as a straight line in the logarithm: ten taxa over log 4, so five for the first doubling.
    expect(richnessVariance(facts)).toBeCloseTo(5, 10);
  });
});

describe("the degrees of freedom of the variance of a number of taxa", () => {
  it("are two for each taxon met once, or between one draw and all, and one", () => {
    const rare = { once: 8, twice: 4, each: 1 };
    expect(richnessDegrees({ rare, units: 101, share: 0, drawn: 101, inDraw: 30, inAll: 30 })).toBe(17);
    expect(richnessDegrees({ rare, units: 400, share: 0, drawn: 101, inDraw: 30, inAll: 36.5 })).toBe(30);
    expect(richnessDegrees({ rare, units: 101, share: 0, drawn: 101, inDraw: 31, inAll: 30 })).toBe(17);
    const none = { once: 0, twice: 0, each: 1 };
    expect(richnessDegrees({ rare: none, units: 9, share: 0, drawn: 9, inDraw: 3, inAll: 3 })).toBe(1);
  });
});

describe("finds of taxa that were not met", () => {
  /** Mean and variance over all places between few and many. */
  const momentsOf = (finds: UnseenFinds, places = 100_000) => {
    const values = Array.from({ length: places }, (_, at) => finds.finds((at + 0.5) / places));
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
    return { mean, variance };
  };

  it.each([
    [3.3, 3.3],
    [3.3, 5],
    [0.4, 0.9],
    [3, 2],
    [4, 4 / 3],
  ])("have the mean %d and the variance %d", (mean, variance) => {
    const found = momentsOf(new UnseenFinds(mean, variance));
    expect(found.mean).toBeCloseTo(mean, 2);
    expect(found.variance).toBeCloseTo(variance, 1);
  });

  it("have the mean when the variance is less than whole numbers can have", () => {
    expect(momentsOf(new UnseenFinds(0.5, 0)).mean).toBeCloseTo(0.5, 2);
    expect(momentsOf(new UnseenFinds(2.5, -1)).mean).toBeCloseTo(2.5, 2);
    // Four taxa of which each is found with 3/4, not three with certainty.
    const whole = momentsOf(new UnseenFinds(3, 0));
    expect(whole.mean).toBeCloseTo(3, 2);
    expect(whole.variance).toBeCloseTo(0.75, 2);
  });

  it("have the mean and the variance also where no find at all is too rare for a number", () => {
    // e^-800 is 0 in floating point.
    for (const [mean, variance] of [
      [800, 800],
      [1200, 300],
      [1400, 4200],
    ] as const) {
      const found = momentsOf(new UnseenFinds(mean, variance), 400);
      expect(found.mean).toBeCloseTo(mean, 0);
      expect(found.variance / variance).toBeCloseTo(1, 1);
    }
  });

  it("go up where the place is the share of resamples with fewer", () => {
    // One taxon that is found in half of the resamples.
    const half = new UnseenFinds(0.5, 0.25);
    expect([0, 0.499999, 0.5, 0.999999].map((place) => half.finds(place))).toEqual([0, 0, 1, 1]);
    // Two that are found in a 512th each: none in (511 / 512)^2, which is 261121 of 2^18.
    const two = new UnseenFinds(2 / 512, (2 * 511) / 512 ** 2);
    expect([261_120, 261_121].map((place) => two.finds(place / 2 ** 18))).toEqual([0, 1]);
  });

  it("vary no more than three times their mean", () => {
    expect(momentsOf(new UnseenFinds(4, 100)).variance).toBeCloseTo(12, 1);
  });

  it("are none where nothing is lost", () => {
    expect(new UnseenFinds(0, 1).finds(0.999)).toBe(0);
    expect(new UnseenFinds(-1, 1).finds(0.999)).toBe(0);
  });
});
