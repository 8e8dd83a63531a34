import { PRINTED_DIGITS, printedDecimals, printedDigits } from "../../model/printed-number.ts";

/** Most bytes that `writeDecimal` writes: a sign, "0.", two zeros and the digits. */
export const LONGEST_DECIMAL = PRINTED_DIGITS + 5;

const HALF = PRINTED_DIGITS / 2;
const HALF_END = 10 ** HALF;
const MINUS = 45;
const POINT = 46;
const ZERO = 48;

/** The digits at hand, from the first. */
const DIGITS = new Uint8Array(PRINTED_DIGITS);

/**
 * Writes a number as `numberText` does, from its digits, where its size is usual.
 *
 * @returns the place behind it; -1, with nothing written, for a number whose text must be made
 */
export function writeDecimal(page: Uint8Array, at: number, number: number): number {
  const size = Math.abs(number);
  const decimals = printedDecimals(size);
  if (decimals < 0) return -1;
  const digits = printedDigits(size, decimals);
  if (digits < 0) return -1;
  const upper = Math.floor(digits / HALF_END);
  spread(upper, 0);
  spread(digits - upper * HALF_END, HALF);
  let end = PRINTED_DIGITS;
  while (DIGITS[end - 1] === 0) end--;
  let to = at;
  if (number < 0) page[to++] = MINUS;
  const before = PRINTED_DIGITS - decimals;
  for (let digit = 0; digit < before; digit++) page[to++] = ZERO + (DIGITS[digit] as number);
  if (before <= 0) page[to++] = ZERO;
  if (end <= before) return to;
  page[to++] = POINT;
  for (let zero = before; zero < 0; zero++) page[to++] = ZERO;
  for (let digit = Math.max(before, 0); digit < end; digit++) page[to++] = ZERO + (DIGITS[digit] as number);
  return to;
}

/** Puts the digits of one half to their places. */
function spread(half: number, from: number): void {
  let rest = half;
  for (let place = from + HALF - 1; place >= from; place--) {
    const tenth = (rest / 10) | 0;
    DIGITS[place] = rest - tenth * 10;
    rest = tenth;
  }
}
