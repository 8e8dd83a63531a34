import type { Exact } from "../model/exact.ts";
import { add, divide, fraction, isZero, multiply, simplify, ZERO } from "../model/exact.ts";

const HUNDRED = fraction(100);

/** 100 x part / whole, or undefined when the whole is zero. */
export function percentOf(part: Exact, whole: Exact): Exact | undefined {
  return isZero(whole) ? undefined : simplify(divide(multiply(HUNDRED, part), whole));
}

/** 100 x part / whole of numbers of animals, the whole being above zero. */
export function percentOfSome(part: number, whole: number): Exact {
  return simplify(divide(multiply(HUNDRED, fraction(part)), fraction(whole)));
}

/** 100 minus a percentage. */
export function restOfHundred(percent: Exact): Exact {
  return simplify(add(HUNDRED, multiply(fraction(-1), percent)));
}

/** The sum in lowest terms, the same for every order. */
export function sumExact(values: Iterable<Exact>): Exact {
  let sum = ZERO;
  for (const value of values) sum = simplify(add(sum, value));
  return sum;
}

/** The arithmetic mean, or undefined of nothing. */
export function meanExact(values: readonly Exact[]): Exact | undefined {
  return values.length === 0 ? undefined : simplify(divide(sumExact(values), fraction(values.length)));
}
