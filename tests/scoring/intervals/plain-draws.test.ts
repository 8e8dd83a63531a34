import { expect, it } from "vitest";
import { plainDraws } from "../../../src/scoring/intervals/plain-draws.ts";

it("evaluates draws one after the other, each as it is, and puts them down in their order", () => {
  let drawn = 0;
  const drawer = {
    varies: true,
    draw: (left: Int32Array) => {
      drawn++;
      left.set([drawn, 10 * drawn]);
      return drawn + 2;
    },
  };
  const evaluator = {
    metrics: 2,
    rareTaxa: [undefined, undefined],
    isDominance: [false, false],
    index: Number.NaN,
    rating: -1,
    values: new Float64Array(2),
    pieces: new Int32Array(2),
    evaluate: (counts: Int32Array, finds: Float64Array) => {
      expect([...finds]).toEqual([0, 0]);
      evaluator.values.set(counts);
      evaluator.index = (counts[0] as number) + (counts[1] as number);
    },
    ratingOf: () => -1,
  };
  const { different, indices, values } = plainDraws(evaluator, drawer, 2, 3);
  expect(drawn).toBe(3);
  expect([...different]).toEqual([3, 4, 5]);
  expect([...indices]).toEqual([11, 22, 33]);
  expect(values.map((column) => [...column])).toEqual([
    [1, 2, 3],
    [10, 20, 30],
  ]);
});
