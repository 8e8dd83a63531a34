import { describe, expect, it } from "vitest";
import { gridOrder, shuffled, splitGridPurpose, trayPurpose } from "../../src/subsample/grid-order.ts";
import { randomStream } from "../../src/subsample/stream.ts";
import { deviationByChance } from "./helpers/chi-square.ts";
import { everyCourse, tally } from "./helpers/every-course.ts";

const ID = "grid-order/1";

describe("the order of the grids", () => {
  it.each([1, 2, 3, 4, 5])("takes every permutation of %d grids equally often", (grids) => {
    const courses = everyCourse((stream) => gridOrder({ rows: 1, columns: grids }, stream));
    const times = tally(courses);
    const factorial = [1, 1, 2, 6, 24, 120][grids];
    expect(courses.length).toBe(factorial);
    expect(times.size).toBe(factorial);
  });

  it("numbers all grids from 1, each once", () => {
    const order = gridOrder({ rows: 5, columns: 6 }, randomStream(ID, "1", "VN-01"));
    expect([...order].sort((a, b) => a - b)).toEqual(Array.from({ length: 30 }, (_, place) => place + 1));
  });

  it("is the same for trays of as many grids", () => {
    const order = gridOrder({ rows: 5, columns: 6 }, randomStream(ID, "1", "VN-01"));
    expect(gridOrder({ rows: 6, columns: 5 }, randomStream(ID, "1", "VN-01"))).toEqual(order);
  });

  it.each([
    ["sample ids", (number: number) => randomStream(ID, "1", `VN-${number}`)],
    ["seeds", (number: number) => randomStream(ID, String(number), "VN-01")],
  ])("puts every grid equally often at every position, over consecutive %s", (_, make) => {
    const orders = 12_000;
    const times = Array.from({ length: 30 }, () => new Array<number>(30).fill(0));
    const following = new Array<number>(30).fill(0);
    for (let number = 0; number < orders; number++) {
      const order = gridOrder({ rows: 5, columns: 6 }, make(number));
      for (const [position, grid] of order.entries()) {
        const cells = times[position];
        if (cells !== undefined) cells[grid - 1] = (cells[grid - 1] ?? 0) + 1;
      }
      const step = ((order[1] ?? 0) - (order[0] ?? 0) + 30) % 30;
      following[step] = (following[step] ?? 0) + 1;
    }
    for (const [position, cells] of times.entries()) {
      const chance = deviationByChance(cells, new Array<number>(30).fill(orders / 30));
      expect(chance, `position ${position + 1}`).toBeGreaterThan(1e-5);
    }
    for (let grid = 0; grid < 30; grid++) {
      const column = times.map((cells) => cells[grid] ?? 0);
      const chance = deviationByChance(column, new Array<number>(30).fill(orders / 30));
      expect(chance, `grid ${grid + 1}`).toBeGreaterThan(1e-5);
    }
    // The second grid is any of the others, whichever the first one was.
    expect(deviationByChance(following.slice(1), new Array<number>(29).fill(orders / 29))).toBeGreaterThan(
      1e-5,
    );
  });

  it("does not depend on what was ordered before", () => {
    const alone = gridOrder({ rows: 5, columns: 6 }, randomStream(ID, "1", "VN-02"));
    for (const before of ["VN-01", "VN-03"])
      gridOrder({ rows: 9, columns: 9 }, randomStream(ID, "1", before));
    expect(gridOrder({ rows: 5, columns: 6 }, randomStream(ID, "1", "VN-02"))).toEqual(alone);
  });

  it("needs no random number for one grid, and none for no item at all", () => {
    const silent = {
      below(): number {
        throw new Error("the stream was asked");
      },
    };
    expect(gridOrder({ rows: 1, columns: 1 }, silent)).toEqual([1]);
    expect(shuffled(0, silent)).toEqual([]);
  });

  it("refuses what is no tray", () => {
    expect(() => gridOrder({ rows: 0, columns: 6 }, randomStream(ID, "1", "VN-01"))).toThrow(RangeError);
  });
});

describe("the purposes of a sample's streams", () => {
  it("tell its trays and split grids apart, and leave the first tray to the plain stream", () => {
    expect(trayPurpose(1)).toBe(undefined);
    expect(trayPurpose(2)).toBe("level-2");
    expect(splitGridPurpose(1, 17)).toBe("level-1-grid-17");
  });
});
