import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fieldVariance } from "../../../src/scoring/intervals/field-variance.ts";
import type { SamplingDesign } from "../../../src/scoring/intervals/variance-design.ts";
import { smallness, stretchOf, unitsOf } from "../../../src/scoring/intervals/variance-design.ts";

const ANIMALS: SamplingDesign = {
  kind: "animals",
  jar: 1000,
  counted: 200,
  drawn: 200,
  grids: 0,
  onTray: undefined,
  isWhole: false,
  isDrawnEndless: false,
};
const of = (design: Partial<SamplingDesign>, interval: "mean" | "another-draw" = "mean", draw = 0) =>
  stretchOf({ ...ANIMALS, ...design }, { interval }, 4, draw);

describe("stretching resamples", () => {
  it("corrects for few units only, where the score rests on all animals counted", () => {
    expect(of({}).stretch).toBeCloseTo(Math.sqrt((200 / 199) * (999 / 1000)), 12);
    expect(of({ jar: undefined, isDrawnEndless: true }).stretch).toBeCloseTo(Math.sqrt(200 / 199), 12);
  });

  it("leaves the mean no spread when the jar was counted whole", () => {
    expect(of({ jar: 200, isWhole: true, drawn: 100 }).stretch).toBe(0);
  });

  it("lets the mean vary as the mean over all draws from the animals counted does", () => {
    // 1/400 - 1/1000 by 1/200 - 1/1000: 0.375.
    const { stretch } = of({ counted: 400 });
    expect(stretch ** 2).toBeCloseTo(0.375 * (400 / 399) * (999 / 1000), 12);
  });

  it("gives another draw both variances", () => {
    expect(of({}, "another-draw").stretch ** 2 / of({}).stretch ** 2).toBeCloseTo(2, 12);
  });

  it("gives numbers for every design, also where the whole jar was counted and drawn, or the log contradicts itself", () => {
    const sizes = fc.record({
      drawn: fc.integer({ min: 1, max: 500 }),
      more: fc.constantFrom(0, 0, 1, 300),
      left: fc.constantFrom(0, 0, 1, 5000, undefined),
      grids: fc.integer({ min: 1, max: 12 }),
      empty: fc.constantFrom(0, 1, 30, undefined),
    });
    const kinds = fc.constantFrom("animals" as const, "grids" as const);
    const intervals = fc.constantFrom("mean" as const, "another-draw" as const);
    fc.assert(
      fc.property(
        sizes,
        kinds,
        intervals,
        fc.boolean(),
        fc.constantFrom(0, 0.5, 4),
        ({ drawn, more, left, grids, empty }, kind, interval, isDrawnEndless, draw) => {
          const counted = drawn + more;
          const jar = left === undefined ? undefined : counted + left;
          const onTray = empty === undefined ? undefined : grids + empty;
          const design = { kind, jar, counted, drawn, grids, onTray, isWhole: left === 0, isDrawnEndless };
          const { stretch, degrees, unitDegrees } = of(design, interval, draw);
          expect(stretch).toBeGreaterThanOrEqual(0);
          expect(stretch).toBeLessThan(Number.POSITIVE_INFINITY);
          expect(degrees(3)).toBeGreaterThan(0);
          expect(unitDegrees(5)).toBeGreaterThanOrEqual(0);
        },
      ),
    );
  });

  it("makes up for few grids", () => {
    const grids = { kind: "grids", grids: 4, onTray: undefined, isDrawnEndless: true } as const;
    expect(of(grids).stretch ** 2).toBeCloseTo(4 / 3, 12);
    // A quarter of the variance is the draw from the animals counted, which the mean does not have.
    expect(of({ ...grids, counted: 400 }, "mean", 1).stretch ** 2).toBeCloseTo((3 * (4 / 3)) / 4, 12);
  });

  it("knows a variance from few grids as well as few grids tell it", () => {
    const grids = { kind: "grids", grids: 4, onTray: undefined, isDrawnEndless: true } as const;
    expect(of(grids).unitDegrees(undefined)).toBe(3);
    expect(of(grids).degrees(3)).toBeCloseTo(3, 12);
    // A number of taxa as well as its rare taxa tell it, which are more; and never worse than the grids do.
    expect(of(grids).unitDegrees(20)).toBeCloseTo(20, 12);
    expect(of(grids).unitDegrees(1)).toBe(3);
    // Of 3 x 4/3 + 1 the draw is a fifth, which was taken off what the rare taxa tell: 20 x 0.8^2.
    expect(of({ ...grids, counted: 400 }, "mean", 1).unitDegrees(20)).toBeCloseTo(12.8, 12);
    // Another draw has twice the 4 of the grids, from 3, and the 1 of the draw, which is known: 9^2 / (8^2 / 3).
    expect(of({ ...grids, counted: 400 }, "another-draw", 1).degrees(3)).toBeCloseTo(243 / 64, 12);
  });

  it("takes single animals as many", () => {
    const animals = of({});
    expect(animals.unitDegrees(undefined)).toBe(Number.POSITIVE_INFINITY);
    expect(animals.unitDegrees(7)).toBe(7);
    expect(animals.degrees(7)).toBe(7);
  });

  it("never has less between grids than single animals would make", () => {
    // All of the 4 is that of the draw: (1/400 - 1/1000) / (1/200 - 1/1000) of it remain.
    const grids = { kind: "grids", grids: 4, onTray: 20, counted: 400 } as const;
    expect(of(grids, "mean", 4).stretch ** 2).toBeCloseTo(0.375, 12);
    expect(of(grids, "mean", 5).stretch ** 2).toBeCloseTo(0.375, 12);
  });

  it("pools what grids that are left out say with it, by hand", () => {
    const grids = { ...ANIMALS, kind: "grids", grids: 4, onTray: undefined, isDrawnEndless: true } as const;
    const leftOut = { variance: 8 / 3, noise: 0 };
    // 4 x 4/3 of the resamples and half as much: 4, by the 4 of the resamples. Another draw has it twice.
    expect(stretchOf(grids, { interval: "mean" }, 4, 0, leftOut).stretch ** 2).toBeCloseTo(1, 12);
    expect(stretchOf(grids, { interval: "another-draw" }, 4, 0, leftOut).stretch ** 2).toBeCloseTo(2, 12);
  });

  it("leaves resamples that do not vary alone", () => {
    const grids = { ...ANIMALS, kind: "grids", grids: 4, onTray: 20 } as const;
    expect(stretchOf(grids, { interval: "mean" }, 0, 0).stretch).toBe(1);
    expect(stretchOf({ ...grids, onTray: 4 }, { interval: "another-draw" }, 4, 4).stretch).toBe(1);
  });

  it("leaves grids no spread when all were sorted", () => {
    expect(of({ kind: "grids", grids: 30, onTray: 30, isWhole: true }).stretch).toBe(0);
  });

  it("counts grids, or animals, as what was looked at", () => {
    expect(unitsOf(ANIMALS)).toEqual({ units: 200, share: 0.2 });
    expect(unitsOf({ ...ANIMALS, kind: "grids", grids: 6, onTray: 30 })).toEqual({ units: 6, share: 0.2 });
    expect(unitsOf({ ...ANIMALS, jar: undefined })).toEqual({ units: 200, share: 0 });
  });
});

describe("the correction for few units", () => {
  it("is n / (n - 1), and (N - 1) / N besides where the whole has an end", () => {
    expect(smallness(4, undefined)).toBeCloseTo(4 / 3, 12);
    expect(smallness(2, undefined)).toBe(2);
    expect(smallness(4, 30)).toBeCloseTo((4 / 3) * (29 / 30), 12);
  });

  it("is none for a single unit, which tells no variance", () => {
    expect(smallness(1, undefined)).toBe(1);
    expect(smallness(1, 30)).toBe(1);
    expect(of({ kind: "grids", grids: 1, onTray: 30 }).stretch).toBe(1);
  });
});

describe("the field part of a variance", () => {
  it("is what duplicates differ by less what subsampling gives them, by hand", () => {
    // Two pairs and a triple: degrees of freedom 1, 1, 2; mean subsampling variance (1x2 + 1x4 + 2x3) / 4 = 3.
    expect(
      fieldVariance(10, [
        [1, 3],
        [4, 4],
        [2, 3, 4],
      ]),
    ).toBeCloseTo(7, 12);
  });

  it("is never below nothing", () => {
    expect(fieldVariance(2, [[3, 3]])).toBe(0);
    expect(fieldVariance(2, [])).toBe(0);
  });
});
