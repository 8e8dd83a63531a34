import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { exactOf, fraction, toNumber } from "../../src/model/exact.ts";
import { densityPerM2, expandStages } from "../../src/subsample/expansion.ts";

describe("expansion by stages", () => {
  it("of whole grids of one tray is the count by the share of grids", () => {
    // 212 animals in 4 of 30 grids: 212 x 30 / 4.
    expect(expandStages([{ gridsOnTray: 30, wholeGrids: 4, animals: 212 }])).toEqual({
      fractionSorted: { num: 2, den: 15 },
      estimatedTotal: { num: 1590, den: 1 },
    });
  });

  it("expands a split grid to its own whole before the tray is expanded", () => {
    // 195 in 8 grids and 12 in a third of a ninth: (195 + 36) x 30 / 9, and 4 of 30 grids of the tray before.
    const expansion = expandStages([
      { gridsOnTray: 30, wholeGrids: 0, animals: 0, movedGrids: 4 },
      { gridsOnTray: 30, wholeGrids: 8, animals: 195, parts: [{ animals: 12, portion: fraction(10, 30) }] },
    ]);
    expect(expansion?.estimatedTotal).toEqual({ num: 5775, den: 1 });
    // (8 + 1/3) / 30 x 4 / 30 = 1/27; the count by this share would be 207 x 27 = 5589.
    expect(expansion?.fractionSorted).toEqual({ num: 1, den: 27 });
  });

  it("adds grids picked where they lay to those that went on to the next tray", () => {
    // First tray: 3 grids with 120 animals, and a fourth that went on to 5 of 30 grids with 80: 120 + 480 in 4
    // of 30 grids.
    expect(
      expandStages([
        { gridsOnTray: 30, wholeGrids: 3, animals: 120, movedGrids: 1 },
        { gridsOnTray: 30, wholeGrids: 5, animals: 80 },
      ]),
    ).toEqual({
      estimatedTotal: { num: 4500, den: 1 },
      // (3 + 5/30) / 30
      fractionSorted: { num: 19, den: 180 },
    });
  });

  it("works through three trays", () => {
    const expansion = expandStages([
      { gridsOnTray: 30, wholeGrids: 0, animals: 0, movedGrids: 4 },
      { gridsOnTray: 20, wholeGrids: 0, animals: 0, movedGrids: 2 },
      { gridsOnTray: 10, wholeGrids: 3, animals: 210 },
    ]);
    // 210 x 10/3 x 20/2 x 30/4
    expect(expansion?.estimatedTotal).toEqual({ num: 52_500, den: 1 });
    expect(expansion?.fractionSorted).toEqual({ num: 1, den: 250 });
  });

  it("of a tray sorted as a whole is the count itself", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 100 }), fc.nat(5000), (grids, animals) => {
        expect(expandStages([{ gridsOnTray: grids, wholeGrids: grids, animals }])).toEqual({
          fractionSorted: { num: 1, den: 1 },
          estimatedTotal: { num: animals, den: 1 },
        });
      }),
      { seed: 10 },
    );
  });

  it("does not change when a grid is split and all its parts are picked", () => {
    const whole = expandStages([{ gridsOnTray: 30, wholeGrids: 5, animals: 230 }]);
    const parts = [{ animals: 60, portion: fraction(30, 30) }];
    expect(expandStages([{ gridsOnTray: 30, wholeGrids: 4, animals: 170, parts }])).toEqual(whole);
  });

  it("has nothing to go by before a grid was picked on the last tray", () => {
    expect(expandStages([])).toBe(undefined);
    expect(expandStages([{ gridsOnTray: 30, wholeGrids: 0, animals: 0 }])).toBe(undefined);
    expect(
      expandStages([
        { gridsOnTray: 30, wholeGrids: 0, animals: 0, movedGrids: 4 },
        { gridsOnTray: 30, wholeGrids: 0, animals: 0 },
      ]),
    ).toBe(undefined);
  });

  it.each([
    ["more grids than on the tray", [{ gridsOnTray: 3, wholeGrids: 4, animals: 1 }]],
    [
      "more grids with the split ones than on the tray",
      [{ gridsOnTray: 3, wholeGrids: 3, animals: 1, parts: [{ animals: 1, portion: fraction(1, 2) }] }],
    ],
    [
      "more grids with those that went on than on the tray",
      [
        { gridsOnTray: 3, wholeGrids: 2, animals: 1, movedGrids: 2 },
        { gridsOnTray: 3, wholeGrids: 1, animals: 1 },
      ],
    ],
    ["a tray without grids", [{ gridsOnTray: 0, wholeGrids: 0, animals: 0 }]],
    ["half a grid", [{ gridsOnTray: 3, wholeGrids: 1.5, animals: 1 }]],
    ["half an animal", [{ gridsOnTray: 3, wholeGrids: 1, animals: 1.5 }]],
    ["fewer animals than none", [{ gridsOnTray: 3, wholeGrids: 1, animals: -1 }]],
    ["grids that go nowhere", [{ gridsOnTray: 3, wholeGrids: 1, animals: 1, movedGrids: 1 }]],
    [
      "a tray onto which nothing went",
      [
        { gridsOnTray: 3, wholeGrids: 1, animals: 1 },
        { gridsOnTray: 3, wholeGrids: 1, animals: 1 },
      ],
    ],
    [
      "a portion of nothing",
      [{ gridsOnTray: 3, wholeGrids: 1, animals: 1, parts: [{ animals: 1, portion: fraction(0) }] }],
    ],
    [
      "a portion of more than all",
      [{ gridsOnTray: 3, wholeGrids: 1, animals: 1, parts: [{ animals: 1, portion: fraction(4, 3) }] }],
    ],
  ])("refuses %s", (_, stages) => {
    expect(() => expandStages(stages)).toThrow(RangeError);
  });
});

describe("density", () => {
  it("is the estimated total by the area", () => {
    expect(densityPerM2(fraction(1590), exactOf(3.1))).toEqual({ num: 15_900, den: 31 });
    expect(toNumber(densityPerM2(fraction(93), exactOf(0.93)))).toBe(100);
    expect(() => densityPerM2(fraction(1590), fraction(0))).toThrow(RangeError);
    expect(() => densityPerM2(fraction(1590), exactOf(-1))).toThrow(RangeError);
  });
});
