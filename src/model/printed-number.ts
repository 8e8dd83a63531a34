import type { Exact } from "./exact.ts";
import { decimalFraction, parseDecimal } from "./exact.ts";
import { numberText } from "./number-text.ts";

/** Significant digits of a printed number. */
const DIGITS = 12;
const POWERS = Array.from({ length: 15 }, (_, power) => 10 ** power);
const LEAST = 0.001;
const MOST = 10 ** (DIGITS - 1);
/** A product this near to the middle of two whole numbers may have been rounded to the wrong side of it. */
const DOUBTFUL = 0.001;

/**
 * The exact value of a number as every output prints it, to 12 significant digits.
 *
 * Worked out without the text where the size of the number is usual: scaled by a power of ten to 12 digits before
 * the point it is below 10^12, where the product is off by less than 0.0001, so that it rounds as the text does
 * unless it is nearly in the middle.
 *
 * @throws RangeError for a value that is not finite
 */
export function printedExact(value: number): Exact | undefined {
  const size = Math.abs(value);
  if (size >= LEAST && size < MOST) {
    const decimals = decimalsOf(size);
    const scaled = size * (POWERS[decimals] as number);
    const whole = Math.floor(scaled + 0.5);
    if (Math.abs(Math.abs(scaled - whole) - 0.5) > DOUBTFUL)
      return decimalFraction(value < 0 ? -whole : whole, decimals);
  }
  return parseDecimal(numberText(value));
}

/** How many decimals 12 significant digits leave. */
function decimalsOf(size: number): number {
  if (size < 1) return size >= 0.1 ? DIGITS : size >= 0.01 ? DIGITS + 1 : DIGITS + 2;
  let before = 1;
  while (size >= (POWERS[before] as number)) before++;
  return DIGITS - before;
}
