/** Differences that floating point makes of equal numbers: a value this close to a half is one. */
const SLACK = 1e-9;

/** Rounds half away from zero as `roundExact` does. */
export function roundLean(value: number, decimals: number): number {
  const scale = 10 ** decimals;
  const scaled = Math.abs(value) * scale;
  const rounded = Math.floor(scaled + 0.5 + SLACK * Math.max(1, scaled)) / scale;
  return value < 0 ? -rounded : rounded;
}

/** The point of a table that a value is meant to be, where it is off by what floating point does. */
export function snapped(points: Float64Array, value: number): number {
  for (let i = 0; i < points.length; i++) {
    const point = points[i] ?? 0;
    if (Math.abs(value - point) <= SLACK * Math.max(1, Math.abs(point))) return point;
  }
  return value;
}
