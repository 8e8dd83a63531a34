import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { exactOf, fraction, toNumber } from "../../../src/model/exact.ts";
import type { Segment } from "../../../src/model/segment.ts";
import { entryOf, reachesOf, scoreTable } from "../../../src/scoring/intervals/piece-table.ts";
import { scoreValue, sortSegments } from "../../../src/scoring/segment-score.ts";

const limit = (at: number, included: boolean) => ({ at: exactOf(at), included });
const segment = (
  line: number,
  from: number,
  to: number,
  scores: [number, number],
  ends: [boolean, boolean],
): Segment => ({
  lower: limit(from, ends[0]),
  upper: limit(to, ends[1]),
  scoreAtLower: exactOf(scores[0]),
  scoreAtUpper: exactOf(scores[1]),
  basis: "value",
  note: "",
  line,
});

/** The entry of a value in a table of points. */
function placeOf(points: Float64Array, value: number): number {
  const { from, to } = reachesOf(points);
  return entryOf(from, to, value);
}

describe("a table of pieces", () => {
  it("scores as the segments do, on limits, between them, in gaps and beyond", () => {
    const rules = fc.record({
      limits: fc.uniqueArray(fc.integer({ min: 0, max: 60 }), { minLength: 2, maxLength: 6 }),
      scores: fc.array(fc.tuple(fc.integer({ min: 0, max: 10 }), fc.integer({ min: 0, max: 10 })), {
        minLength: 5,
        maxLength: 5,
      }),
      ends: fc.array(fc.tuple(fc.boolean(), fc.boolean()), { minLength: 5, maxLength: 5 }),
      clip: fc.boolean(),
      gapRule: fc.constantFrom(undefined, "below" as const, "above" as const, "middle" as const),
    });
    const values = fc.record({
      num: fc.integer({ min: 0, max: 1600 }),
      den: fc.integer({ min: 1, max: 240 }),
    });
    fc.assert(
      fc.property(rules, fc.array(values, { minLength: 1, maxLength: 20 }), (rule, asked) => {
        const sorted = rule.limits.map((one) => one / 4).sort((a, b) => a - b);
        const segments = sortSegments(
          sorted
            .slice(1)
            .map((to, at) =>
              segment(at + 2, sorted[at] ?? 0, to, rule.scores[at] ?? [0, 0], rule.ends[at] ?? [true, false]),
            ),
        );
        const scoring = { segments, clip: rule.clip, gapRule: rule.gapRule };
        const table = scoreTable(segments, undefined, (value) => scoreValue(value, scoring));
        const onLimits = sorted.map((at) => exactOf(at));
        for (const value of [...asked.map(({ num, den }) => fraction(num, den)), ...onLimits]) {
          const exact = scoreValue(value, scoring);
          const entry = placeOf(table.points, toNumber(value));
          const score = (table.from[entry] ?? 0) + (table.rise[entry] ?? 0) * toNumber(value);
          if (exact.kind === "unscored") expect(score).toBe(Number.NaN);
          else {
            expect(score).toBeCloseTo(toNumber(exact.score), 9);
            expect(table.pieces[entry]).toBe(exact.segment.line);
          }
        }
      }),
    );
  });
});

describe("the pieces of a table", () => {
  const rule = { clip: false, gapRule: undefined };
  const of = (...segments: Segment[]) => {
    const table = scoreTable(segments, undefined, (value) => scoreValue(value, { ...rule, segments }));
    return { points: [...table.points], pieces: [...table.pieces], from: [...table.from] };
  };

  it("begin and end at limits, each of which is there once", () => {
    const { points, pieces } = of(
      segment(2, 0, 5, [1, 3], [true, false]),
      segment(3, 5, 10, [3, 5], [true, true]),
    );
    expect(points).toEqual([0, 5, 10]);
    // Below 0, at 0, up to 5, at 5, up to 10, at 10, above.
    expect(pieces).toEqual([-1, 2, 2, 3, 3, 3, -1]);
  });

  it("have no number and no score where nothing holds", () => {
    const { pieces, from } = of(segment(2, 0, 5, [3, 3], [true, false]));
    expect(pieces).toEqual([-1, 2, 2, -1, -1]);
    expect(from).toEqual([Number.NaN, 3, 3, Number.NaN, Number.NaN]);
    expect(of()).toEqual({ points: [], pieces: [-1], from: [Number.NaN] });
  });

  it("have the lower score on a segment of a single value", () => {
    expect(of(segment(2, 5, 5, [1, 3], [true, true]))).toEqual({
      points: [5],
      pieces: [-1, 2, -1],
      from: [Number.NaN, 1, Number.NaN],
    });
  });

  it("rise from end to end", () => {
    const line = [segment(2, 2, 6, [1, 3], [true, true])];
    const table = scoreTable(line, undefined, (value) => scoreValue(value, { ...rule, segments: line }));
    // (3 - 1) / (6 - 2) a unit; 0 at 0.
    expect([...table.rise]).toEqual([0, 0.5, 0.5, 0.5, 0]);
    expect([...table.from]).toEqual([Number.NaN, 0, 0, 0, Number.NaN]);
  });
});

describe("the place of a value", () => {
  it.each([
    [1000, 1e-6],
    [1, 1e-9],
    [0.001, 1e-9],
    [0, 1e-9],
    [-0.001, 1e-9],
    [-1000, 1e-6],
  ])("is on the point %d within what floating point makes of it, %d", (point, reach) => {
    const points = Float64Array.of(point);
    expect(placeOf(points, point - 1.5 * reach)).toBe(0);
    expect(placeOf(points, point - 0.5 * reach)).toBe(1);
    expect(placeOf(points, point)).toBe(1);
    expect(placeOf(points, point + 0.5 * reach)).toBe(1);
    expect(placeOf(points, point + 1.5 * reach)).toBe(2);
  });

  it("is below, between or above points, and the only stretch where there are none", () => {
    const points = Float64Array.of(-4, 2.5);
    expect([-9, -4, 0, 2.5, 9].map((value) => placeOf(points, value))).toEqual([0, 1, 2, 3, 4]);
    expect(placeOf(new Float64Array(0), 7)).toBe(0);
    expect([-1e-9, 1e-9].map((value) => placeOf(Float64Array.of(0), value))).toEqual([1, 1]);
  });
});
