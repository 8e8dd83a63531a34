/**
 * Exact fractions. Limits of an index are decided on these, never on floating point: a mean tolerance that
 * equals its limit is at the limit in whatever order the rows came.
 *
 * Parts are plain numbers while they fit in 53 bits (the usual case, and fast) and bigints beyond that.
 */
export interface Exact {
  /** Numerator; carries the sign. */
  readonly num: number | bigint;
  /** Denominator, always above zero. */
  readonly den: number | bigint;
}

/** A fraction whose parts are plain numbers, as nearly all are. */
interface Small extends Exact {
  readonly num: number;
  readonly den: number;
}

const LARGEST = Number.MAX_SAFE_INTEGER;

export const ZERO: Exact = { num: 0, den: 1 };
export const ONE: Exact = { num: 1, den: 1 };

/**
 * A fraction of two whole numbers, as given (not reduced).
 *
 * @throws RangeError when a part is not a whole number within 53 bits, or the denominator is not above zero
 */
export function fraction(num: number, den = 1): Exact {
  if (!Number.isSafeInteger(num) || !Number.isSafeInteger(den) || den <= 0) {
    throw new RangeError(`not a fraction of whole numbers: ${num}/${den}`);
  }
  return { num: num === 0 ? 0 : num, den };
}

/**
 * Reads a decimal number as written ("3.75", "-0.5", "12") without going through floating point.
 *
 * @returns the exact value, or undefined when the text is not a plain decimal number
 */
export function parseDecimal(text: string): Exact | undefined {
  const match = /^([+-]?)(\d{1,30})(?:\.(\d{1,30}))?$/.exec(text);
  if (match === null) return undefined;
  const decimals = match[3] ?? "";
  const digits = `${match[2]}${decimals}`;
  // Up to 15 digits everything stays within 53 bits.
  if (digits.length <= 15) {
    const magnitude = Number(digits);
    return decimalFraction(match[1] === "-" ? -magnitude : magnitude, decimals.length);
  }
  const num = BigInt(digits);
  return reduced(match[1] === "-" ? -num : num, 10n ** BigInt(decimals.length));
}

/**
 * The exact value of a number as its shortest decimal text reads (3.1 is 31/10).
 *
 * @throws RangeError when the number is not finite
 */
export function exactOf(value: number): Exact {
  if (Number.isSafeInteger(value)) return { num: value === 0 ? 0 : value, den: 1 };
  const text = String(value);
  // Very large and very small numbers are written with an exponent.
  const e = text.indexOf("e");
  const mantissa = parseDecimal(e < 0 ? text : text.slice(0, e));
  if (mantissa === undefined) throw new RangeError(`not a finite number: ${value}`);
  if (e < 0) return mantissa;
  const power = Number(text.slice(e + 1));
  const shift = 10n ** BigInt(Math.abs(power));
  return power >= 0
    ? reduced(BigInt(mantissa.num) * shift, BigInt(mantissa.den))
    : reduced(BigInt(mantissa.num), BigInt(mantissa.den) * shift);
}

/** The sum; not reduced while its parts fit in 53 bits, in lowest terms beyond. */
export function add(a: Exact, b: Exact): Exact {
  if (isSmall(a) && isSmall(b)) {
    const { num: an, den: ad } = a;
    const { num: bn, den: bd } = b;
    if (ad === bd && isSafe(an + bn)) return { num: an + bn, den: ad };
    const left = an * bd;
    const right = bn * ad;
    const den = ad * bd;
    if (isSafe(left) && isSafe(right) && isSafe(left + right) && isSafe(den))
      return { num: left + right, den };
  }
  const [an, ad, bn, bd] = [BigInt(a.num), BigInt(a.den), BigInt(b.num), BigInt(b.den)];
  return reduced(an * bd + bn * ad, ad * bd);
}

export function subtract(a: Exact, b: Exact): Exact {
  return add(a, negate(b));
}

export function negate(a: Exact): Exact {
  return { num: a.num === 0 ? 0 : -a.num, den: a.den };
}

/** The distance from zero. */
export function absolute(a: Exact): Exact {
  return isNegative(a) ? negate(a) : a;
}

/** The product; not reduced while its parts fit in 53 bits, in lowest terms beyond. */
export function multiply(a: Exact, b: Exact): Exact {
  if (isSmall(a) && isSmall(b)) {
    const { num: an, den: ad } = a;
    const { num: bn, den: bd } = b;
    const num = an * bn;
    const den = ad * bd;
    if (isSafe(num) && isSafe(den)) return { num: num === 0 ? 0 : num, den };
  }
  return reduced(BigInt(a.num) * BigInt(b.num), BigInt(a.den) * BigInt(b.den));
}

