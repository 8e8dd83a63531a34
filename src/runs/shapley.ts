import { at } from "../model/at.ts";
import type { Exact } from "../model/exact.ts";
import { add, fraction, multiply, simplify, subtract, ZERO } from "../model/exact.ts";

/**
 * Shares a change out among the differences that made it, none favoured by the order in which they are applied:
 * the part of a difference is the mean, over all orders, of what applying it changes (Shapley, L. S. 1953. A value
 * for n-person games. Contributions to the Theory of Games II, 307-317; the formula is recalled). In exact
 * arithmetic, so that the parts add up to the change exactly.
 *
 * @param differences how many there are
 * @param valueWith the value with a set of differences applied, as the bits of a whole number: 0 is before, all bits
 *   after
 * @returns the part of each difference, by the number of its bit
 */
export function shapleyParts(differences: number, valueWith: (applied: number) => Exact): Exact[] {
  const weights = orderWeights(differences);
  const all = 2 ** differences;
  const values = Array.from({ length: all }, (_, applied) => valueWith(applied));
  return Array.from({ length: differences }, (_, bit) => {
    let part = ZERO;
    for (let without = 0; without < all; without++) {
      if ((without & (1 << bit)) !== 0) continue;
      const gain = subtract(at(values, without | (1 << bit)), at(values, without));
      part = add(part, multiply(at(weights, bitsOf(without)), gain));
    }
    return simplify(part);
  });
}

/** Share of the orders of n things in which exactly `before` given ones stand before one of them, by `before`. */
function orderWeights(n: number): Exact[] {
  return Array.from({ length: n }, (_, before) =>
    fraction(factorial(before) * factorial(n - before - 1), factorial(n)),
  );
}

function factorial(n: number): number {
  return n <= 1 ? 1 : n * factorial(n - 1);
}

function bitsOf(number: number): number {
  return number === 0 ? 0 : (number & 1) + bitsOf(number >>> 1);
}
