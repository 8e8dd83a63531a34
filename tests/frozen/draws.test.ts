import { describe, expect, it } from "vitest";
import {
  GRID_ALGORITHMS,
  GRID_ORDER_ALGORITHMS,
  INDIVIDUAL_ALGORITHMS,
  selectAlgorithm,
} from "../../src/subsample/algorithms.ts";
import { drawIndividuals } from "../../src/subsample/draw-individuals.ts";
import { randomStream } from "../../src/subsample/stream.ts";

/**
 * What a version of an algorithm draws may never change: results of years ago must be drawn again to the
 * animal. Whoever finds a test here failing has changed a draw: that needs a new version in
 * src/subsample/algorithms.ts beside the old one, new cases here, and the old cases as they are. The values were
 * reproduced with an implementation in another language (Python) from the documentation alone.
 */
const INDIVIDUAL = "fixed-count-individual/1";
const ORDER = "grid-order/1";
const GRID = "fixed-count-grid/1";

describe("fixed-count-individual/1 never changes; a change is a new version", () => {
  it.each([
    {
      seed: "0",
      sampleId: "VN-01",
      counts: [50, 30, 10, 5, 3, 1, 1],
      target: 50,
      left: [20, 18, 6, 3, 1, 1, 1],
    },
    {
      seed: "1",
      sampleId: "VN-01",
      counts: [50, 30, 10, 5, 3, 1, 1],
      target: 50,
      left: [28, 15, 2, 3, 2, 0, 0],
    },
    {
      seed: "1",
      sampleId: "VN-02",
      counts: [50, 30, 10, 5, 3, 1, 1],
      target: 50,
      left: [24, 18, 4, 2, 1, 1, 0],
    },
    {
      seed: "9007199254740991",
      sampleId: "VN-02",
      counts: [50, 30, 10, 5, 3, 1, 1],
      target: 51,
      left: [27, 14, 6, 2, 2, 0, 0],
    },
    {
      seed: "Vennaloo",
      sampleId: "VN-03",
      counts: [180, 120, 75, 50, 30, 20, 12, 6, 4, 2, 1],
      target: 200,
      left: [71, 54, 22, 20, 15, 9, 4, 2, 2, 1, 0],
    },
    {
      seed: "1",
      sampleId: "VN-03",
      counts: [180, 120, 75, 50, 30, 20, 12, 6, 4, 2, 1],
      target: 100,
      left: [32, 22, 21, 10, 6, 5, 2, 1, 0, 1, 0],
    },
    {
      seed: "1",
      sampleId: "VN-é 漢",
      counts: [180, 120, 75, 50, 30, 20, 12, 6, 4, 2, 1],
      target: 499,
      left: [179, 120, 75, 50, 30, 20, 12, 6, 4, 2, 1],
    },
    {
      seed: "1",
      sampleId: "",
      counts: [2400, 1100, 700, 400, 200, 110, 60, 20, 8, 1, 1],
      target: 300,
      left: [141, 64, 48, 21, 11, 6, 5, 2, 1, 1, 0],
    },
    {
      seed: "7",
      sampleId: "VN-04",
      counts: [40000, 30000, 20000, 10000],
      target: 500,
      left: [192, 164, 90, 54],
    },
    {
      seed: "7",
      sampleId: "VN-05",
      counts: [1000000000, 500000000, 1000000],
      target: 300,
      left: [187, 113, 0],
    },
  ])(
    "keeps its draw of $target with seed $seed from sample $sampleId",
    ({ seed, sampleId, counts, target, left }) => {
      const { run } = selectAlgorithm(INDIVIDUAL_ALGORITHMS, INDIVIDUAL);
      expect(run(counts, target, randomStream(INDIVIDUAL, seed, sampleId))).toEqual(left);
    },
  );

  it("keeps its repeated draws", () => {
    const stream = randomStream(INDIVIDUAL, "1", "VN-01");
    const draw = () => drawIndividuals([50, 30, 10, 5, 3, 1, 1], 50, stream);
    expect([draw(), draw(), draw()]).toEqual([
      [28, 15, 2, 3, 2, 0, 0],
      [21, 16, 6, 4, 2, 0, 1],
      [25, 16, 2, 4, 1, 1, 1],
    ]);
  });
});