/** @throws RangeError when `b` is zero */
export function divide(a: Exact, b: Exact): Exact {
  if (isZero(b)) throw new RangeError("division by zero");
  return multiply(a, isNegative(b) ? { num: -b.den, den: -b.num } : { num: b.den, den: b.num });
}

/** Compares by cross-multiplication: negative, zero or positive like a sort function. */
export function compareExact(a: Exact, b: Exact): number {
  if (isSmall(a) && isSmall(b)) {
    const { num: an, den: ad } = a;
    const { num: bn, den: bd } = b;
    if (ad === bd) return an - bn;
    const left = an * bd;
    const right = bn * ad;
    if (isSafe(left) && isSafe(right)) return left - right;
  }
  const left = BigInt(a.num) * BigInt(b.den);
  const right = BigInt(b.num) * BigInt(a.den);
  return left < right ? -1 : left > right ? 1 : 0;
}

export function equalExact(a: Exact, b: Exact): boolean {
  return compareExact(a, b) === 0;
}

export function isZero(a: Exact): boolean {
  return a.num === 0 || a.num === 0n;
}

export function isNegative(a: Exact): boolean {
  return a.num < 0;
}

/**
 * Rounds to a number of decimals, half away from zero, deciding the half exactly: 751/200 to two decimals is
 * 3.76, whatever floating point says of 3.755.
 *
 * @param decimals whole number from 0 to 15
 */
export function roundExact(a: Exact, decimals: number): Exact {
  const scale = 10n ** BigInt(decimals);
  const num = BigInt(a.num) * scale;
  const den = BigInt(a.den);
  const magnitude = num < 0n ? -num : num;
  const rounded = (2n * magnitude + den) / (2n * den);
  return reduced(num < 0n ? -rounded : rounded, scale);
}

/** The nearest floating-point number. */
export function toNumber(a: Exact): number {
  if (isSmall(a)) return a.num / a.den;
  return bigRatioToNumber(BigInt(a.num), BigInt(a.den));
}

/** The lowest terms of a fraction, with parts as plain numbers wherever they fit. */
export function simplify(a: Exact): Exact {
  return reduced(BigInt(a.num), BigInt(a.den));
}

/**
 * The fraction of a whole number and a power of ten in lowest terms, for parts within 53 bits; only twos and fives
 * can be taken out.
 */
export function decimalFraction(num: number, decimals: number): Exact {
  let top = num === 0 ? 0 : num;
  let den = 10 ** decimals;
  // Below 2^53 a half and a fifth are whole numbers only where nothing is left over; a remainder takes far longer.
  for (let twos = decimals; twos > 0 && Math.floor(top / 2) === top / 2; twos--) {
    top /= 2;
    den /= 2;
  }
  for (let fives = decimals; fives > 0 && Math.floor(top / 5) === top / 5; fives--) {
    top /= 5;
    den /= 5;
  }
  return { num: top, den };
}

function reduced(num: bigint, den: bigint): Exact {
  let a = num < 0n ? -num : num;
  let b = den;
  while (b !== 0n) [a, b] = [b, a % b];
  if (a > 1n) {
    num /= a;
    den /= a;
  }
  const fits = num <= BigInt(LARGEST) && num >= -BigInt(LARGEST) && den <= BigInt(LARGEST);
  return fits ? { num: Number(num), den: Number(den) } : { num, den };
}

function bigRatioToNumber(num: bigint, den: bigint): number {
  // Scaling keeps 64 significant bits of the quotient, so that neither part overflows on conversion.
  const negative = num < 0n;
  const magnitude = negative ? -num : num;
  const shift = BigInt(Math.max(0, den.toString(2).length - magnitude.toString(2).length + 64));
  // In two steps, since the power of a very small number is beyond what a floating-point number can hold.
  const half = shift / 2n;
  const value = Number((magnitude << shift) / den) / 2 ** Number(half) / 2 ** Number(shift - half);
  return negative ? -value : value;
}

function isSmall(value: Exact): value is Small {
  return typeof value.num === "number" && typeof value.den === "number";
}

function isSafe(value: number): boolean {
  return value <= LARGEST && value >= -LARGEST;
}
