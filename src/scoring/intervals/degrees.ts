import { at } from "../../model/at.ts";

/** Part of a variance and what it was estimated from. */
export interface VariancePart {
  readonly variance: number;
  /** Degrees of freedom of its estimate; infinity for one that is known. */
  readonly degrees: number;
}

/**
 * Degrees of freedom of a sum of variances that were estimated independently of each other: the squared sum by the
 * sum of the squares, each by its degrees (Satterthwaite FE 1946, An approximate distribution of estimates of
 * variance components, Biometrics Bull. 2:110-114; recalled). Infinity where nothing is uncertain.
 */
export function degreesOfSum(parts: readonly VariancePart[]): number {
  let sum = 0;
  let squares = 0;
  for (const { variance, degrees } of parts) {
    sum += variance;
    squares += variance ** 2 / degrees;
  }
  return squares === 0 ? Number.POSITIVE_INFINITY : sum ** 2 / squares;
}

/**
 * The same for variances that err together, since they were estimated from the same rare taxa or from the same
 * grids: their standard errors add up.
 */
export function degreesOfDependentSum(parts: readonly VariancePart[]): number {
  let sum = 0;
  let errors = 0;
  for (const { variance, degrees } of parts) {
    sum += variance;
    errors += variance / Math.sqrt(degrees);
  }
  return errors === 0 ? Number.POSITIVE_INFINITY : (sum / errors) ** 2;
}

/** Numbers of a column that sharing out looks at: enough to tell who makes an index vary. */
const LOOKED_AT = 250;
/** A column that others explain but for so much of its variance adds nothing of its own. */
const SAME = 1e-6;

/**
 * Shares the variance of an index out among its metrics: of the least squares plane of the index in the metrics,
 * the slope of each times its covariance with the index (Pratt JW 1987, Dividing the indivisible: using simple
 * symmetry to partition variance explained, in Proc. 2nd Int. Conf. in Statistics, Tampere, 245-260; recalled). For
 * an index that is a sum of straight lines this is what each of them contributes, and a metric that takes no part
 * in it gets nothing.
 *
 * @param columns resampled values of each metric
 * @param index resampled values of the index, in the same order
 * @returns shares of the part that the plane explains, none below 0, together 1; all 0 where it explains nothing
 */
export function varianceShares(columns: readonly Float64Array[], index: Float64Array): Float64Array {
  const length = Math.min(index.length, LOOKED_AT);
  const y = centred(index, length);
  const shares = new Float64Array(columns.length);
  if (y === undefined) return shares;
  // Columns made independent of those before them (modified Gram and Schmidt), and how they were made of them.
  const used: {
    readonly metric: number;
    readonly own: Float64Array;
    readonly with: number;
    /** Of `own`. */
    readonly square: number;
    readonly made: Map<number, number>;
  }[] = [];
  for (const [metric, column] of columns.entries()) {
    const own = centred(column, length);
    if (own === undefined) continue;
    const before = product(own, own);
    const withIndex = product(own, y);
    const made = new Map([[metric, 1]]);
    for (const other of used) {
      const factor = product(own, other.own) / other.square;
      for (let i = 0; i < length; i++) own[i] = (own[i] as number) - factor * (other.own[i] as number);
      for (const [of, times] of other.made) made.set(of, (made.get(of) ?? 0) - factor * times);
    }
    const square = product(own, own);
    if (square > SAME * before) used.push({ metric, own, with: withIndex, square, made });
  }
  const slopes = new Float64Array(columns.length);
  for (const { own, square, made } of used) {
    const slope = product(own, y) / square;
    for (const [of, times] of made) slopes[of] = at(slopes, of) + slope * times;
  }
  let sum = 0;
  for (const { metric, with: withIndex } of used) {
    const share = Math.max(0, at(slopes, metric) * withIndex);
    shares[metric] = share;
    sum += share;
  }
  return sum === 0 ? shares : shares.map((share) => share / sum);
}

/** The first numbers less their mean; undefined where one is missing or all are equal. */
function centred(values: Float64Array, length: number): Float64Array | undefined {
  const own = values.slice(0, length);
  let sum = 0;
  for (let i = 0; i < length; i++) sum += own[i] as number;
  if (Number.isNaN(sum)) return undefined;
  let differs = false;
  for (let i = 0; i < length; i++) {
    if (own[i] !== values[0]) differs = true;
    own[i] = (own[i] as number) - sum / length;
  }
  return differs ? own : undefined;
}

function product(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
}
