import type { Exact } from "./exact.ts";
import { decimalFraction, parseDecimal } from "./exact.ts";
import { numberText } from "./number-text.ts";

/** Significant digits of a printed number. */
export const PRINTED_DIGITS = 12;
const POWERS = Array.from({ length: 15 }, (_, power) => 10 ** power);
const LEAST = 0.001;
const MOST = 10 ** (PRINTED_DIGITS - 1);
const DIGITS_END = 10 ** PRINTED_DIGITS;
/** A product this near to the middle of two whole numbers may have been rounded to the wrong side of it. */
const DOUBTFUL = 0.001;

/**
 * The exact value of a number as every output prints it, to 12 significant digits; worked out without the text where
 * that can be.
 *
 * @throws RangeError for a value that is not finite
 */
export function printedExact(value: number): Exact | undefined {
  const size = Math.abs(value);
  const decimals = printedDecimals(size);
  const digits = decimals < 0 ? -1 : printedDigits(size, decimals);
  if (digits < 0) return parseDecimal(numberText(value));
  return decimalFraction(value < 0 ? -digits : digits, decimals);
}

/** How many decimals 12 significant digits leave to a number above 0; -1 for one of no usual size. */
export function printedDecimals(size: number): number {
  if (!(size >= LEAST && size < MOST)) return -1;
  if (size < 1) return size >= 0.1 ? PRINTED_DIGITS : size >= 0.01 ? PRINTED_DIGITS + 1 : PRINTED_DIGITS + 2;
  let before = 1;
  while (size >= (POWERS[before] as number)) before++;
  return PRINTED_DIGITS - before;
}

/**
 * The 12 significant digits of a number as a whole number; -1 where only the text can tell them.
 *
 * Scaled to 12 digits before the point the number is below 10^12, where the product is off by less than 0.0001, so
 * that it rounds as the text does unless it is nearly in the middle.
 *
 * @param decimals what `printedDecimals` gave
 */
export function printedDigits(size: number, decimals: number): number {
  const scaled = size * (POWERS[decimals] as number);
  const digits = Math.floor(scaled + 0.5);
  const isSure = Math.abs(Math.abs(scaled - digits) - 0.5) > DOUBTFUL;
  return isSure && digits < DIGITS_END ? digits : -1;
}
