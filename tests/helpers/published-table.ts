/**
 * Published scoring tables, written out in a test from the publication and not from the set's files, and the
 * values that test them: each limit, and what lies just below and just above it.
 */

/** An interval in mathematical writing, "[14,28]", with the score (or the class) it stands for. */
export type PublishedRow = readonly [interval: string, score: number | string];

/** A value with what the publication gives it; undefined where it gives nothing. */
export interface Probe {
  readonly value: string;
  readonly expected: number | string | undefined;
}

interface Interval {
  readonly low: number;
  readonly lowIn: boolean;
  readonly high: number;
  readonly highIn: boolean;
}

/**
 * Every limit of a table, just below, at and just above it.
 *
 * @param step how near "just" is; 1 for whole numbers
 */
export function probesOf(rows: readonly PublishedRow[], step = 0.000001): Probe[] {
  const intervals = rows.map(([text, score]) => ({ ...parse(text), score }));
  const limits = new Set(intervals.flatMap(({ low, high }) => [low, high]).filter(Number.isFinite));
  const values = [...limits].sort((a, b) => a - b).flatMap((limit) => [limit - step, limit, limit + step]);
  const digits = Math.max(0, Math.round(-Math.log10(step)));
  return [...new Set(values.filter((value) => value >= 0).map((value) => value.toFixed(digits)))].map(
    (value) => ({
      value,
      expected: intervals.find((one) => holds(one, Number(value)))?.score,
    }),
  );
}

function holds({ low, lowIn, high, highIn }: Interval, value: number): boolean {
  return (lowIn ? value >= low : value > low) && (highIn ? value <= high : value < high);
}

function parse(text: string): Interval {
  const match = /^([[(])([^,]*),([^\])]*)([\])])$/.exec(text.replaceAll(" ", ""));
  if (match === null) throw new RangeError(`not an interval: ${text}`);
  const [, open, low = "", high = "", close] = match;
  return {
    low: low === "" ? Number.NEGATIVE_INFINITY : Number(low),
    lowIn: open === "[",
    high: high === "" ? Number.POSITIVE_INFINITY : Number(high),
    highIn: close === "]",
  };
}
