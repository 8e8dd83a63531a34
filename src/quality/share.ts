import type { Exact } from "../model/exact.ts";
import { compareExact, divide, isZero, multiply, ONE, parseDecimal, simplify, ZERO } from "../model/exact.ts";

const SHARE = /^(\d{1,15}(?:\.\d{1,15})?)\s*(%|\/\s*(\d{1,15}))?$/;

/**
 * Reads a share as people write it, exactly: "10%", "0.1" and "1/10" are the same.
 *
 * @returns a share above 0 and up to 1, or undefined when the text is none
 */
export function parseShare(text: string): Exact | undefined {
  const match = SHARE.exec(text.trim());
  const top = match?.[1] === undefined ? undefined : parseDecimal(match[1]);
  if (match === null || top === undefined) return undefined;
  const bottom =
    match[3] === undefined ? parseDecimal(match[2] === "%" ? "100" : "1") : parseDecimal(match[3]);
  if (bottom === undefined || isZero(bottom)) return undefined;
  const share = simplify(divide(top, bottom));
  return compareExact(share, ZERO) > 0 && compareExact(share, ONE) <= 0 ? share : undefined;
}

/** How many of a number of samples a share asks for, rounded up: 10 percent of 47 is 5, of 50 it is 5, of 3 it is 1. */
export function shareOf(share: Exact, samples: number): number {
  const asked = simplify(multiply(share, { num: samples, den: 1 }));
  const num = BigInt(asked.num);
  const den = BigInt(asked.den);
  return Number((num + den - 1n) / den);
}
