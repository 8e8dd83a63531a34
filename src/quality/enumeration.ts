import type { Exact } from "../model/exact.ts";
import { fraction } from "../model/exact.ts";
import { percentOf } from "./percent.ts";

/**
 * The two definitions of the difference in enumeration that are in use; the second is twice the first, so a
 * figure without its definition says nothing. Both as recalled from Stribling, Moulton and Lester 2003 (J. N.
 * Am. Benthol. Soc. 22:621-631) and common practice.
 */
export const ENUMERATION_DEFINITIONS = {
  sum: "100 x |n1 - n2| / (n1 + n2)",
  mean: "100 x |n1 - n2| / ((n1 + n2) / 2)",
} as const;
export type EnumerationDefinition = keyof typeof ENUMERATION_DEFINITIONS;

/** Percent difference in enumeration (PDE); undefined when both sheets are empty. */
export function enumerationDifference(
  n1: number,
  n2: number,
  definition: EnumerationDefinition,
): Exact | undefined {
  const difference = fraction(Math.abs(n1 - n2));
  return percentOf(difference, definition === "sum" ? fraction(n1 + n2) : fraction(n1 + n2, 2));
}
