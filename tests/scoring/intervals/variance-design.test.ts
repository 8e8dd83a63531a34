import { describe, expect, it } from "vitest";
import { fieldVariance } from "../../../src/scoring/intervals/field-variance.ts";
import type { SamplingDesign } from "../../../src/scoring/intervals/variance-design.ts";
import { stretchOf, unitsOf } from "../../../src/scoring/intervals/variance-design.ts";

const ANIMALS: SamplingDesign = {
  kind: "animals",
  jar: 1000,
  counted: 200,
  drawn: 200,
  grids: 0,
  onTray: undefined,
  isWhole: false,
  isDrawnEndless: false,
  reach: 1,
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

  it("makes up for few grids", () => {
    const grids = { kind: "grids", grids: 4, onTray: undefined, isDrawnEndless: true, reach: 1.43 } as const;
    expect(of(grids).stretch ** 2).toBeCloseTo(4 / 3, 12);
    expect(of(grids).reach).toBe(1.43);
    // A quarter of the variance is the draw from the animals counted, which the mean does not have.
    expect(of({ ...grids, counted: 400 }, "mean", 1).stretch ** 2).toBeCloseTo((3 * (4 / 3)) / 4, 12);
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