describe("grid-order/1 never changes; a change is a new version", () => {
  it.each([
    {
      seed: "1",
      sampleId: "VN-01",
      rows: 5,
      columns: 6,
      purpose: undefined,
      order: [
        20, 4, 3, 30, 26, 5, 12, 25, 17, 9, 28, 29, 1, 21, 7, 18, 2, 6, 11, 19, 16, 13, 15, 10, 23, 8, 22, 24,
        14, 27,
      ],
    },
    {
      seed: "2",
      sampleId: "VN-01",
      rows: 5,
      columns: 6,
      purpose: undefined,
      order: [
        15, 28, 8, 17, 29, 12, 25, 23, 24, 1, 7, 21, 18, 9, 16, 14, 22, 10, 11, 4, 13, 20, 27, 19, 30, 5, 26,
        6, 2, 3,
      ],
    },
    {
      seed: "1",
      sampleId: "VN-02",
      rows: 5,
      columns: 6,
      purpose: undefined,
      order: [
        27, 25, 15, 2, 20, 10, 1, 19, 11, 14, 29, 24, 28, 13, 12, 21, 17, 16, 4, 23, 6, 18, 22, 8, 26, 30, 9,
        3, 5, 7,
      ],
    },
    {
      seed: "1",
      sampleId: "VN-01",
      rows: 5,
      columns: 6,
      purpose: "level-2",
      order: [
        5, 10, 20, 11, 25, 7, 16, 2, 6, 9, 26, 18, 12, 22, 8, 13, 23, 17, 24, 27, 29, 1, 3, 30, 19, 14, 21,
        28, 15, 4,
      ],
    },
    {
      seed: "1",
      sampleId: "VN-01",
      rows: 3,
      columns: 4,
      purpose: undefined,
      order: [8, 2, 3, 12, 11, 5, 1, 6, 10, 7, 4, 9],
    },
  ])("keeps its order with seed $seed for sample $sampleId on $rows x $columns ($purpose)", (frozen) => {
    const { run } = selectAlgorithm(GRID_ORDER_ALGORITHMS, ORDER);
    const stream = randomStream(ORDER, frozen.seed, frozen.sampleId, frozen.purpose);
    expect(run({ rows: frozen.rows, columns: frozen.columns }, stream)).toEqual(frozen.order);
  });
});

describe("fixed-count-grid/1 never changes; a change is a new version", () => {
  const grids = Array.from({ length: 30 }, (_, at) => ({
    grid: String(at + 1),
    counts: [(at * 7) % 41, (at * 5) % 13, at % 3],
  }));

  it.each([
    { seed: "1", atLeast: 4, upper: 240, grids: "28 19 12 23 11 24", left: [162, 48, 6], split: "none" },
    { seed: "2", atLeast: 4, upper: 240, grids: "18 6 20 13 16 29 2", left: [146, 56, 7], split: "none" },
    {
      seed: "3",
      atLeast: 12,
      upper: 240,
      grids: "4 7 21 10 20 16 5 8 19 14 6 3",
      left: [133, 61, 6],
      split: "all-grids",
    },
    { seed: "1", atLeast: 1, upper: 205, grids: "28 19 12 23 11 24", left: [149, 46, 5], split: "last-grid" },
    { seed: "5", atLeast: 1, upper: 205, grids: "26 11 10 29 28 23", left: [150, 46, 4], split: "none" },
  ])(
    "keeps its draw with seed $seed, at least $atLeast grids and at most $upper animals ($split)",
    (frozen) => {
      const { run } = selectAlgorithm(GRID_ALGORITHMS, GRID);
      const draw = run(
        { grids, gridsSorted: 30, gridsOnTray: 30 },
        {
          range: { target: 200, lower: 160, upper: frozen.upper },
          stopAt: "target",
          atLeast: frozen.atLeast,
          lastGrid: "split",
        },
        randomStream(GRID, frozen.seed, "VN-01"),
      );
      expect(draw.grids.map(({ grid }) => grid).join(" ")).toBe(frozen.grids);
      expect(draw.left).toEqual(frozen.left);
      expect(draw.split).toBe(frozen.split);
    },
  );
});

describe("the random numbers below the draws never change", () => {
  it("keeps the first numbers of a stream", () => {
    const stream = randomStream(INDIVIDUAL, "1", "VN-01");
    expect([10, 1000, 2 ** 32, 2 ** 53, 6].map((n) => stream.below(n))).toEqual([
      4, 425, 3947897377, 1386834189109294, 1,
    ]);
  });
});
