import type { Exact } from "../model/exact.ts";
import {
  compareExact,
  divide,
  fraction,
  multiply,
  simplify,
  subtract,
  toNumber,
  ZERO,
} from "../model/exact.ts";
import { sumExact } from "./percent.ts";

/** How far samples of one place and visit lie apart, pooled over places. */
export interface WithinSitePrecision {
  /** Groups with at least two values. */
  readonly groups: number;
  /** Values in them. */
  readonly samples: number;
  /** Sum over the groups of (values - 1). */
  readonly degreesOfFreedom: number;
  /** Mean of all these values. */
  readonly mean: Exact;
  /** Error mean square of a one-way analysis of variance with sites as treatments. */
  readonly meanSquare: Exact;
  /** Its square root: the within-site standard deviation. */
  readonly standardDeviation: number;
  /** 100 x standard deviation / mean; undefined when the mean is not above zero. */
  readonly coefficientOfVariation: number | undefined;
}

/**
 * Within-site standard deviation: the root mean square error of a one-way analysis of variance with sites as
 * treatments (Barbour et al. 1999, EPA 841-B-99-002, chapter 9). Worked out exactly up to the square root, so
 * that the order of groups and values changes nothing.
 *
 * @param groups values of each group; groups with fewer than two values are left out
 * @returns undefined when no group has two values
 */
export function withinSitePrecision(groups: readonly (readonly Exact[])[]): WithinSitePrecision | undefined {
  const used = groups.filter((values) => values.length >= 2);
  if (used.length === 0) return undefined;
  const samples = used.reduce((sum, values) => sum + values.length, 0);
  const degreesOfFreedom = samples - used.length;
  const meanSquare = divided(sumExact(used.map(squaredDeviations)), degreesOfFreedom);
  const mean = divided(sumExact(used.flat()), samples);
  const standardDeviation = Math.sqrt(toNumber(meanSquare));
  return {
    groups: used.length,
    samples,
    degreesOfFreedom,
    mean,
    meanSquare,
    standardDeviation,
    coefficientOfVariation:
      compareExact(mean, ZERO) > 0 ? (100 * standardDeviation) / toNumber(mean) : undefined,
  };
}

/** Figures of one group alone. */
export interface GroupSpread {
  readonly mean: Exact;
  /** With n - 1 below. */
  readonly standardDeviation: number;
  readonly coefficientOfVariation: number | undefined;
}

/** Mean and standard deviation of one group; undefined of fewer than two values. */
export function groupSpread(values: readonly Exact[]): GroupSpread | undefined {
  const precision = withinSitePrecision([values]);
  if (precision === undefined) return undefined;
  const { mean, standardDeviation, coefficientOfVariation } = precision;
  return { mean, standardDeviation, coefficientOfVariation };
}

/** Sum of squares around the mean: sum of squares - (sum squared) / n, which is exact here and so loses nothing. */
function squaredDeviations(values: readonly Exact[]): Exact {
  const sum = sumExact(values);
  const squares = sumExact(values.map((value) => multiply(value, value)));
  return simplify(subtract(squares, divided(multiply(sum, sum), values.length)));
}

function divided(value: Exact, by: number): Exact {
  return simplify(divide(value, fraction(by)));
}
