import type { Exact } from "../../model/exact.ts";
import { add, compareExact, exactOf, fraction, multiply, subtract, toNumber } from "../../model/exact.ts";
import type { Segment } from "../../model/segment.ts";
import { limitAt } from "../limits.ts";
import type { ScoreOutcome } from "../segment-score.ts";

/** One number line cut into points and the open stretches between them; plain numbers throughout. */
export interface PieceTable {
  /** The points in ascending order. */
  readonly points: Float64Array;
  /**
   * What holds at each point and on each stretch: entry 2 i + 1 is point i, entry 2 i the stretch below it. On a
   * piece the result is `from + rise x value`.
   */
  readonly from: Float64Array;
  readonly rise: Float64Array;
  /** Number of the piece; -1 where nothing holds. */
  readonly pieces: Int32Array;
}

/** Differences that floating point makes of equal numbers: a value this close to a point is meant to be it. */
export const SLACK = 1e-9;

/** From where to where each point of a table reaches. */
export interface Reaches {
  readonly from: Float64Array;
  readonly to: Float64Array;
}

export function reachesOf(points: Float64Array): Reaches {
  const reach = (point: number) => SLACK * Math.max(1, Math.abs(point));
  return {
    from: points.map((point) => point - reach(point)),
    to: points.map((point) => point + reach(point)),
  };
}

/** The entry of a table that a value falls into, by where its points reach. */
export function entryOf(from: Float64Array, to: Float64Array, value: number): number {
  const size = from.length;
  for (let at = 0; at < size; at++) {
    if (value < (from[at] as number)) return 2 * at;
    if (value <= (to[at] as number)) return 2 * at + 1;
  }
  return 2 * size;
}

/** Cuts a scoring rule into pieces by asking it at every limit and between neighbours. */
export function scoreTable(
  segments: readonly Segment[],
  covariate: Exact | undefined,
  score: (value: Exact) => ScoreOutcome,
): PieceTable {
  const limits = segments.flatMap(({ lower, upper }) =>
    [lower, upper].flatMap((limit) => (limit === undefined ? [] : [limitAt(limit, covariate)])),
  );
  return cutTable(limits, (value) => {
    const outcome = score(value);
    if (outcome.kind === "unscored") return { from: Number.NaN, rise: 0, piece: -1 };
    const { segment, how } = outcome;
    const flat = { from: toNumber(outcome.score), rise: 0, piece: segment.line };
    if (how !== "inside" || segment.lower === undefined || segment.upper === undefined) return flat;
    const rise = toNumber(subtract(segment.scoreAtUpper, segment.scoreAtLower));
    const start = limitAt(segment.lower, covariate);
    const run = toNumber(subtract(limitAt(segment.upper, covariate), start));
    if (run === 0) return flat;
    const slope = rise / run;
    return {
      from: toNumber(segment.scoreAtLower) - slope * toNumber(start),
      rise: slope,
      piece: segment.line,
    };
  });
}

/** Cuts a scale at its limits; `at` is asked on each limit and at a place between neighbours. */
export function cutTable(
  limits: readonly Exact[],
  at: (value: Exact) => { readonly from: number; readonly rise: number; readonly piece: number },
): PieceTable {
  const points = [...limits].sort(compareExact).filter((one, i, all) => {
    const before = all[i - 1];
    return before === undefined || compareExact(one, before) !== 0;
  });
  const asked: Exact[] = [];
  for (const [i, point] of points.entries()) {
    const before = points[i - 1];
    asked.push(
      before === undefined ? subtract(point, exactOf(1)) : multiply(add(before, point), fraction(1, 2)),
      point,
    );
  }
  const last = points.at(-1);
  asked.push(last === undefined ? exactOf(0) : add(last, exactOf(1)));
  const answers = asked.map(at);
  return {
    points: Float64Array.from(points, toNumber),
    from: Float64Array.from(answers, (one) => one.from),
    rise: Float64Array.from(answers, (one) => one.rise),
    pieces: Int32Array.from(answers, (one) => one.piece),
  };
}
